package octurn.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.AccessSite;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.State;
import octurn.run.Moment;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.jspecify.annotations.Nullable;

/**
 * Why a core waits, and what would make it wait less, in plain words.
 *
 * <p>Under {@code rotation} with own slots opening at p and at q, a request raised at a with p &lt; a &lt;= q waits q - a
 * cycles. Raised d cycles earlier, with less work before it, it waits q - a + d, until d = a - p: then it meets the slot
 * at p and waits 0. So taking work out pays only from a - p cycles on, and q - a more cycles of work cost nothing.
 */
public final class Reasons {

    private static final Set<Kind> ADMISSIONS = Set.of(Kind.ADMIT);
    private static final int MOST_NAMED = 6;

    private final Sentences sentences;
    private final Design design;

    /** Reasons in runs of the program that these sentences are about. */
    public Reasons(Sentences sentences) {
        this.sentences = sentences;
        this.design = sentences.places().program().design();
    }

    /** Why this core waits in the present cycle, or where it waits most; some sentences, in order. */
    public List<String> of(Moment moment, int number) {
        Core core = moment.chip().core(number);
        List<String> reasons = new ArrayList<>();
        reasons.add(sentences.of(moment, number));
        if (core.state().isWaiting()) {
            Rotation rotation = sentences.rotation();
            if (rotation != null) {
                inTurn(moment, core, rotation, reasons);
            } else {
                onDemand(moment, core, reasons);
            }
            if (core.state() == State.CODE_WAIT) {
                reasons.add("Its code lies in shared memory, so every instruction must first be fetched through the"
                        + " arbiter. The same code in private RAM would not wait.");
            }
            if (core.state() == State.LOAD_WAIT) {
                reasons.add("Each word of an image takes a turn of its own. A shorter image is loaded sooner.");
            }
        } else {
            reasons.add("It does not wait in this cycle.");
        }
        addIfAny(reasons, record(core));
        return reasons;
    }

    // ---- rotation ----

    private void inTurn(Moment moment, Core core, Rotation rotation, List<String> reasons) {
        long slot = core.dueCycle();
        if (slot == Rotation.NEVER) {
            reasons.add("The design's order leaves core %d out. Give it a slot there.".formatted(core.number()));
            return;
        }
        long asked = core.requestCycle();
        long wait = slot - asked;
        long before = slotBefore(rotation, core.number(), asked);
        reasons.add(
                "It is admitted only in the cycle in which a slot of its own opens: %s. The other cores make no difference."
                        .formatted(slots(rotation, core.number(), before, slot)));
        if (before < 0) {
            reasons.add("Its first slot opens %s after it asked.".formatted(Sentences.cycles(wait)));
        } else {
            reasons.add("It asked %s after its slot at %d had opened, so it waits for the one at %d: %s."
                    .formatted(Sentences.cycles(asked - before), before, slot, Sentences.cycles(wait)));
            if (core.state() == State.WAIT) {
                reasons.add(sooner(moment, core, asked, before));
            }
        }
        reasons.add(
                "To wait less: put up to %s of other work before this access, they cost nothing; or make fewer accesses (private RAM; bump or swap instead of fetch and post); or give core %d more slots in the design's order; or take a policy that admits on demand."
                        .formatted(Sentences.cycles(wait), core.number()));
    }

    /** Whether the slot before could have been met by doing less. */
    private String sooner(Moment moment, Core core, long asked, long before) {
        long late = asked - before;
        Event access = moment.last(core.number(), ADMISSIONS);
        long work = access == null ? -1 : asked - access.cycle() - design.slotCycles();
        if (access != null && access.cycle() == before) {
            return "That slot at %d was in use by its own access before this one.".formatted(before);
        }
        if (work >= 0 && late > work - design.cost().plain()) {
            return "Doing less does not help here: only %s of work lie between its access before this one and this request."
                    .formatted(Sentences.cycles(work));
        }
        return "Doing less helps only from %s on: with so much less work before it, this access meets the slot at %d and does not wait."
                .formatted(Sentences.cycles(late), before);
    }

