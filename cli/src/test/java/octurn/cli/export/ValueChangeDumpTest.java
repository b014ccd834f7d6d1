package octurn.cli.export;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalLong;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.export.ValueChangeDump.Contents;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.json.DesignReader;
import octurn.json.Reading;
import octurn.json.ScenarioReader;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.State;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What a strict reader finds in a dump, held against the chip at each cycle. */
class ValueChangeDumpTest {

    private static final Path CASES = Path.of("..", "core", "src", "test", "resources", "octurn", "cases");

    /** Every cycle of a run is looked at, so long ones are cut. */
    private static final long MOST_CYCLES = 2000;

    /** A program with all it runs under. */
    private record Job(Program program, Scenario scenario, long limit) {}

    private static Job goldenCase(String name) throws IOException {
        Design design = accepted(DesignReader.read("d", bytes(name + ".design.json")));
        Scenario scenario = accepted(ScenarioReader.read("s", bytes(name + ".scenario.json"), design));
        return new Job(
                assembled(bytes(name + ".turn"), design),
                scenario,
                Math.min(MOST_CYCLES, scenario.limit().orElseThrow()));
    }

    private static byte[] bytes(String file) throws IOException {
        return Files.readAllBytes(CASES.resolve(file));
    }

    private static <T> T accepted(Reading<T> reading) {
        return ((Reading.Accepted<T>) reading).value();
    }

    private static Program assembled(byte[] text, Design design) {
        return ((Assembly.Assembled) Assembler.assemble("test.turn", text, design)).program();
    }

