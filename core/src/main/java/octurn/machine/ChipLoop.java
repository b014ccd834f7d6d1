package octurn.machine;

import java.util.List;
import octurn.isa.Codes;
import octurn.isa.Word;
import org.jspecify.annotations.Nullable;

/**
 * What all cores did from one {@link Moment} until the same came again, as Java bytecode: one access after the other in
 * the order of time, with the private instructions in between, and nothing left of asking, waiting and choosing. As long
 * as each core goes the same way through its code, all times are those of the first round, only later, and what is counted
 * is that of the first round, as often as it was done.
 */
final class ChipLoop {

    /** What {@link Code#run} answers after whole rounds. */
    static final int WHOLE = -1;

    /** So many rounds in one call, so that the virtual machine compiles the method and not only a loop in it. */
    private static final int ROUNDS = 1024;

    /** The code itself. */
    interface Code {
        /**
         * Goes round, the first time from cycle {@code base} and the last time from {@code last} or before, and leaves
         * the beginning of the round that was not done, or not to its end, in {@link #base}.
         *
         * @return {@link #WHOLE}, or the number of the step before which it has left
         */
        int run(ChipLoop loop, long base, long last);
    }

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

    private final Chip chip;
    private final Schedule schedule;
    /** By core; for the code, too. */
    final PrivateWork[] works;

    /** For the code. */
    final int[] shared;

    private final Moment start;
    /** Cores that are never admitted in it. */
    private final int starved;

    private final List<Step> steps;
    private final List<Counted> counted;
    private final Mark end;
    private final long cycles;
    /** No time that a round has to do with is so many cycles after its start. */
    private final long reach;

    /** By core: the instructions that it does. */
    private final @Nullable CodeWords[] words;

    private final Code code;

    /** See {@link Code#run}. */
    long base;

    /**
     * @param end of the first round
     */
    ChipLoop(
            Chip chip,
            Schedule schedule,
            PrivateWork[] works,
            Moment start,
            List<Step> steps,
            List<Counted> counted,
            Mark end,
            long reach,
            @Nullable CodeWords[] words) {
        this.chip = chip;
        this.schedule = schedule;
        this.works = works;
        this.shared = chip.shared;
        this.start = start;
        this.starved = start.waitingUntil(end.moment());
        this.steps = List.copyOf(steps);
        this.counted = List.copyOf(counted);
        this.end = end;
        this.cycles = end.moment().time() - start.time();
        this.reach = reach;
        this.words = words;
        this.code = new ChipLoopWriter(chip, start.time(), cycles, steps).write();
        for (int core = 0; core < words.length; core++) {
            CodeWords done = words[core];
            if (done != null) {
                works[core].keep(done);
            }
        }
    }

    /** Whether it can be gone round from here. */
    boolean startsAt(Moment here, int rotation) {
        return start.isLike(here, rotation, starved) && holds();
    }

    /** Whether the cores still have the instructions that it was made from. */
    private boolean holds() {
        for (int core = 0; core < words.length; core++) {
            CodeWords done = words[core];
            if (done != null && !works[core].keeps(done)) {
                return false;
            }
        }
        return true;
    }

    /** It is not gone round any more. */
    void drop() {
        for (int core = 0; core < words.length; core++) {
            CodeWords done = words[core];
            if (done != null) {
                works[core].letGo(done);
            }
        }
    }

    /** Cycles of a round. */
    long cycles() {
        return cycles;
    }

    /**
     * Goes round from this cycle, at a moment like its start, as long as all that a round has to do with comes before the
     * cycle up to which the schedule is open. Leaves all as if it had been done access by access.
     *
     * @return the cycle at which {@link Schedule#current} starts an instruction; or something below 0, if that is who is
     *     next
     */
    long run(long from) {
        long last = schedule.until() - 1 - reach;
        base = from;
        int step = WHOLE;
        while (step == WHOLE && base <= last) {
            step = code.run(this, base, Math.min(last, base + ROUNDS * cycles));
        }
        count(end, (base - from) / cycles);
        Mark exit = step == WHOLE ? null : steps.get(step).exit();
        if (exit == null) {
            goTo(start);
            schedule.end = base;
            return -1;
        }
        count(exit, 1);
        goTo(exit.moment());
        return exit.moment().time() + base - start.time();
    }

    private void goTo(Moment moment) {
        schedule.goTo(moment, base - start.time(), starved);
        schedule.leave(works[moment.current()]);
    }

    /** What was done so many times up to there. */
    private void count(Mark done, long times) {
        if (times == 0) {
            return;
        }
        int plain = chip.design.cost().plain();
        for (Step step : steps.subList(0, done.steps())) {
            Core core = works[step.core()].core;
            int op = Word.op(step.word());
            core.instructions += step.finishes() ? times : 0;
            if (op == Codes.PAUSE || op == Codes.UNTIL) {
                core.spend(State.SLEEP, (step.cycles() - plain) * times);
            }
        }
        for (Counted access : counted.subList(0, done.counted())) {
            works[access.core()].accesses.count(access.pc(), access.waited(), times);
        }
        chip.addBusy(done.busy() * times);
    }
}
