package octurn.published;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.design.Admission;
import octurn.design.Design;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class MutualExclusionTest {

    private static final int ROUNDS = 20;

    /** Cycles that Peterson's cores let pass here and there. */
    private static final List<Map<String, Long>> RHYTHMS = List.of(
            Map.of(),
            Map.of("between0", 120L, "inside", 200L, "outside1", 333L),
            Map.of("between0", 60L, "between1", 240L, "inside", 200L, "outside0", 100L, "outside1", 333L));

    /**
     * Peterson, "Myths About the Mutual Exclusion Problem", Information Processing Letters 12(3), 1981: with atomic
     * reads and writes, never both inside. Start phases all over a rotation, in several rhythms.
     */
    @ParameterizedTest
    @MethodSource("policies")
    void peterson_underAnyPolicyAndPhase_losesNoUpdate(Admission admission) {
        assertThat(petersonCounts(Published.text("peterson"), admission)).containsOnly(2 * ROUNDS);
    }

    /**
     * The negative control: with the turn given before the flag is raised, the other can do its whole way in between the
     * two, both get inside, and updates are lost.
     */
    @ParameterizedTest
    @MethodSource("policies")
    void peterson_withTurnWrittenBeforeFlag_losesUpdatesAtSomePhase(Admission admission) {
        String text = Published.text("peterson");
        String flag = line(text, "; I want to");
        String turn = line(text, "; but you go first");
        String wrong = text.replace(flag, "FLAG").replace(turn, flag).replace("FLAG", turn);
        assertThat(wrong).isNotEqualTo(text);

        assertThat(petersonCounts(wrong, admission))
                .as("some phase lets both in")
                .anySatisfy(count -> assertThat(count).isLessThan(2 * ROUNDS));
    }

    /** Mellor-Crummey and Scott, ACM TOCS 9(1), 1991: cores enter in the order of their tickets. */
    @ParameterizedTest
    @MethodSource("policies")
    void ticketLock_underAnyPolicy_letsCoresInInTheOrderOfTheirTickets(Admission admission) {
        Published run = Published.runText(Published.text("ticket-lock"), with(admission));

        List<Integer> book =
                IntStream.range(0, 48).mapToObj(i -> run.word("book", i)).toList();
        assertThat(book).isEqualTo(IntStream.range(0, 48).boxed().toList());
        assertThat(run.word("called")).isEqualTo(48);
    }

    static Stream<Admission> policies() {
        return Stream.of(
                Design.DEFAULT.admission(),
                new Admission.NextWaiting(),
                new Admission.FirstCome(),
                new Admission.Lottery(Design.plainWeights(8), Admission.Lottery.DEFAULT_SEED),
                new Admission.OwnPort());
    }

    private static List<Integer> petersonCounts(String text, Admission admission) {
        List<Integer> counts = new ArrayList<>();
        for (Map<String, Long> rhythm : RHYTHMS) {
            for (long phase = 0; phase < 24; phase += 3) {
                Map<String, Long> constants = new HashMap<>(rhythm);
                constants.put("phase", phase);
                counts.add(Published.runText(text, with(admission), constants).word("count"));
            }
        }
        return counts;
    }

    private static String line(String text, String end) {
        return text.lines().filter(line -> line.endsWith(end)).findFirst().orElseThrow();
    }

    private static Design with(Admission admission) {
        Design standard = Design.DEFAULT;
        return new Design(
                "swept",
                standard.cores(),
                standard.privateWords(),
                standard.sharedWords(),
                standard.slotCycles(),
                admission,
                standard.cost(),
                standard.pins(),
                standard.clock());
    }
}
