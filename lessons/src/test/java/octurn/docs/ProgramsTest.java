package octurn.docs;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Design;
import octurn.design.Input;
import octurn.json.DesignReader;
import octurn.machine.State;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.trace.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The programs in {@code lessons/programs} do what their heads say. */
class ProgramsTest {

    private static final int PAGE_COLUMNS = 80;

    static Stream<String> programs() throws IOException {
        return files(".turn");
    }

    static Stream<String> designs() throws IOException {
        return files(".design.json");
    }

    private static Stream<String> files(String ending) throws IOException {
        try (Stream<Path> files = Files.list(Example.PROGRAMS)) {
            return files
                    .map(file -> file.getFileName().toString())
                    .filter(name -> name.endsWith(ending))
                    .sorted()
                    .toList()
                    .stream();
        }
    }

    @ParameterizedTest
    @MethodSource("programs")
    void program_ofTheFolder_finishesWithoutFaultOrClash(String name) throws IOException {
        Map<String, String> fields = Example.ofFile(name, Design.DEFAULT).fields();

        assertThat(fields).containsEntry("ended", "all-idle").containsEntry("pins.clashCycles", "0");
        assertThat(fields).doesNotContainKey("cores.0.fault.kind");
    }

    @ParameterizedTest
    @MethodSource("programs")
    void program_ofTheFolder_saysWhatToWatchAndFitsThePage(String name) throws IOException {
        List<String> lines = Files.readAllLines(Example.PROGRAMS.resolve(name));

        assertThat(lines).anyMatch(line -> line.startsWith("; Watch"));
        assertThat(lines).allMatch(line -> line.length() <= PAGE_COLUMNS).noneMatch(line -> line.contains("\t"));
    }

    @ParameterizedTest
    @MethodSource("designs")
    void design_ofTheFolder_isRight(String name) throws IOException {
        byte[] utf8 = Files.readAllBytes(Example.PROGRAMS.resolve(name));

        assertThat(Example.accepted(DesignReader.read(name, utf8)).name()).isNotEqualTo(Design.DEFAULT_NAME);
    }

    @Test
    void oneCore_takes100CyclesAndPostsTheCorrectedMean() throws IOException {
        assertThat(fields("one-core.turn"))
                .containsEntry("cycles", "100")
                .containsEntry("cores.0.states.work", "55")
                .containsEntry("cores.0.states.wait", "39")
                .containsEntry("cores.0.states.slot", "6")
                .containsEntry("shared.mean", "400");
    }

    @Test
    void eightCores_waitAlikeAfterTheirFirstAccess() throws IOException {
        RunReport report = report("eight-cores.turn");

        assertThat(report.cores()).allSatisfy(core -> {
            assertThat(core.waits().histogram()).containsEntry(15L, 10L).containsEntry(18L, 9L);
            assertThat(core.accesses()).isEqualTo(20);
        });
        assertThat(report.busyCycles()).isGreaterThan(report.cycles() * 95 / 100);
        List<Integer> percent = IntStream.range(8, 16)
                .mapToObj(address -> report.shared().get(address))
                .toList();
        assertThat(percent)
                .isEqualTo(Stream.of(512, 640, 301, 777, 1023, 90, 410, 666)
                        .map(reading -> reading * 100 / 1024)
                        .toList());
    }

    /** Eight cores in step, 100 drips each: of every eight drips that fall together one is counted. */
    @Test
    void countLost_losesSevenOfEightDrips() throws IOException {
        assertThat(fields("count-lost.turn")).containsEntry("shared.drips", "100");
    }

    @Test
    void countBump_countsEveryDripInHalfTheTime() throws IOException {
        Map<String, String> fields = fields("count-bump.turn");

        assertThat(fields).containsEntry("shared.drips", "800").containsEntry("cores.3.waits.histogram.17", "99");
        assertThat(2 * Long.parseLong(fields.get("cycles")))
                .isBetween(4700L, Long.parseLong(fields("count-lost.turn").get("cycles")) + 10);
    }

    /** The lock keeps the book right under every policy; priority is left out, under which the holder may starve. */
    @ParameterizedTest
    @MethodSource("fairPolicies")
    void spinLock_underAFairPolicy_keepsTheBookRight(Admission admission) throws IOException {
        assertThat(Example.ofFile("spin-lock.turn", with(admission)).fields())
                .containsEntry("ended", "all-idle")
                .containsEntry("shared.fillings", "80")
                .containsEntry("shared.pumped", "400")
                .containsEntry("shared.lock", "0");
    }