    private String slots(Rotation rotation, int core, long before, long slot) {
        long next = rotation.nextSlot(core, slot + 1);
        String some = (before < 0 ? "" : before + ", ") + slot + ", " + next;
        boolean regular =
                before >= 0 && next - slot == slot - before && next - slot == rotation.nextSlot(core, next + 1) - next;
        return regular
                ? "at %s and so on, every %s".formatted(some, Sentences.cycles(next - slot))
                : "at " + some + ", ..";
    }

    /** The first cycle of the last own slot that opened before this cycle, or -1. */
    private long slotBefore(Rotation rotation, int core, long cycle) {
        long rotationCycles = design.rotationCycles();
        for (long start = (cycle - 1) / design.slotCycles() * design.slotCycles();
                start >= 0 && start > cycle - 1 - rotationCycles - design.slotCycles();
                start -= design.slotCycles()) {
            if (rotation.owner(start) == core) {
                return start;
            }
        }
        return -1;
    }

    // ---- the policies that choose ----

    private void onDemand(Moment moment, Core core, List<String> reasons) {
        reasons.add(rule(design.admission(), core.number()));
        List<String> before = new ArrayList<>();
        for (Event event : moment.past()) {
            if (event.kind() == Kind.ADMIT && event.cycle() >= core.requestCycle()) {
                before.add("core %d at %d".formatted(event.core(), event.cycle()));
            }
        }
        if (!before.isEmpty()) {
            int left = Math.max(0, before.size() - MOST_NAMED);
            String more = left == 0 ? "" : "%d others, then ".formatted(left);
            reasons.add("Admitted since it asked: %s%s."
                    .formatted(more, String.join(", ", before.subList(left, before.size()))));
        }
        Chip chip = moment.chip();
        if (chip.cycle() > 0) {
            reasons.add(
                    "The memory has been busy for %d %% of the run so far. To wait less: let the cores ask less often (words in private RAM, bump instead of fetch and post), or make the slot shorter."
                            .formatted(Math.round(100.0 * chip.busyCycles() / chip.cycle())));
        }
    }

    private static String rule(Admission admission, int core) {
        if (admission instanceof Admission.Priority priority) {
            int place = priority.order().indexOf(core);
            return place == 0
                    ? "Whoever stands first in the order goes first: core %d does, and waits at most for an access that is under way."
                            .formatted(core)
                    : "Whoever stands first in the order goes first: core%s can make core %d wait for as long as they ask."
                            .formatted(Sentences.numbers(priority.order().subList(0, place)), core);
        }
        if (admission instanceof Admission.NextWaiting) {
            return "When the memory is free it goes to the next core that asks, in ascending number after the one admitted last: each other core can go before this one once.";
        }
        if (admission instanceof Admission.FirstCome) {
            return "When the memory is free it goes to the oldest request: each other core can go before this one once.";
        }
        if (admission instanceof Admission.Lottery) {
            return "When the memory is free a draw by weight decides among those that ask: how long it takes is chance.";
        }
        return "There is no contention: every request is admitted at once.";
    }

    // ---- the record ----

    private @Nullable String record(Core core) {
        AccessSite worst = core.accessSites().stream()
                .max(Comparator.comparingLong(AccessSite::total))
                .orElse(null);
        if (worst == null) {
            return null;
        }
        int line = sentences.places().line(core, worst.inShared(), worst.address());
        String place =
                line > 0 ? "line " + line : (worst.inShared() ? "shared word " : "private word ") + worst.address();
        return "So far core %d has made %s and waited %s for them; most at %s: %d of them, waits of %s, %s in all."
                .formatted(
                        core.number(),
                        core.accesses() == 1 ? "1 access" : core.accesses() + " accesses",
                        Sentences.cycles(core.waitTotal()),
                        place,
                        worst.count(),
                        worst.min() == worst.max()
                                ? Sentences.cycles(worst.min())
                                : worst.min() + ".." + Sentences.cycles(worst.max()),
                        worst.total());
    }

    private static void addIfAny(List<String> reasons, @Nullable String reason) {
        if (reason != null) {
            reasons.add(reason);
        }
    }
}
