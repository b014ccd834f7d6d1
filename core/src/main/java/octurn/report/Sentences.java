package octurn.report;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import octurn.arbiter.Rotation;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.isa.Codes;
import octurn.isa.Op;
import octurn.isa.Word;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.End;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.run.Moment;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.jspecify.annotations.Nullable;

/**
 * One cycle of a run in plain words: what a core is doing, since when, and until when; and whose turn it is. The words
 * are for a screen as well as for a screen reader or a log.
 *
 * <p>Names and text of the program come in as they are; who shows them has to see to it that they do no harm.
 */
public final class Sentences {

    private static final Set<Kind> BEGINS = Collections.unmodifiableSet(EnumSet.of(Kind.BEGIN));
    private static final Set<Kind> ENDS =
            Collections.unmodifiableSet(EnumSet.of(Kind.REQUEST, Kind.FINISH, Kind.FAULT, Kind.IDLE));

    private final Places places;
    private final Program program;
    private final Design design;
    private final @Nullable Rotation rotation;

    /** Sentences about runs of this program. */
    public Sentences(Program program) {
        this.places = new Places(program);
        this.program = program;
        this.design = program.design();
        this.rotation = design.admission() instanceof Admission.Rotation inTurn
                ? new Rotation(design.slotCycles(), inTurn.order(), design.cores())
                : null;
    }

    /** What the program calls its places. */
    public Places places() {
        return places;
    }

    /** The rule of slots in strict rotation, or null under the other policies. */
    public @Nullable Rotation rotation() {
        return rotation;
    }

    // ---- a core ----

    /** What a core is doing in the present cycle. */
    public String of(Moment moment, int number) {
        Chip chip = moment.chip();
        Core core = chip.core(number);
        String text = switch (core.state()) {
            case WORK -> work(moment, core);
            case WAIT, CODE_WAIT, LOAD_WAIT -> waits(moment, core);
            case SLOT, CODE_SLOT, LOAD_SLOT -> holds(moment, core);
            case SLEEP -> sleeps(moment, core);
            case IDLE -> idle(chip, core);
            case FAULT -> fault(chip, core);
        };
        return chip.ended() == null ? text : end(chip) + " " + text;
    }

    private String work(Moment moment, Core core) {
        long now = moment.cycle();
        int op = Word.op(core.word());
        StringBuilder text =
                new StringBuilder("Core %d works on %s".formatted(core.number(), place(moment.chip(), core)));
        Event begin = moment.last(core.number(), BEGINS);
        Event end = moment.next(core.number(), ENDS);
        long until = moment.until(core.number());
        if (begin != null && until > 0 && until - begin.cycle() > 1) {
            text.append(" (cycle %d of %d)".formatted(now - begin.cycle() + 1, until - begin.cycle()));
        }
        text.append('.');
        if (end != null && end.kind() == Kind.FAULT) {
            text.append(" That is a fault: from cycle %d on it does nothing any more.".formatted(end.cycle()));
        } else if (isAccess(op) && until > 0) {
            text.append(" From cycle %d on it asks for %s.".formatted(until, wanted(core, core.accessAddress())));
            if (rotation != null) {
                long slot = rotation.nextSlot(core.number(), until);
                text.append(
                        slot == Rotation.NEVER
                                ? " It has no slot in the order."
                                : slot == until
                                        ? " Its slot opens in that very cycle: it need not wait."
                                        : " Its slot opens at %d: that will be a wait of %s."
                                                .formatted(slot, cycles(slot - until)));
            }
        }
        return text.toString();
    }

    private String waits(Moment moment, Core core) {
        StringBuilder text = new StringBuilder(
                "Core %d asked for %s at cycle %d.".formatted(core.number(), request(core), core.requestCycle()));
        if (rotation != null) {
            text.append(' ').append(slotOpens(moment, core));
        } else {
            text.append(' ').append(line(moment, core));
        }
        return text.append(' ').append(where(moment.chip(), core)).toString();
    }

