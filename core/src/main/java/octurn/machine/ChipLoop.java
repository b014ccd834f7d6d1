package octurn.machine;

import octurn.isa.Codes;
import octurn.isa.Word;

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

    private final Chip chip;
    private final Schedule schedule;
    /** By core; for the code, too. */
    final PrivateWork[] works;

    /** For the code. */
    final int[] shared;

    private final Round round;
    /** Cores that are never admitted in it. */
    private final int starved;

    /** By core: the instructions that it does. */
    private final CodeWords[] words;

    private final Code code;

    /** See {@link Code#run}. */
    long base;

    ChipLoop(Chip chip, Schedule schedule, PrivateWork[] works, Round round, CodeWords[] words, Code code) {
        this.chip = chip;
        this.schedule = schedule;
        this.works = works;
        this.shared = chip.shared;
        this.round = round;
        this.starved = round.start().waitingUntil(round.end().moment());
        this.words = words;
        this.code = code;
        for (int core = 0; core < words.length; core++) {
            works[core].keep(words[core]);
        }
    }

    /** Whether it can be gone round from here. */
    boolean startsAt(Moment here, int rotation) {
        return round.start().isLike(here, rotation, starved) && holds();
    }

    /** Whether the cores still have the instructions that it was made from. */
    private boolean holds() {
        for (int core = 0; core < words.length; core++) {
            if (!works[core].keeps(words[core])) {
                return false;
            }
        }
        return true;
    }

    /** It is not gone round any more. */
    void drop() {
        for (int core = 0; core < words.length; core++) {
            works[core].letGo(words[core]);
        }
    }

    /** What is done in it. */
    Round round() {
        return round;
    }

    /**
     * Goes round from this cycle, at a moment like its start, as long as all that a round has to do with comes before the
     * cycle up to which the schedule is open. Leaves all as if it had been done access by access.
     *
     * @return the cycle at which {@link Schedule#current} starts an instruction; or something below 0, if that is who is
     *     next
     */
    long run(long from) {
        long last = schedule.until() - 1 - round.reach();
        base = from;
        int step = WHOLE;
        while (step == WHOLE && base <= last) {
            step = code.run(this, base, Math.min(last, base + ROUNDS * round.cycles()));
        }
        count(round.end(), (base - from) / round.cycles());
        Round.Mark exit = step == WHOLE ? null : round.steps().get(step).exit();
        if (exit == null) {
            goTo(round.start());
            schedule.end = base;
            return -1;
        }
        count(exit, 1);
        goTo(exit.moment());
        return exit.moment().time() + base - round.start().time();
    }

    private void goTo(Moment moment) {
        schedule.goTo(moment, base - round.start().time(), starved);
        schedule.leave(works[moment.current()]);
    }

    /** What was done so many times up to there. */
    private void count(Round.Mark done, long times) {
        if (times == 0) {
            return;
        }
        int plain = chip.design.cost().plain();
        for (Round.Step step : round.steps().subList(0, done.steps())) {
            Core core = works[step.core()].core;
            int op = Word.op(step.word());
            core.instructions += step.finishes() ? times : 0;
            if (op == Codes.PAUSE || op == Codes.UNTIL) {
                core.spend(State.SLEEP, (step.cycles() - plain) * times);
            }
        }
        for (Round.Counted access : round.counted().subList(0, done.counted())) {
            works[access.core()].accesses.count(access.pc(), access.waited(), times);
        }
        chip.addBusy(done.busy() * times);
    }
}
