package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.HotSpot;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.trace.Event;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Under rotation, what one core does never changes another core's timing unless they communicate: a core with a program
 * of its own is run alone and among random company, and all that happens to it must be the same.
 */
class IsolationTest {

    private static final long LIMIT = 4000;
    private static final int WORDS_EACH = 8;

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 40);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void core_underRotation_doesTheSameInAnyCompany(long seed) {
        Random random = new Random(seed);
        int cores = 2 + random.nextInt(9);
        Design design = Lab.design(cores, 1 + random.nextInt(5), order(random, cores));
        int observed = random.nextInt(cores);
        String program = program(random, observed, true);

        Life alone = Life.of(program, observed, design);
        for (int company = 0; company < 3; company++) {
            StringBuilder text = new StringBuilder(program);
            for (int core = 0; core < cores; core++) {
                if (core != observed && random.nextInt(4) > 0) {
                    text.append(program(random, core, false));
                }
            }
            assertThat(Life.of(text.toString(), observed, design))
                    .as("seed %d, company %d%n%s", seed, company, text)
                    .isEqualTo(alone);
        }
    }

    /** The check can fail: under other policies company is felt. */
    @Test
    void core_underOtherPolicies_feelsItsCompany() {
        for (Admission policy :
                List.of(new Admission.NextWaiting(), new Admission.FirstCome(), Lab.evenLottery(4), Lab.priority(4))) {
            Design design = Lab.design(4, 3, policy);
            Random random = new Random(7);
            String program = program(random, 3, true);
            String company = program(random, 0, false) + program(random, 1, false) + program(random, 2, false);

            assertThat(Life.of(program + company, 3, design)).isNotEqualTo(Life.of(program, 3, design));
        }
    }

    /** Some order in which every core has at least one slot. */
    private static Admission order(Random random, int cores) {
        List<Integer> order = new ArrayList<>(Design.plainOrder(cores));
        for (int extra = random.nextInt(4); extra > 0; extra--) {
            order.add(random.nextInt(order.size() + 1), random.nextInt(cores));
        }
        return new Admission.Rotation(order);
    }

    /**
     * An endless program over private RAM and the core's own few shared words. The company may also halt, fault, and
     * run from shared memory; none of it reads or writes what is another's.
     */
    private static String program(Random random, int core, boolean observed) {
        StringBuilder text = new StringBuilder("core %d\nbegin: nop\n".formatted(core));
        int own = core * WORDS_EACH;
        int lines = 10 + random.nextInt(40);
        for (int i = 0; i < lines; i++) {
            int rd = 1 + random.nextInt(7);
            int ra = 1 + random.nextInt(7);
            int word = own + random.nextInt(WORDS_EACH);
            text.append(
                    switch (random.nextInt(observed ? 11 : 13)) {
                        case 0 -> " add r%d, r%d, %d\n".formatted(rd, ra, random.nextInt(1000) - 500);
                        case 1 -> " mul r%d, r%d, r%d\n".formatted(rd, ra, rd);
                        case 2 -> " div r%d, r%d, %d\n".formatted(rd, ra, 1 + random.nextInt(9));
                        case 3 -> " store r%d, [data+%d]\n".formatted(rd, random.nextInt(WORDS_EACH));
                        case 4 -> " load r%d, [data+%d]\n".formatted(rd, random.nextInt(WORDS_EACH));
                        case 5 -> " pause %d\n".formatted(random.nextInt(60));
                        case 6 ->
                            " read r%d, time\n add r%d, r%d, %d\n until r%d\n"
                                    .formatted(rd, rd, rd, random.nextInt(90), rd);
                        case 7 -> " jump line%d if r%d < r%d\n nop\nline%d:\n".formatted(i, rd, ra, i);
                        case 8 ->
                            " set r9, %d\nloop%d: bump r%d, [%d]\n again r9, loop%d\n"
                                    .formatted(1 + random.nextInt(6), i, rd, word, i);
                        case 9 -> " post r%d, [%d]\n".formatted(rd, word);
                        case 10 -> " swap r%d, [%d]\n fetch r%d, [%d]\n".formatted(rd, word, ra, word);
                        case 11 -> " set r15, line%d\n far trip%d_%d\nline%d:\n".formatted(i, core, i, i);
                        default ->
                            random.nextInt(8) == 0
                                    ? " halt\n"
                                    : random.nextInt(8) == 0 ? " div r1, r1, r0\n" : " set r%d, %d\n".formatted(rd, i);
                    });
        }
        text.append(" jump begin\ndata: space %d\n".formatted(WORDS_EACH));
        List<String> trips = new ArrayList<>();
        text.toString().lines().filter(line -> line.contains("far trip")).forEach(line -> trips.add(line));
        if (!trips.isEmpty()) {
            text.append("shared at 1000 + %d\n".formatted(core * 200));
            trips.forEach(trip -> text.append(
                    "%s: add r1, r1, 1\n near r15\n".formatted(trip.strip().substring(4))));
        }
        return text.toString();
    }

    /** All that one core does and suffers in a run. */
    private record Life(CoreReport report, List<HotSpot> hotSpots, List<Event> events, Map<Integer, Integer> words) {

        static Life of(String text, int core, Design design) {
            Assembly assembly = Assembler.assemble("company.turn", text, design);
            assertThat(assembly).as(text).isInstanceOf(Assembly.Assembled.class);
            List<Event> events = new ArrayList<>();
            Run run = Run.of(
                    ((Assembly.Assembled) assembly).program(), Scenario.QUIET, LIMIT, (kind, cycle, whose, a, b) -> {
                        if (whose == core) {
                            events.add(new Event(kind, cycle, whose, a, b));
                        }
                    });
            run.finish();
            RunReport report = RunReports.of(run);
            assertThat(report.cycles()).isEqualTo(LIMIT);
            return new Life(
                    report.cores().get(core),
                    report.hotSpots().stream()
                            .filter(spot -> spot.core() == core)
                            .toList(),
                    events,
                    report.shared().subMap(core * WORDS_EACH, (core + 1) * WORDS_EACH));
        }
    }
}
