package octurn.machine;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import octurn.isa.Codes;
import octurn.isa.Word;
import octurn.machine.Round.Counted;
import octurn.machine.Round.Mark;
import octurn.machine.Round.Step;
import org.jspecify.annotations.Nullable;

/** What the cores do, access by access, noted while they do it: what a {@link ChipLoop} is made from. */
final class LoopNotes {

    private final Chip chip;
    private final ClearEngine clear;
    private final Schedule schedule;
    private final int rotation;
    private final int plain;
    private final int slotCycles;

    private final List<Step> steps = new ArrayList<>();
    private final List<Counted> counted = new ArrayList<>();
    /** The moments that were like the first, which is one of them. */
    private final List<Mark> marks = new ArrayList<>();

    private long busyBefore;

    /**
     * @param rotation after how many cycles the same turns come again
     */
    LoopNotes(Chip chip, ClearEngine clear, Schedule schedule, int rotation) {
        this.chip = chip;
        this.clear = clear;
        this.schedule = schedule;
        this.rotation = rotation;
        this.plain = chip.design.cost().plain();
        this.slotCycles = chip.design.slotCycles();
    }

    /** Forgets all. */
    void clear() {
        steps.clear();
        counted.clear();
        marks.clear();
        busyBefore = chip.busyCycles();
    }

    /** How many steps were noted. */
    int size() {
        return steps.size();
    }

    /** Notes that this moment has come; whether it is like the first one. */
    boolean mark(Moment here) {
        Moment first = marks.isEmpty() ? here : marks.get(0).moment();
        boolean again = first.isLike(here, rotation, first.waitingUntil(here));
        if (again) {
            marks.add(markAt(here));
        }
        return again;
    }

    private Mark markAt(Moment moment) {
        return new Mark(moment, steps.size(), counted.size(), clear.ownPort ? chip.busyCycles() - busyBefore : 0);
    }

    /** Under the policies that choose: this core was admitted. */
    void admitted(Core core) {
        if (clear.chooser != null) {
            counted.add(new Counted(core.number, core.pc, schedule.admission() - chip.requestCycles[core.number]));
        }
    }

    // ---- doing it ----

    /**
     * Does the end of an access and what the core does then, up to the access that it asks for next, as long as there are
     * no more than so many steps. The schedule is open.
     *
     * @return the cycle at which the core starts an instruction that is not done here; or something below 0 after an
     *     access was asked for
     */
    long goOn(PrivateWork mine, long horizon, int most) {
        Core core = mine.core;
        long time = schedule.end;
        steps.add(new Step(core.number, core.pc, core.ram[core.pc], true, time, 0, core.pc + 1, null));
        mine.accesses.end(clear, time);
        long until = schedule.close();
        boolean done = true;
        while (time >= 0 && done && steps.size() < most) {
            long next = step(mine, time, horizon);
            done = next != time;
            time = next;
        }
        schedule.open(until);
        return time;
    }

    /** One instruction; if it is none that can be done here, the time stays as it is. */
    private long step(PrivateWork mine, long time, long horizon) {
        Core core = mine.core;
        int pc = core.pc;
        int word = pc >= 0 && pc < core.ram.length ? core.ram[pc] : 0;
        if (!Translator.isTranslated(word) || leadsOnEitherWay(word)) {
            return time;
        }
        Mark exit = isSure(word) ? null : markAt(schedule.moment(mine, time));
        long next = mine.step(time, horizon);
        if (next != time) {
            boolean asks = next < 0;
            if (asks && clear.chooser == null) {
                long turn = -next - slotCycles;
                counted.add(new Counted(core.number, pc, turn - (time + plain)));
            }
            long cycles = asks ? -next + slotCycles - time : next - time;
            steps.add(new Step(core.number, pc, word, false, time, cycles, core.pc, exit));
        }
        return next;
    }

    /** Whether it is a conditional jump to the next instruction: which way it went cannot be told from where it led. */
    private static boolean leadsOnEitherWay(int word) {
        return switch (Word.op(word)) {
            case Codes.JUMP_IF -> Word.branchOffset(word) == 1;
            case Codes.AGAIN -> Word.wide(word) == 1;
            default -> false;
        };
    }

    /** Whether a core goes on in the same way after this instruction whatever its registers hold. */
    private static boolean isSure(int word) {
        return switch (Word.op(word)) {
            // A store can hit code.
            case Codes.JUMP_IF, Codes.AGAIN, Codes.UNTIL, Codes.STORE -> false;
            case Codes.JUMP, Codes.CALL, Codes.NEAR -> Word.jumpHasTarget(word);
            case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP, Codes.LOAD -> !Word.hasConstant(word);
            case Codes.DIV, Codes.REM, Codes.PAUSE -> Word.hasConstant(word);
            default -> true;
        };
    }

    // ---- what came of it ----

    /** Where the shortest round ends of which all that was noted are two or more; null if there is none. */
    @Nullable
    Mark endOfRound() {
        for (Mark end : marks) {
            long cycles = end.moment().time() - marks.get(0).moment().time();
            if (end.steps() > 0 && rounds(end) >= 2 && comeAgain(steps, end.steps(), cycles)) {
                return end;
            }
        }
        return null;
    }

    /** How many rounds the notes are if the first ends there; 0 if the last is not complete. */
    private int rounds(Mark end) {
        return steps.size() % end.steps() == 0 ? steps.size() / end.steps() : 0;
    }

    /**
     * Whether what was noted last is this round, just over. Moments alike are not enough: a loop in a loop comes to the
     * same times in each of its turns.
     */
    boolean endWith(Round round) {
        int from = steps.size() - round.steps().size();
        return from >= 0
                && comeAgain(
                        round.steps(),
                        from,
                        steps.get(from).time() - round.start().time());
    }

    /** Whether these steps come again from that number on to the end, so many cycles later. */
    private boolean comeAgain(List<Step> earlier, int from, long cyclesLater) {
        for (int i = from; i < steps.size(); i++) {
            if (!earlier.get(i - from).comesAgainIn(steps.get(i), cyclesLater)) {
                return false;
            }
        }
        return true;
    }

    /** A loop of the round that ends there; null if cores changed their code in it. */
    @Nullable
    ChipLoop toLoop(Mark end, PrivateWork[] works) {
        Round round =
                new Round(marks.get(0).moment(), steps.subList(0, end.steps()), counted.subList(0, end.counted()), end);
        CodeWords[] words = new CodeWords[works.length];
        for (Core core : chip.cores) {
            SortedSet<Integer> addresses = new TreeSet<>();
            for (Step step : round.steps()) {
                if (step.core() == core.number) {
                    if (core.ram[step.address()] != step.word()) {
                        return null;
                    }
                    addresses.add(step.address());
                }
            }
            words[core.number] = new CodeWords(core.ram, addresses);
        }
        return new ChipLoop(chip, schedule, works, round, words, new ChipLoopWriter(chip, round).write());
    }
}