    private String slotOpens(Moment moment, Core core) {
        long asked = core.requestCycle();
        long slot = core.dueCycle();
        if (slot == Rotation.NEVER) {
            return "The order has no slot for it: it will never be admitted.";
        }
        long all = slot - asked;
        long left = slot - moment.cycle();
        return left == all
                ? "Its slot opens at %d: %s to wait.".formatted(slot, cycles(all))
                : "Its slot opens at %d: %d of %s still to wait.".formatted(slot, left, cycles(all));
    }

    /** Who is before it, under the policies that choose. */
    private String line(Moment moment, Core core) {
        Chip chip = moment.chip();
        List<Integer> others = new ArrayList<>(inLine(chip));
        others.remove((Integer) core.number());
        StringBuilder text = new StringBuilder();
        Integer holder = holders(chip).stream().findFirst().orElse(null);
        if (holder != null) {
            long until = moment.until(holder);
            text.append(
                    until < 0
                            ? "Core %d holds the memory".formatted(holder)
                            : "Core %d holds the memory until cycle %d".formatted(holder, until - 1));
        } else {
            text.append("The memory is free");
        }
        text.append(
                others.isEmpty()
                        ? "; nobody else is in line. "
                        : "; in line with it: core%s. ".formatted(numbers(others)));
        long admitted = moment.until(core.number());
        Event next = moment.next(core.number(), EnumSet.of(Kind.ADMIT, Kind.GIVE_UP));
        if (next != null && next.kind() == Kind.ADMIT) {
            text.append("It is admitted at cycle %d: %d of %s still to wait."
                    .formatted(admitted, admitted - moment.cycle(), cycles(admitted - core.requestCycle())));
        } else {
            text.append("It has waited %s, and is not admitted before cycle %d."
                    .formatted(cycles(moment.cycle() - core.requestCycle()), moment.to()));
        }
        return text.toString();
    }

    private String holds(Moment moment, Core core) {
        long since = core.stateSince();
        long wait = since - core.requestCycle();
        return "Core %d holds the memory for %s: cycle %d of %d. It %s. %s"
                .formatted(
                        core.number(),
                        request(core),
                        moment.cycle() - since + 1,
                        design.slotCycles(),
                        wait == 0 ? "did not have to wait" : "had waited " + cycles(wait),
                        where(moment.chip(), core));
    }

    private String sleeps(Moment moment, Core core) {
        long until = moment.until(core.number());
        String end = until < 0
                ? "That does not come before cycle %d.".formatted(moment.to())
                : "%s to go.".formatted(capital(cycles(until - moment.cycle())));
        if (Word.op(core.word()) == Codes.AWAIT) {
            int mask = core.register(Word.ra(core.word()));
            int wanted =
                    Word.hasConstant(core.word()) ? Word.constant(core.word()) : core.register(Word.low(core.word()));
            String come = until < 0 ? end : "That comes at cycle %d.".formatted(until);
            return "Core %d sleeps until %s. %s %s"
                    .formatted(core.number(), pins(mask, wanted), come, where(moment.chip(), core));
        }
        return until < 0
                ? "Core %d sleeps. %s %s".formatted(core.number(), end, where(moment.chip(), core))
                : "Core %d sleeps until cycle %d. %s %s"
                        .formatted(core.number(), until, end, where(moment.chip(), core));
    }

    private static String pins(int mask, int wanted) {
        if (Integer.bitCount(mask) == 1 && (wanted == 0 || wanted == mask)) {
            return "pin %d is %s".formatted(Integer.numberOfTrailingZeros(mask), wanted == 0 ? "low" : "high");
        }
        return "(pins and 0x%X) is 0x%X".formatted(mask, wanted);
    }