    @Test
    void spinLock_spendsMostAccessesOnTheSwap() throws IOException {
        RunReport report = report("spin-lock.turn");

        long all = report.cores().stream().mapToLong(CoreReport::accesses).sum();
        long swaps = report.hotSpots().stream()
                .filter(spot -> spot.address() == 2)
                .mapToLong(RunReport.HotSpot::count)
                .sum();
        assertThat(swaps).isGreaterThan(all * 3 / 4);
    }

    @ParameterizedTest
    @MethodSource("fairPolicies")
    void ringBuffer_underAFairPolicy_handsEveryReadingOver(Admission admission) throws IOException {
        int sum = IntStream.range(0, 40).map(i -> 300 + 3 * i).sum();

        assertThat(Example.ofFile("ring-buffer.turn", with(admission)).fields())
                .containsEntry("shared.sum", Integer.toString(sum))
                .containsEntry("shared.taken", "40");
    }

    @Test
    void parallelSum_isThatOfTheTableAndTakes271Cycles() throws IOException {
        RunReport report = report("parallel-sum.turn");

        int sum = IntStream.range(0, 64)
                .map(address -> report.shared().getOrDefault(address, 0))
                .sum();
        assertThat(report.shared()).containsEntry(64, sum).containsEntry(65, 8).containsEntry(66, 1);
        assertThat(report.cycles()).isEqualTo(271);
        assertThat(report.cores().stream().map(CoreReport::accesses))
                .containsOnly(10L, 11L)
                .containsOnlyOnce(11L);
    }

    /** The lamp changes eight times, 50 ms apart to the cycle. */
    @Test
    void blink_changesTheLampAtEvenIntervals() throws IOException {
        List<Edge> edges = edges("blink.turn", Design.DEFAULT, 5);

        assertThat(edges).hasSize(8);
        for (int i = 0; i < edges.size(); i++) {
            assertThat(edges.get(i).level()).isEqualTo(i % 2 == 0 ? 1 : 0);
            assertThat(edges.get(i).cycle() - edges.get(0).cycle()).isEqualTo(i * 2_400_000L);
        }
        assertThat(Design.DEFAULT.clock().micros(2_400_000)).isEqualTo(50_000);
    }

    /** A receiver of our own, at the line's own speed, looks at the middle of each bit. Common practice: 8N1. */
    @ParameterizedTest
    @ValueSource(ints = {4_000_000, 6_000_000, 7_372_800, 10_000_000})
    void serialLog_atAnyClock_sendsItsLineAt9600Baud(int hertz) throws IOException {
        Design design = new Design(
                "other clock",
                8,
                1024,
                16384,
                3,
                Design.DEFAULT.admission(),
                Design.DEFAULT.cost(),
                16,
                new Clock(Clock.Source.CRYSTAL, hertz, 8, 50));
        double bit = design.clock().chipHertz() / 9600.0;

        assertThat(receive(edges("serial-log.turn", design, 7), bit, 10)).isEqualTo("vent open\n");
    }

    @Test
    void serialLog_onTheStandardChip_holdsEachBit5000Cycles() throws IOException {
        List<Edge> edges = edges("serial-log.turn", Design.DEFAULT, 7);

        long start = edges.get(1).cycle();
        assertThat(edges.get(0).level()).as("the line rests high").isEqualTo(1);
        assertThat(edges.stream().skip(1)).allMatch(edge -> (edge.cycle() - start) % 5000 == 0);
    }

    /** 0.3 s for each step that the soil is below 600, rounded to the nearest. */
    @Test
    void worker_givesEachBedItsSeconds() throws IOException {
        RunReport report = report("worker.turn");

        Map<String, String> fields = fields("worker.turn");
        int first = Integer.parseInt(fields.get("shared.soil.address"));
        int[] soil = {512, 640, 301, 588};
        for (int bed = 0; bed < soil.length; bed++) {
            int seconds = (int) Math.round(Math.max(0, 600 - soil[bed]) * 0.3);
            assertThat(report.shared().getOrDefault(first + soil.length + bed, 0))
                    .isEqualTo(seconds);
        }
        assertThat(report.cores().subList(1, 5)).allSatisfy(core -> {
            assertThat(core.states()).containsEntry(State.LOAD_SLOT, 13 * 3L);
            assertThat(core.states().get(State.LOAD_WAIT)).isBetween(12 * 21L, 13 * 21L);
        });
    }