    private static String dump(Job job, Contents contents, long from) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ValueChangeDump dump = ValueChangeDump.begin(job.program(), job.scenario(), contents, from, out);
        Run run = Run.of(job.program(), job.scenario(), job.limit(), dump);
        run.finish();
        try {
            dump.end(run.chip().cycle());
        } catch (IOException e) {
            throw new AssertionError(e);
        }
        return out.toString(StandardCharsets.US_ASCII);
    }

    static Stream<String> cases() {
        return IntStream.rangeClosed(1, 58).mapToObj("%02d"::formatted);
    }

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 25);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void dump_ofAGoldenCase_saysAtEachCycleWhatTheChipIs(String name) throws IOException {
        assertSaysWhatTheChipIs(goldenCase(name));
    }

    /** Programs that do little but fight for pins, under scenarios that do so as well. */
    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void dump_ofRandomPinPrograms_saysAtEachCycleWhatTheChipIs(long seed) {
        Random random = new Random(seed);
        int cores = 1 + random.nextInt(4);
        int pins = 1 + random.nextInt(6);
        StringBuilder text = new StringBuilder();
        for (int core = 0; core < cores; core++) {
            text.append("core %d\n set r9, %d\nmore:\n".formatted(core, 1 + random.nextInt(9)));
            for (int i = 2 + random.nextInt(10); i > 0; i--) {
                text.append(" set r1, %d\n".formatted(random.nextInt(1 << pins)));
                text.append(
                        switch (random.nextInt(7)) {
                            case 0, 1 -> " write drive, r1\n";
                            case 2, 3 -> " write out, r1\n";
                            case 4 ->
                                " set r1, %d\n write span0, r1\n set r1, %d\n write level0, r1\n set r1, %d\n write mode0, r1\n"
                                        .formatted(
                                                1 + random.nextInt(9),
                                                random.nextInt(9),
                                                6 + (random.nextInt(pins) << 8));
                            case 5 -> " pause %d\n".formatted(random.nextInt(30));
                            default -> " bump r1, [0]\n";
                        });
            }
            text.append(" again r9, more\n halt\n");
        }
        Design standard = Design.DEFAULT;
        Design design = new Design(
                "random",
                cores,
                standard.privateWords(),
                standard.sharedWords(),
                1 + random.nextInt(4),
                random.nextBoolean()
                        ? new Admission.Rotation(Design.plainOrder(cores))
                        : random.nextBoolean() ? new Admission.OwnPort() : new Admission.FirstCome(),
                standard.cost(),
                pins,
                new Clock(Clock.Source.CRYSTAL, 1 + random.nextInt(20_000_000), 1 + random.nextInt(16), 0));
        List<Input> inputs = random.nextBoolean()
                ? List.of()
                : List.of(new Input.Square(
                        0, random.nextInt(50), 1 + random.nextInt(20), random.nextInt(20), Input.NEVER));
        Job job = new Job(
                assembled(text.toString().getBytes(StandardCharsets.UTF_8), design),
                new Scenario(OptionalLong.empty(), inputs),
                1 + random.nextInt(1000));

        assertSaysWhatTheChipIs(job);
    }

    private static void assertSaysWhatTheChipIs(Job job) {
        VcdFile all = VcdFile.read(dump(job, Contents.ALL, 0));
        VcdFile noClock = VcdFile.read(dump(job, Contents.NO_CLOCK, 0));
        VcdFile pinsOnly = VcdFile.read(dump(job, Contents.PINS_ONLY, 0));
        Design design = job.program().design();
        Timescale scale = Timescale.of(design.clock().chipHertz());
        Run run = Run.of(job.program(), job.scenario(), job.limit());
        for (long cycle = 0; !run.isOver(); cycle++) {
            long time = Long.parseLong(scale.at(2 * cycle));
            assertThat(all.at("chip.clock", time)).isEqualTo("1");
            assertThat(all.at("chip.clock", Long.parseLong(scale.at(2 * cycle + 1))))
                    .isEqualTo("0");
            if (design.admission() instanceof Admission.Rotation rotation) {
                long slot = cycle / design.slotCycles();
                assertThat(all.number("chip.slot_owner", time))
                        .isEqualTo(rotation.order()
                                .get((int) (slot % rotation.order().size()))
                                .longValue());
            }
            assertCores(run.chip(), all, time);
            assertCores(run.chip(), noClock, time);
            assertPins(run.chip(), job.scenario(), all, time, true);
            assertPins(run.chip(), job.scenario(), pinsOnly, time, false);
            run.runTo(cycle + 1);
        }
        long end = Long.parseLong(scale.at(2 * run.chip().cycle()));
        assertThat(all.end()).isEqualTo(end);
        assertThat(noClock.end()).isEqualTo(end);
        assertThat(pinsOnly.end()).isEqualTo(end);
    }

    private static void assertCores(Chip chip, VcdFile file, long time) {
        long holders = 0;
        for (int i = 0; i < chip.design().cores(); i++) {
            Core core = chip.core(i);
            State state = core.state();
            String scope = "chip.core%d.".formatted(i);
            String where = "core %d at cycle %d".formatted(i, chip.cycle());
            assertThat(file.number(scope + "state", time)).as(where).isEqualTo(state.ordinal());
            if (state != State.IDLE) {
                assertThat(file.number(scope + "pc", time)).as(where).isEqualTo(Integer.toUnsignedLong(core.pc()));
                assertThat(file.number(scope + "pc_in_shared", time)).as(where).isEqualTo(core.pcInShared() ? 1 : 0);
            }
            boolean admittedNow = state.isAdmitted() && core.stateSince() == chip.cycle();
            assertThat(file.number(scope + "request", time))
                    .as(where)
                    .isEqualTo(state.isWaiting() || admittedNow ? 1 : 0);
            assertThat(file.number(scope + "waiting", time)).isEqualTo(state.isWaiting() ? 1 : 0);
            assertThat(file.number(scope + "admitted", time)).isEqualTo(state.isAdmitted() ? 1 : 0);
            if (chip.design().pins() > 0) {
                assertThat(file.number(scope + "drive", time)).isEqualTo(Integer.toUnsignedLong(core.drive()));
            }
            holders |= state.isAdmitted() ? 1L << i : 0;
        }
        assertThat(file.number("chip.holders", time)).isEqualTo(holders);
    }

    private static void assertPins(Chip chip, Scenario scenario, VcdFile file, long time, boolean vectors) {
        int pins = chip.design().pins();
        StringBuilder outside = new StringBuilder();
        for (int i = 0; i < pins; i++) {
            int pin = i;
            boolean driven = IntStream.range(0, chip.design().cores())
                    .anyMatch(core -> (chip.core(core).drive() >>> pin & 1) != 0);
            int given = scenario.inputs().stream()
                    .filter(input -> input.pin() == pin)
                    .mapToInt(input -> input.at(chip.cycle()))
                    .findFirst()
                    .orElse(Input.NOTHING);
            boolean clash = (chip.pinClashes() >>> pin & 1) != 0;
            boolean high = (chip.pinLevels() >>> pin & 1) != 0;
            String expected = clash ? "x" : !driven && given == Input.NOTHING ? "z" : high ? "1" : "0";
            assertThat(file.at("chip.pins.pin" + pin, time))
                    .as("pin %d at cycle %d", pin, chip.cycle())
                    .isEqualTo(expected);
            outside.insert(0, given == Input.NOTHING ? "z" : String.valueOf(given));
        }
        if (vectors && pins > 0) {
            assertThat(file.number("chip.pins.levels", time)).isEqualTo(Integer.toUnsignedLong(chip.pinLevels()));
            assertThat(file.number("chip.pins.clashes", time)).isEqualTo(Integer.toUnsignedLong(chip.pinClashes()));
            assertThat(file.at("chip.pins.outside", time)).isEqualTo(outside.toString());
        }
    }

    @ParameterizedTest
    @MethodSource("cases")
    void dump_fromALaterCycleOn_hasTheChangesOfTheWholeFromThereOn(String name) throws IOException {
        Job job = goldenCase(name);
        Timescale scale = Timescale.of(job.program().design().clock().chipHertz());
        for (Contents contents : Contents.values()) {
            VcdFile whole = VcdFile.read(dump(job, contents, 0));
            long from = whole.end() / Math.max(1, Long.parseLong(scale.at(2))) / 2;
            long begin = Long.parseLong(scale.at(2 * from));
            VcdFile part = VcdFile.read(dump(job, contents, from));

            for (String variable : whole.names()) {
                assertThat(part.at(variable, begin)).as(variable).isEqualTo(whole.at(variable, begin));
            }
            assertThat(part.changes().stream()
                            .filter(change -> timeOf(change) > begin)
                            .sorted())
                    .containsExactlyElementsOf(whole.changes().stream()
                            .filter(change -> timeOf(change) > begin)
                            .sorted()
                            .toList());
        }
    }

    private static long timeOf(String change) {
        return Long.parseLong(change.substring(0, change.indexOf(' ')));
    }

    @Test
    void dump_fromBeyondTheEnd_holdsTheLastStateAlone() throws IOException {
        Job job = goldenCase("01");
        VcdFile file = VcdFile.read(dump(job, Contents.ALL, Input.MAX_CYCLE));

        assertThat(file.changes()).hasSize(file.names().size());
    }

    /** A name that would end the comment and declare something. */
    @Test
    void dump_ofAProgramWithAHostileName_keepsItInsideTheComment() {
        Program program = ((Assembly.Assembled) Assembler.assemble(
                        "a $end\n$var wire 1 ! x $end \u202e\u001b[2J.turn",
                        "core 0\n halt\n".getBytes(StandardCharsets.UTF_8),
                        Design.DEFAULT))
                .program();

        String text = dump(new Job(program, Scenario.QUIET, 100), Contents.ALL, 0);

        assertThat(VcdFile.read(text).names()).hasSize(86);
        assertThat(text.chars()).allMatch(c -> c == '\n' || (c >= ' ' && c <= '~'));
        assertThat(text.lines().findFirst().orElseThrow()).startsWith("$comment Octurn: a__end__var_wire_1___x__end_");
    }
}