    private String idle(Chip chip, Core core) {
        if (core.stateSince() == 0 && core.instructions() == 0) {
            return program.core(core.number()) == null
                    ? "Core %d is idle: the program has no section for it, and no core has started it."
                            .formatted(core.number())
                    : "Core %d is idle.".formatted(core.number());
        }
        int line = places.line(core);
        String place = line == 0 ? "" : " in line " + line;
        return "Core %d is idle since cycle %d: %s%s."
                .formatted(core.number(), core.stateSince(), howItEnded(chip, core), place);
    }

    private static String howItEnded(Chip chip, Core core) {
        int word = wordAtPc(chip, core);
        return switch (Word.op(word)) {
            case Codes.HALT -> "it halted";
            case Codes.STOP -> core.register(Word.rd(word)) == core.number() ? "it stopped itself" : "it was stopped";
            default -> "it was stopped";
        };
    }

    private String fault(Chip chip, Core core) {
        Fault fault = core.fault();
        if (fault == null) {
            throw new IllegalStateException("core %d is in fault without one".formatted(core.number()));
        }
        boolean hasWord = fault.kind() != Fault.Kind.OFF_THE_END && fault.kind() != Fault.Kind.BAD_IMAGE;
        return "Core %d is in fault since cycle %d: %s.%s"
                .formatted(
                        core.number(),
                        fault.cycle(),
                        FaultMessages.sentence(fault, design),
                        hasWord ? " " + where(chip, core) : "");
    }

    /** What became of a core in fault, as a sentence without its full stop. */
    public String faultMessage(Core core) {
        Fault fault = core.fault();
        if (fault == null) {
            throw new IllegalArgumentException("core %d is not in fault".formatted(core.number()));
        }
        return FaultMessages.sentence(fault, design);
    }

    // ---- the turn ----

    /** Whose turn it is in the present cycle, and what comes of it. */
    public String turn(Moment moment) {
        Chip chip = moment.chip();
        long now = chip.cycle();
        List<Integer> holders = holders(chip);
        if (rotation != null) {
            int owner = rotation.owner(now);
            long into = now % design.slotCycles();
            boolean used = holders.contains(owner);
            return "Slot %d is core %d's, cycle %d of %d, and is %s."
                    .formatted(
                            now / design.slotCycles(),
                            owner,
                            into + 1,
                            design.slotCycles(),
                            used ? "in use" : "not used");
        }
        if (holders.isEmpty()) {
            return "The memory is free.";
        }
        List<Integer> line = inLine(chip);
        String waiting = line.isEmpty() ? "" : " In line: core%s.".formatted(numbers(line));
        if (holders.size() > 1) {
            return "Core%s each have an access under way.".formatted(numbers(holders)) + waiting;
        }
        Core holder = chip.core(holders.get(0));
        return "Core %d holds the memory, cycle %d of %d.%s"
                .formatted(holder.number(), now - holder.stateSince() + 1, design.slotCycles(), waiting);
    }

    /** Why the run has ended. */
    public String end(Chip chip) {
        End ended = chip.ended();
        if (ended == null) {
            return "";
        }
        String why = switch (ended) {
            case ALL_IDLE -> "every core is idle or in fault";
            case STUCK -> "it is stuck, nothing can ever happen again";
            case LIMIT -> "the cycle limit is reached";
        };
        return "The run has ended at cycle %d: %s.".formatted(chip.cycle(), why);
    }

    /** The cores that hold the memory, ascending; more than one under {@code own-port} alone. */
    public static List<Integer> holders(Chip chip) {
        return coresIn(chip, true);
    }

    /**
     * The cores whose requests are up, in the order in which they would be admitted if no others came: oldest first
     * under {@code first-come}, by place under {@code priority}, after the holder under {@code next-waiting}; ascending
     * where no such order is known.
     */
    public static List<Integer> inLine(Chip chip) {
        List<Integer> waiting = coresIn(chip, false);
        Admission admission = chip.design().admission();
        if (admission instanceof Admission.FirstCome) {
            waiting.sort((a, b) ->
                    Long.compare(chip.core(a).requestCycle(), chip.core(b).requestCycle()));
        } else if (admission instanceof Admission.Priority priority) {
            waiting.sort((a, b) -> Integer.compare(
                    priority.order().indexOf(a), priority.order().indexOf(b)));
        } else if (admission instanceof Admission.NextWaiting) {
            int cores = chip.design().cores();
            int last = chip.lastAdmitted();
            waiting.sort((a, b) -> Integer.compare((a - last - 1 + cores) % cores, (b - last - 1 + cores) % cores));
        }
        return waiting;
    }