    @Test
    void twoMemories_takesARotationForEachSharedInstruction() throws IOException {
        Map<String, String> fields = fields("two-memories.turn");

        // Private: 12 rounds of 1 + 4 + 1 + 2, the last jump a cycle shorter, and three instructions around.
        assertThat(fields).containsEntry("shared.took0", Integer.toString(12 * 8 - 1 + 3));
        // Shared: 12 rounds of 4 instructions and one more, a rotation each; the rest is the way there and back.
        assertThat(Integer.parseInt(fields.get("shared.took1"))).isBetween(49 * 24, 50 * 24);
    }

    @Test
    void flowMeter_missesNoPulseAndStopsALittleLate() throws IOException {
        Example example = Example.ofFile("flow-meter.turn", Design.DEFAULT);
        Input meter = example.scenario().inputs().get(0);
        Run run = example.run();
        run.finish();

        int tenths = Integer.parseInt(example.fields().get("shared.tenths"));
        long edges = 0;
        long cycle = 0;
        while (edges < tenths) {
            cycle = meter.nextChange(cycle);
            edges += meter.at(cycle);
        }
        assertThat(tenths).isBetween(250, 251);
        assertThat(run.chip().cycle() - cycle)
                .as("cycles from the last pulse to the end")
                .isBetween(0L, 700L);
    }

    @Test
    void panel_hearsTheLine() throws IOException {
        Map<String, String> fields = fields("panel.turn");
        int length = Integer.parseInt(fields.get("shared.length"));
        int first = Integer.parseInt(fields.get("shared.heard.address"));

        String heard = IntStream.range(0, length)
                .mapToObj(i -> Character.toString(Integer.parseInt(fields.get("shared." + (first + i)))))
                .reduce("", String::concat);
        assertThat(heard).isEqualTo("set bed 3 to 55 %");
    }

    static Stream<Admission> fairPolicies() {
        return Stream.of(
                Design.DEFAULT.admission(),
                new Admission.NextWaiting(),
                new Admission.FirstCome(),
                new Admission.Lottery(Design.plainWeights(8), Admission.Lottery.DEFAULT_SEED),
                new Admission.OwnPort());
    }

    private static Design with(Admission admission) {
        Design standard = Design.DEFAULT;
        return new Design(
                "another policy",
                standard.cores(),
                standard.privateWords(),
                standard.sharedWords(),
                standard.slotCycles(),
                admission,
                standard.cost(),
                standard.pins(),
                standard.clock());
    }

    private static Map<String, String> fields(String name) throws IOException {
        return Example.ofFile(name, Design.DEFAULT).fields();
    }

    private static RunReport report(String name) throws IOException {
        Run run = Example.ofFile(name, Design.DEFAULT).run();
        run.finish();
        return RunReports.of(run);
    }

    /** A change of a pin: the first cycle of the new level. */
    private record Edge(long cycle, int level) {}

    private static List<Edge> edges(String name, Design design, int pin) throws IOException {
        List<Edge> edges = new ArrayList<>();
        Example.ofFile(name, design)
                .run((kind, cycle, core, a, b) -> {
                    int level = (int) (a >> pin & 1);
                    if (kind == Kind.PINS && level != (edges.size() % 2)) {
                        edges.add(new Edge(cycle, level));
                    }
                })
                .finish();
        return edges;
    }

    private static String receive(List<Edge> edges, double bit, int bytes) {
        StringBuilder text = new StringBuilder();
        long start = edges.get(1).cycle();
        for (int i = 0; i < bytes; i++) {
            int value = 0;
            for (int place = 0; place < 8; place++) {
                value |= levelAt(edges, start + Math.round((place + 1.5) * bit)).orElseThrow() << place;
            }
            assertThat(levelAt(edges, start + Math.round(9.5 * bit)))
                    .as("stop bit")
                    .hasValue(1);
            text.appendCodePoint(value);
            long stop = start + Math.round(9.5 * bit);
            start = edges.stream()
                    .mapToLong(Edge::cycle)
                    .filter(cycle -> cycle > stop)
                    .findFirst()
                    .orElse(stop);
        }
        return text.toString();
    }

    private static OptionalInt levelAt(List<Edge> edges, long cycle) {
        return edges.stream()
                .filter(edge -> edge.cycle() <= cycle)
                .mapToInt(Edge::level)
                .reduce((before, after) -> after);
    }
}
