package octurn.lessons;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import octurn.lessons.text.Prose;
import octurn.lessons.value.Numbers;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;

/**
 * A wrong answer that was foreseen.
 *
 * @param gives the number that it leads to
 * @param say what would have made it right
 * @param rank what is believed first: 0 the author's own, 1 a known one, 2 a known one that says little
 */
record Slip(BigDecimal gives, Prose say, int rank) {

    static final int OWN = 0;
    static final int KNOWN = 1;
    static final int VAGUE = 2;

    /** The author's own. */
    static List<Slip> own(Sitting sitting, List<Step.WrongNumber> wrong) throws Unresolved {
        List<Slip> slips = new ArrayList<>();
        for (Step.WrongNumber one : wrong) {
            slips.add(new Slip(Numbers.exact(sitting.number(one.gives())), sitting.prose(one.say()), OWN));
        }
        return slips;
    }

    /**
     * What is said to this answer, or null if none of these fits. Of the author's own the first; several known ones are
     * all named, for nobody can tell which it was.
     */
    static @Nullable Prose fitting(List<Slip> slips, BigDecimal answer, BigDecimal tolerance) {
        List<Slip> fitting = slips.stream()
                .filter(slip -> slip.gives().subtract(answer).abs().compareTo(tolerance) <= 0)
                .toList();
        int best = fitting.stream().mapToInt(Slip::rank).min().orElse(VAGUE);
        List<Prose> says = fitting.stream()
                .filter(slip -> slip.rank() == best)
                .map(Slip::say)
                .distinct()
                .toList();
        if (says.isEmpty()) {
            return null;
        }
        if (says.size() == 1 || best == OWN) {
            return says.get(0);
        }
        List<Prose.Block> blocks =
                new ArrayList<>(Prose.of("It may be one of these:").blocks());
        blocks.add(new Prose.Items(-1, says.stream().map(Prose::blocks).toList()));
        return new Prose(blocks);
    }
}
