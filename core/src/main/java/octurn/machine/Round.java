package octurn.machine;

import java.util.List;
import octurn.isa.Word;
import org.jspecify.annotations.Nullable;

/**
 * What all cores did from one {@link Moment} until the same came again, as it was noted: step by step, in the order of
 * time.
 *
 * @param start where it begins
 * @param steps what was done
 * @param counted the accesses that are counted in it
 * @param end where the same comes again
 */
record Round(Moment start, List<Step> steps, List<Counted> counted, Mark end) {

    /**
     * An instruction of a core; for an access, that it is asked for; or the effect of one that was asked for before.
     *
     * @param time the cycle at which it starts, or the effect shows
     * @param cycles how long it takes, if it is no access
     * @param next the address of the core's next instruction
     * @param exit how it was before, if the core can go another way here; else null
     */
    record Step(
            int core,
            int address,
            int word,
            boolean effect,
            long time,
            long cycles,
            int next,
            @Nullable Mark exit) {

        /** Whether a later step is the same, so many cycles later. */
        boolean comesAgainIn(Step later, long cyclesLater) {
            return core == later.core
                    && address == later.address
                    && word == later.word
                    && time + cyclesLater == later.time;
        }

        /** Whether an instruction finishes with it. */
        boolean finishes() {
            return effect || !Translator.isAccess(Word.op(word));
        }
    }

    /** An access of a core's instruction that waited so long. */
    record Counted(int core, int pc, long waited) {}

    /**
     * How far a round has come at a moment.
     *
     * @param moment with the times of the first round
     * @param steps that are done
     * @param counted accesses that are counted
     * @param busy under own-port: cycles in which the memory was held
     */
    record Mark(Moment moment, int steps, int counted, long busy) {}

    Round {
        steps = List.copyOf(steps);
        counted = List.copyOf(counted);
    }

    /** How long it takes. */
    long cycles() {
        return end.moment().time() - start.time();
    }

    /** No time that it has to do with is more cycles after its start. */
    long reach() {
        long latest = end.moment().time();
        for (Step step : steps) {
            latest = Math.max(latest, step.time() + step.cycles());
        }
        return latest - start.time();
    }
}
