package octurn.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.Chip;
import octurn.machine.End;
import octurn.machine.Engines;
import octurn.machine.State;
import octurn.machine.TestDesign;
import octurn.machine.Trial;
import octurn.reference.RandomPrograms;
import octurn.reference.RandomPrograms.Generated;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReports;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/** What holds for every run, shown on random programs, designs and scenarios, with every engine. */
@ParameterizedClass
@EnumSource
class RunLawsTest {

    @Parameter
    Engines engine;

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 30);
    }

    private static Program program(Generated generated) {
        return Trial.assemble(generated.design(), generated.text());
    }

    private Run start(Generated generated, Program program) {
        return Run.of(program, generated.scenario(), generated.limit(), engine.maker());
    }

    // ---- sums ----

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void report_itsNumbersAddUp(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Run run = start(generated, program(generated));
        run.finish();
        RunReport report = RunReports.of(run);

        for (CoreReport core : report.cores()) {
            assertThat(sum(core.states()))
                    .as("states of core %d, %s", core.core(), generated)
                    .isEqualTo(report.cycles());
            assertThat(core.states().values()).allMatch(cycles -> cycles >= 0);
            Map<Long, Long> histogram = core.waits().histogram();
            assertThat(sum(histogram)).isEqualTo(core.accesses());
            assertThat(histogram.entrySet().stream()
                            .mapToLong(entry -> entry.getKey() * entry.getValue())
                            .sum())
                    .isEqualTo(core.waits().total());
            assertThat(core.waits().min())
                    .isEqualTo(histogram.isEmpty() ? -1L : (long) Collections.min(histogram.keySet()));
            assertThat(core.waits().max())
                    .isEqualTo(histogram.isEmpty() ? -1L : (long) Collections.max(histogram.keySet()));
            // A request still up, or withdrawn, has waited but has no wait.
            assertThat(core.states().get(State.WAIT))
                    .isGreaterThanOrEqualTo(core.waits().total());
            assertHotSpotsAddUp(report, core);
            assertTurnsAddUp(report, core);
        }
        long slots = report.cores().stream()
                .mapToLong(core -> core.states().get(State.SLOT)
                        + core.states().get(State.CODE_SLOT)
                        + core.states().get(State.LOAD_SLOT))
                .sum();
        if (generated.design().admission() instanceof Admission.OwnPort) {
            assertThat(report.busyCycles()).isLessThanOrEqualTo(slots);
        } else {
            assertThat(report.busyCycles()).isEqualTo(slots);
        }
        assertThat(report.clashCycles()).isBetween(0L, report.cycles());
    }

    private static void assertHotSpotsAddUp(RunReport report, CoreReport core) {
        List<RunReport.HotSpot> spots = report.hotSpots().stream()
                .filter(spot -> spot.core() == core.core())
                .toList();
        assertThat(spots.stream().mapToLong(RunReport.HotSpot::count).sum()).isEqualTo(core.accesses());
        assertThat(spots.stream().mapToLong(RunReport.HotSpot::total).sum())
                .isEqualTo(core.waits().total());
        assertThat(spots)
                .allMatch(spot -> spot.count() > 0
                        && spot.min() * spot.count() <= spot.total()
                        && spot.total() <= spot.max() * spot.count());
    }

    private static void assertTurnsAddUp(RunReport report, CoreReport core) {
        if (report.design().admission() instanceof Admission.Rotation rotation) {
            int slotCycles = report.design().slotCycles();
            long offered = LongStream.iterate(0, start -> start < report.cycles(), start -> start + slotCycles)
                    .filter(start -> rotation.order().get((int)
                                    (start / slotCycles % rotation.order().size()))
                            == core.core())
                    .count();
            assertThat(core.turnsOffered()).isEqualTo(offered);
            assertThat(core.turnsUsed()).isBetween(core.accesses(), offered);
        } else {
            assertThat(core.turnsOffered()).isEqualTo(-1);
            assertThat(core.turnsUsed()).isEqualTo(-1);
        }
    }

    private static long sum(Map<?, Long> counts) {
        return counts.values().stream().mapToLong(Long::longValue).sum();
    }

    // ---- the same again ----

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void run_twice_isTheSame(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = program(generated);
        Run one = start(generated, program);
        Run other = start(generated, program(generated));
        one.finish();
        other.finish();

        assertThat(ChipText.of(other.chip())).isEqualTo(ChipText.of(one.chip()));
        assertThat(RunReports.of(other)).isEqualTo(RunReports.of(one));
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void run_inRandomPieces_endsLikeInOneGo(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = program(generated);
        Run whole = start(generated, program);
        Run pieces = start(generated, program);
        whole.finish();
        Random random = new Random(seed);
        int piece = 1 + random.nextInt((int) Math.min(3000, generated.limit()));
        for (long cycle = 0; !pieces.isOver(); cycle += random.nextInt(piece + 1)) {
            pieces.runTo(cycle);
            assertThat(pieces.chip().cycle())
                    .isEqualTo(Math.min(cycle, whole.chip().cycle()));
        }

        assertThat(ChipText.of(pieces.chip())).isEqualTo(ChipText.of(whole.chip()));
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void reportSoFar_isThatOfARunWithItsLimitThere(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = program(generated);
        Run run = start(generated, program);
        Random random = new Random(seed);
        for (int i = 0; i < 12; i++) {
            long cycle = run.chip().cycle() + 1 + random.nextInt((int) Math.max(1, generated.limit() / 12));
            run.runTo(cycle);
            if (run.isOver() || cycle >= generated.limit()) {
                break;
            }
            Run limited = Run.of(program, generated.scenario(), cycle, engine.maker());
            limited.finish();
            assertThat(RunReports.of(run)).as("at %d of %s", cycle, generated).isEqualTo(RunReports.of(limited));
        }
    }

    // ---- saving and restoring ----

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void restore_anyCycle_goesOnAsIfNothingHadBeen(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = program(generated);
        Run whole = start(generated, program);
        whole.finish();
        String end = ChipText.of(whole.chip());
        int cycles = (int) whole.chip().cycle();
        Random random = new Random(seed);
        for (int i = 0; i < 6; i++) {
            Run run = start(generated, program);
            run.runTo(random.nextInt(cycles + 1));
            Chip.Saved saved = run.chip().save();
            String then = ChipText.of(run.chip());
            assertThat(saved.cycle()).isEqualTo(run.chip().cycle());
            run.runTo(run.chip().cycle() + random.nextInt(cycles + 1));
            run.chip().restore(saved);
            assertThat(ChipText.of(run.chip())).isEqualTo(then);
            run.finish();
            assertThat(ChipText.of(run.chip())).as(generated::toString).isEqualTo(end);
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void restore_intoARunOnAnotherEngine_goesOnTheSame(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = program(generated);
        Run whole = start(generated, program);
        whole.finish();
        Random random = new Random(seed);
        Run one = start(generated, program);
        one.runTo(random.nextInt((int) whole.chip().cycle() + 1));
        for (Engines another : Engines.values()) {
            Run other = Run.of(program, generated.scenario(), generated.limit(), another.maker());
            other.runTo(random.nextInt(200));
            other.chip().restore(one.chip().save());
            other.finish();
            assertThat(ChipText.of(other.chip())).as(generated::toString).isEqualTo(ChipText.of(whole.chip()));
        }
    }

    @Test
    void restore_ofAnotherDesign_isRefused() {
        Run run = Run.of(Trial.assemble(Design.DEFAULT, "core 0\n halt\n"), Scenario.QUIET, 100, engine.maker());
        Run other = Run.of(
                Trial.assemble(TestDesign.design().cores(2).build(), "core 0\n halt\n"),
                Scenario.QUIET,
                100,
                engine.maker());

        assertThatThrownBy(() -> run.chip().restore(other.chip().save()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("saved from a chip of another design: for a test");
    }

    // ---- cores alone and together ----

    /**
     * The order in which cores are looked at does not show: a program whose cores trade places, with the order of the
     * policy, does the same. (Under own-port, and where numbers decide by the rules, it may not.)
     */
    @ParameterizedTest(name = "seed {0}")
    @MethodSource("octurn.run.RunLawsTest#withoutCoreNumbers")
    void coresThatTradePlaces_doTheSame(long seed) {
        Generated generated = RandomPrograms.of(seed);
        int cores = generated.design().cores();
        Random random = new Random(seed);
        List<Integer> place = new ArrayList<>(Design.plainOrder(cores));
        Collections.shuffle(place, random);
        List<Integer> order = new ArrayList<>(Design.plainOrder(cores));
        Collections.shuffle(order, random);
        List<Integer> newOrder = order.stream().map(place::get).toList();
        boolean inTurn = random.nextBoolean();

        RunReport before = report(
                generated, inTurn ? new Admission.Rotation(order) : new Admission.Priority(order), generated.text());
        RunReport after = report(
                generated,
                inTurn ? new Admission.Rotation(newOrder) : new Admission.Priority(newOrder),
                moved(generated.text(), place));

        assertThat(after.cycles()).as(generated::toString).isEqualTo(before.cycles());
        assertThat(after.ended()).isEqualTo(before.ended());
        assertThat(after.busyCycles()).isEqualTo(before.busyCycles());
        assertThat(after.clashCycles()).isEqualTo(before.clashCycles());
        assertThat(after.shared()).isEqualTo(before.shared());
        for (CoreReport core : before.cores()) {
            assertThat(renumbered(after.cores().get(place.get(core.core())), core.core()))
                    .as("core %d at %d of %s", core.core(), place.get(core.core()), generated)
                    .isEqualTo(core);
        }
    }

    static LongStream withoutCoreNumbers() {
        Pattern numbers = Pattern.compile("(?m)^ *(read \\w+, core|start |stop )");
        return LongStream.rangeClosed(1, 4000)
                .filter(seed -> !numbers.matcher(RandomPrograms.of(seed).text()).find())
                .limit(30);
    }

    private RunReport report(Generated generated, Admission admission, String text) {
        Design old = generated.design();
        Design design = new Design(
                old.name(),
                old.cores(),
                old.privateWords(),
                old.sharedWords(),
                old.slotCycles(),
                admission,
                old.cost(),
                old.pins(),
                old.clock());
        Run run = Run.of(Trial.assemble(design, text), generated.scenario(), generated.limit(), engine.maker());
        run.finish();
        return RunReports.of(run);
    }

    /** The text with the section of each core given to the one in its new place. */
    private static String moved(String text, List<Integer> place) {
        Matcher sections = Pattern.compile("(?m)^core (.+)$").matcher(text);
        return sections.replaceAll(section -> "core "
                + Arrays.stream(section.group(1).split(", "))
                        .map(number -> place.get(Integer.parseInt(number)))
                        .sorted()
                        .map(String::valueOf)
                        .collect(Collectors.joining(", ")));
    }

    private static CoreReport renumbered(CoreReport core, int number) {
        return new CoreReport(
                number,
                core.state(),
                core.pc(),
                core.pcInShared(),
                core.registers(),
                core.instructions(),
                core.states(),
                core.accesses(),
                core.waits(),
                core.turnsOffered(),
                core.turnsUsed(),
                core.clashes(),
                core.fault(),
                core.privateWords());
    }

    /** Under rotation, what one core does never changes another's timing, unless they tell each other something. */
    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void rotation_coresThatDoNotCommunicate_runAsIfAlone(long seed) {
        Random random = new Random(seed * 77);
        int cores = 2 + random.nextInt(7);
        List<Integer> order = new ArrayList<>(Design.plainOrder(cores));
        for (int i = random.nextInt(cores); i > 0; i--) {
            order.add(random.nextInt(cores));
        }
        Collections.shuffle(order, random);
        Design design = TestDesign.under(new Admission.Rotation(order))
                .cores(cores)
                .slotCycles(1 + random.nextInt(5))
                .build();
        Map<Integer, String> sections = new HashMap<>();
        for (int core = 0; core < cores; core++) {
            sections.put(core, ownSection(core, random));
        }

        RunReport together = finished(design, String.join("", sections.values()));
        for (int core = 0; core < cores; core++) {
            CoreReport alone = finished(design, sections.get(core)).cores().get(core);
            CoreReport among = together.cores().get(core);
            assertThat(among.registers()).as("seed %d, core %d", seed, core).isEqualTo(alone.registers());
            assertThat(among.waits()).isEqualTo(alone.waits());
            assertThat(among.instructions()).isEqualTo(alone.instructions());
            for (State state : State.values()) {
                if (state != State.IDLE) {
                    assertThat(among.states().get(state))
                            .isEqualTo(alone.states().get(state));
                }
            }
        }
    }

    /** Work, and accesses to shared words that no other core touches. */
    private static String ownSection(int core, Random random) {
        StringBuilder text = new StringBuilder("core %d%n".formatted(core));
        text.append("        set r9, %d%n".formatted(1 + random.nextInt(6)));
        text.append("more:%n".formatted());
        for (int i = 2 + random.nextInt(12); i > 0; i--) {
            int cell = 16 * core + random.nextInt(16);
            text.append("        ")
                    .append(
                            switch (random.nextInt(6)) {
                                case 0 -> "fetch r1, [%d]".formatted(cell);
                                case 1 -> "post r2, [%d]".formatted(cell);
                                case 2 -> "bump r3, [%d]".formatted(cell);
                                case 3 -> "mul r2, r2, r3";
                                case 4 -> "pause %d".formatted(random.nextInt(30));
                                default -> "add r3, r3, %d".formatted(1 + random.nextInt(9));
                            })
                    .append('\n');
        }
        return text.append("        again r9, more\n        halt\n").toString();
    }

    private RunReport finished(Design design, String text) {
        Run run = Run.of(Trial.assemble(design, text), Scenario.QUIET, 1_000_000, engine.maker());
        run.finish();
        assertThat(run.chip().ended()).isEqualTo(End.ALL_IDLE);
        return RunReports.of(run);
    }
}
