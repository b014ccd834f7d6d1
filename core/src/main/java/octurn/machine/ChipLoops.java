package octurn.machine;

import java.util.ArrayList;
import java.util.List;
import octurn.arbiter.Chooser;
import octurn.machine.Round.Mark;
import org.jspecify.annotations.Nullable;

/**
 * Finds out whether all that the cores do comes again and again, and makes a {@link ChipLoop} of it. Now and then it does
 * some hundred accesses one by one and notes them; if they are rounds of a loop, it goes round that.
 *
 * <p>Under every policy whose choice depends on the requests alone, and so not under the lottery, what follows is the same
 * until a core goes another way through its code.
 */
final class ChipLoops {

    /** So many accesses are noted before a loop is made of them, and after so many it is given up. */
    private static final int ENOUGH_ACCESSES = 512;

    private static final int MOST_ACCESSES = 1536;

    /** So many instructions and accesses are noted at the most. */
    private static final int MOST_STEPS = 8192;

    /** So many loops are kept. */
    private static final int MOST_KEPT = 16;

    /** An engine that has made so many makes no more: what it runs does not stay the same for long. */
    private static final int MOST_MADE = 256;

    /** It was worth while to go round if it was so often or more. */
    private static final int WORTH = 16;

    /** So many times it is tried again at once when it was not. */
    private static final int TRIES = 4;

    // In cycles, for each instruction that makes code busy (PrivateWork.HOT):

    /** From one search to the next, at first and at the most. */
    private static final int FIRST_INTERVAL = 100;

    private static final int MOST_INTERVAL = 1000;

    /**
     * To be run before a loop is made, for each step of it. That takes about as long without the
     * loop as it takes to compile the step, so that a run which ends soon after has lost no more than half of its time.
     */
    private static final double PATIENCE = 2.5;

    private final Chip chip;
    private final ClearEngine clear;
    private final Schedule schedule;
    private final PrivateWork[] works;
    private final int rotation;
    private final boolean draws;
    private final int hot;
    private final int enough;
    private final LoopNotes notes;

    private final List<ChipLoop> kept = new ArrayList<>();
    private int made;
    /** Not before this cycle is it looked for again. */
    private long next;

    private long interval;
    /** How often it was not worth while since it last was. */
    private int tries;

    /** The cycle at which the engine began. */
    private final long begun;
    /** Not before this cycle is a loop made of what was noted. */
    private long earliest;

    /** See {@link #cycles()}. */
    private long cycles;

    /**
     * @param hot how many instructions of busy code are done before it is translated
     */
    ChipLoops(Chip chip, ClearEngine clear, Schedule schedule, PrivateWork[] works, int hot) {
        Chooser chooser = clear.chooser;
        this.chip = chip;
        this.clear = clear;
        this.schedule = schedule;
        this.works = works;
        this.rotation = clear.rotation == null ? 1 : chip.design.rotationCycles();
        this.draws = chooser != null && chooser.draws();
        this.hot = hot;
        this.enough = Math.min(ENOUGH_ACCESSES, 8 * hot);
        this.notes = new LoopNotes(chip, clear, schedule, rotation);
        this.interval = (long) FIRST_INTERVAL * hot;
        this.begun = chip.cycle;
        this.next = begun + interval;
    }

    /** The chip is at this cycle now, which may be one that it has been at before. */
    void begin(long cycle) {
        next = Math.min(next, cycle + interval);
    }

    /** The cycle from which on it is worth while to look for a loop. */
    long next() {
        return draws ? Core.NEVER : next;
    }

    /** Whether a span of cycles without anything but accesses is long enough for one, and nothing is in the way. */
    boolean fitsIn(long from, long to) {
        return to - from > hot && (!clear.ownPort || chip.holders == 0);
    }

    /** How many cycles were gone round in loops. */
    long cycles() {
        return cycles;
    }

    /**
     * Goes on access by access, and round a loop when there is one. The schedule is open, and this core next on it.
     *
     * @return the cycle at which {@link Schedule#current} starts an instruction; or something below 0, if that is who is
     *     next
     */
    long go(PrivateWork first, long horizon) {
        PrivateWork mine = first;
        notes.clear();
        earliest = 0;
        for (int n = 0; n < MOST_ACCESSES && notes.size() < MOST_STEPS && earliest <= schedule.end; n++) {
            ChipLoop loop = find(schedule.moment(mine, schedule.end), n >= enough);
            if (loop != null) {
                return goRound(loop);
            }
            long time = notes.goOn(mine, horizon, MOST_STEPS);
            PrivateWork following = time < 0 ? schedule.next() : null;
            if (following == null) {
                giveUp(schedule.end);
                schedule.leave(time < 0 ? null : mine);
                return time;
            }
            notes.admitted(following.core);
            mine = following;
        }
        giveUp(schedule.end);
        schedule.leave(mine);
        return -1;
    }

    /** A loop that starts here. */
    private @Nullable ChipLoop find(Moment here, boolean isEnough) {
        for (ChipLoop loop : kept) {
            if (loop.startsAt(here, rotation) && notes.endWith(loop.round())) {
                return loop;
            }
        }
        Mark end = notes.mark(here) && isEnough && made < MOST_MADE ? notes.endOfRound() : null;
        if (end == null) {
            return null;
        }
        earliest = begun + (long) (PATIENCE * hot * end.steps());
        ChipLoop loop = here.time() < earliest ? null : notes.toLoop(end, works);
        if (loop != null) {
            made++;
            kept.add(loop);
            if (kept.size() > MOST_KEPT) {
                kept.remove(0).drop();
            }
        }
        return loop;
    }

    private long goRound(ChipLoop loop) {
        long begin = schedule.end;
        long left = loop.run(begin);
        long end = left < 0 ? schedule.end : left;
        cycles += end - begin;
        if (end - begin >= WORTH * loop.round().cycles()) {
            tries = 0;
            interval = hot;
            next = end;
        } else if (tries < TRIES) {
            tries++;
            next = end;
        } else {
            giveUp(end);
        }
        return left;
    }

    private void giveUp(long cycle) {
        tries = 0;
        interval = Math.min((long) MOST_INTERVAL * hot, 2 * interval);
        next = Math.max(earliest, cycle + interval);
    }
}