    private static List<Integer> coresIn(Chip chip, boolean admitted) {
        List<Integer> cores = new ArrayList<>();
        for (int i = 0; i < chip.design().cores(); i++) {
            State state = chip.core(i).state();
            if (admitted ? state.isAdmitted() : state.isWaiting()) {
                cores.add(i);
            }
        }
        return cores;
    }

    // ---- parts ----

    /** What a request or a slot is for. */
    private String request(Core core) {
        long address = core.requestAddress();
        return switch (core.state()) {
            case CODE_WAIT, CODE_SLOT -> "its next instruction, in " + word(address);
            case LOAD_WAIT, LOAD_SLOT -> "a word of its image, " + word(address);
            default -> wanted(core, address);
        };
    }

    private String wanted(Core core, long address) {
        return switch (Word.op(core.word())) {
            case Codes.START -> "its turn to start a core";
            case Codes.STOP -> "its turn to stop a core";
            default -> word(address);
        };
    }

    /** A shared word: {@code shared word 40 (count)}. */
    String word(long address) {
        String name = places.sharedName(address);
        return "shared word " + Long.toUnsignedString(address) + (name.isEmpty() ? "" : " (" + name + ")");
    }

    /** The line and the instruction that a core is doing or about to do, as a sentence of its own. */
    private String where(Chip chip, Core core) {
        if (core.state() == State.LOAD_WAIT || core.state() == State.LOAD_SLOT) {
            return "It is being started.";
        }
        return capital(place(chip, core)) + ".";
    }

    /** {@code line 12: fetch r1, [count]}, or without a line {@code private word 12: ..}. */
    private String place(Chip chip, Core core) {
        int line = places.line(core);
        String address = Integer.toUnsignedString(core.pc());
        String place = line > 0 ? "line " + line : (core.pcInShared() ? "shared word " : "private word ") + address;
        return place + ": " + instruction(chip, core);
    }

    /** The instruction that a core is doing or about to do, or stands at. */
    public String instruction(Chip chip, Core core) {
        return places.instruction(core, core.pcInShared(), core.pc(), wordAtPc(chip, core));
    }

    /** The word of the instruction that a core is doing, or, while it does none, the one that lies at its place. */
    private static int wordAtPc(Chip chip, Core core) {
        boolean doesOne = switch (core.state()) {
            case WORK, WAIT, SLOT, SLEEP, FAULT -> true;
            case CODE_WAIT, CODE_SLOT, LOAD_WAIT, LOAD_SLOT, IDLE -> false;
        };
        int pc = core.pc();
        Design design = chip.design();
        if (doesOne || pc < 0 || pc >= (core.pcInShared() ? design.sharedWords() : design.privateWords())) {
            return core.word();
        }
        return core.pcInShared() ? chip.sharedWord(pc) : core.privateWord(pc);
    }

    private static boolean isAccess(int op) {
        Op known = Op.of(op);
        return known != null && known.isAccess();
    }

    static String numbers(List<Integer> numbers) {
        StringBuilder text = new StringBuilder(numbers.size() == 1 ? " " : "s ");
        for (int i = 0; i < numbers.size(); i++) {
            text.append(i == 0 ? "" : i == numbers.size() - 1 ? " and " : ", ").append(numbers.get(i));
        }
        return text.toString();
    }

    static String cycles(long cycles) {
        return cycles == 1 ? "1 cycle" : cycles + " cycles";
    }

    private static String capital(String text) {
        return text.isEmpty() ? text : Character.toUpperCase(text.charAt(0)) + text.substring(1);
    }
}
