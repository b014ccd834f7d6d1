package octurn.cli.export;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.isa.Port;
import octurn.machine.State;
import octurn.signal.PinFold;
import octurn.signal.PinState;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * Writes the signals of a run as a value change dump (IEEE 1364-2005, clause 18), while it goes: it listens to the run
 * from cycle 0 on and keeps the present cycle alone.
 *
 * <p>A cycle begins with the rise of the clock, and all that changes changes then. A pin is 0 or 1 where a core or the
 * outside gives it a level, z where nobody does, x where outputs fight. The last line is the time at which the run ends.
 */
public final class ValueChangeDump implements Sink {

    private static final int CHUNK = 1 << 13;
    private static final long NEVER = Long.MAX_VALUE;

    private final Contents contents;
    private final Design design;
    private final long from;
    private final OutputStream out;
    private final Timescale timescale;
    private final StringBuilder text = new StringBuilder(2 * CHUNK);
    private final PinFold fold;

    private final List<Signal> signals = new ArrayList<>();
    private final List<Signal> dirty = new ArrayList<>();
    private final @Nullable Signal clock;
    private final @Nullable Signal slotOwner;
    private final @Nullable Signal holders;
    private final CoreSignals[] cores;
    private final Signal[] pins;
    private final @Nullable Signal levels;
    private final @Nullable Signal clashes;
    private final @Nullable Signal outside;

    private long cycle;
    private boolean begun;
    private boolean over;
    private long changes;
    private int coresHolding;

    /** What is written. */
    public enum Contents {
        /** Clock, slots, cores and pins. */
        ALL,
        /** The same without the clock and the slot's owner, which change even if nothing happens. */
        NO_CLOCK,
        /** The pins alone, each a wire of one bit. */
        PINS_ONLY
    }

    /**
     * One variable. Its value is in three masks: bits that are 1, bits that are z, bits that are x.
     *
     * <p>Values in the file are the last ones that were written; those here may be newer.
     */
    private static final class Signal {
        private final String code;
        private final int width;
        private long ones;
        private long opens;
        private long unknowns;
        private long writtenOnes;
        private long writtenOpens;
        private long writtenUnknowns;
        private boolean isDirty;

        Signal(String code, int width) {
            this.code = code;
            this.width = width;
        }

        boolean isChanged() {
            return ones != writtenOnes || opens != writtenOpens || unknowns != writtenUnknowns;
        }

        private char bit(int i) {
            if ((opens >>> i & 1) != 0) {
                return 'z';
            }
            if ((unknowns >>> i & 1) != 0) {
                return 'x';
            }
            return (ones >>> i & 1) != 0 ? '1' : '0';
        }

        void write(StringBuilder text) {
            if (width == 1) {
                text.append(bit(0)).append(code).append('\n');
            } else {
                // The shortest form: what is missing on the left is filled up with 0, or with x or z if that is
                // leftmost.
                int top = width - 1;
                while (top > 0
                        && bit(top) != '1'
                        && (bit(top) == bit(top - 1) || (bit(top) == '0' && bit(top - 1) == '1'))) {
                    top--;
                }
                text.append('b');
                for (int i = top; i >= 0; i--) {
                    text.append(bit(i));
                }
                text.append(' ').append(code).append('\n');
            }
            writtenOnes = ones;
            writtenOpens = opens;
            writtenUnknowns = unknowns;
        }
    }

    /** The variables of one core. */
    private record CoreSignals(
            Signal state,
            Signal pc,
            Signal inShared,
            Signal request,
            Signal waiting,
            Signal admitted,
            Signal waited,
            @Nullable Signal drive) {}

    /** The first cycle after a request's last one, for each core: the one after its admission. */
    private final long[] requestEnds;

    private ValueChangeDump(Program program, Scenario scenario, Contents contents, long from, OutputStream out) {
        this.design = program.design();
        this.contents = contents;
        this.from = from;
        this.out = out;
        this.timescale = Timescale.of(design.clock().chipHertz());
        this.fold = new PinFold(design, scenario, this::pin);
        this.requestEnds = new long[design.cores()];
        boolean all = contents == Contents.ALL;
        boolean inner = contents != Contents.PINS_ONLY;
        boolean inTurn = design.admission() instanceof Admission.Rotation;
        line("$comment Octurn: %s, %s $end".formatted(harmless(program.name()), timescaleNote()));
        line("$timescale %s $end".formatted(timescale.text()));
        if (inner) {
            comment("state: " + stateNumbers());
            comment("A pin is z where nobody gives it a level (a core reads 0), x where outputs fight.");
        }
        line("$scope module chip $end");
        this.clock = all ? variable("clock", 1) : null;
        this.slotOwner = all && inTurn ? variable("slot_owner", bitsFor(design.cores() - 1)) : null;
        this.holders = inner ? variable("holders", design.cores()) : null;
        this.cores = new CoreSignals[inner ? design.cores() : 0];
        for (int core = 0; core < cores.length; core++) {
            requestEnds[core] = NEVER;
            line("$scope module core%d $end".formatted(core));
            cores[core] = new CoreSignals(
                    variable("state", 4),
                    variable("pc", Integer.SIZE),
                    variable("pc_in_shared", 1),
                    variable("request", 1),
                    variable("waiting", 1),
                    variable("admitted", 1),
                    variable("waited_cycles", Long.SIZE),
                    design.pins() == 0 ? null : variable("drive", design.pins()));
            line("$upscope $end");
            set(cores[core].state(), State.IDLE.ordinal());
            cores[core].waited().unknowns = -1;
        }
        this.pins = new Signal[design.pins()];
        boolean vectors = inner && design.pins() > 0;
        if (design.pins() > 0) {
            line("$scope module pins $end");
        }
        for (int pin = 0; pin < pins.length; pin++) {
            pins[pin] = variable("pin" + pin, 1);
        }
        this.levels = vectors ? variable("levels", design.pins()) : null;
        this.clashes = vectors ? variable("clashes", design.pins()) : null;
        this.outside = vectors ? variable("outside", design.pins()) : null;
        if (design.pins() > 0) {
            line("$upscope $end");
        }
        line("$upscope $end");
        line("$enddefinitions $end");
        for (Block block : program.blocks()) {
            if (inner && block.kind() == Block.Kind.CORE) {
                block.cores().forEach(core -> set(cores[core].state(), State.WORK.ordinal()));
            }
        }
        beginCycle();
    }

    /**
     * Begins a dump; what was before a cycle is not written.
     *
     * @param from the first cycle that is written
     */
    public static ValueChangeDump begin(
            Program program, Scenario scenario, Contents contents, long from, OutputStream out) {
        return new ValueChangeDump(program, scenario, contents, from, out);
    }

    /**
     * Ends the dump of a run that has come to this cycle. The stream stays open.
     *
     * @throws IOException if the stream does
     */
    public void end(long to) throws IOException {
        try {
            if (!over) {
                fold.close(to);
                upTo(to);
            }
            if (begun) {
                stamp(2 * cycle);
            } else {
                dumpAll(cycle);
            }
            out.write(text.toString().getBytes(StandardCharsets.US_ASCII));
            text.setLength(0);
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }

    /** The unit of time, as {@code 1 ps}. */
    public String unit() {
        return timescale.text();
    }

    /** Whether the times of all cycles are exact in that unit; else each is rounded to the nearest. */
    public boolean isExact() {
        return timescale.isExact();
    }

    /** The variables in the file. */
    public int variables() {
        return signals.size();
    }

    /** The value changes written so far. */
    public long changes() {
        return changes;
    }

    // ---- declarations

    private String timescaleNote() {
        return "clock %d Hz, times %s"
                .formatted(
                        design.clock().chipHertz(),
                        timescale.isExact() ? "exact" : "rounded to the nearest unit, each by itself");
    }

    private static String stateNumbers() {
        StringBuilder numbers = new StringBuilder();
        for (State state : State.values()) {
            numbers.append(state.ordinal() == 0 ? "" : ", ")
                    .append(state.ordinal())
                    .append(' ')
                    .append(state.text());
        }
        return numbers.toString();
    }

    /** A name from outside can hold anything; in a comment of the file it must not. */
    private static String harmless(String name) {
        return name.replaceAll("[^A-Za-z0-9._+-]", "_");
    }

    private void comment(String words) {
        line("$comment " + words + " $end");
    }

    private Signal variable(String name, int width) {
        StringBuilder code = new StringBuilder();
        for (int rest = signals.size(); rest >= 0; rest = rest / 94 - 1) {
            code.append((char) ('!' + rest % 94));
        }
        Signal signal = new Signal(code.toString(), width);
        signals.add(signal);
        String range = width == 1 ? "" : " [%d:0]".formatted(width - 1);
        line("$var wire %d %s %s%s $end".formatted(width, code, name, range));
        return signal;
    }

    private static int bitsFor(int number) {
        return Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(number));
    }

    // ---- what happens

    @Override
    public void event(Kind kind, long at, int core, long a, long b) {
        if (over) {
            return;
        }
        if (at > cycle) {
            fold.close(at);
            upTo(at);
        }
        fold.event(kind, at, core, a, b);
        if (kind == Kind.END) {
            over = true;
        } else if (contents != Contents.PINS_ONLY) {
            inner(kind, core, a, b);
        }
    }

    private void inner(Kind kind, int core, long a, long b) {
        if (core < 0) {
            if (kind == Kind.PINS && levels != null && clashes != null) {
                set(levels, a);
                set(clashes, b);
            }
            return;
        }
        CoreSignals signals = cores[core];
        switch (kind) {
            case STATE -> state(core, State.values()[(int) a]);
            case BEGIN -> place(signals, a);
            case FAULT -> place(signals, b);
            case LOADING, START -> place(signals, 0);
            case REQUEST -> {
                set(signals.request(), 1);
                requestEnds[core] = NEVER;
                if (a == State.CODE_WAIT.ordinal()) {
                    place(signals, Kind.place((int) b, true));
                }
            }
            case ADMIT -> {
                set(signals.waited(), a);
                requestEnds[core] = cycle + 1;
            }
            case GIVE_UP -> {
                set(signals.request(), 0);
                requestEnds[core] = NEVER;
            }
            case PORT -> {
                if (a == Port.DRIVE.code()) {
                    drive(signals, b);
                }
            }
            case LET_GO -> drive(signals, 0);
            default -> {
                // Nothing that is shown.
            }
        }
    }

    private void state(int core, State state) {
        CoreSignals signals = cores[core];
        set(signals.state(), state.ordinal());
        set(signals.waiting(), state.isWaiting() ? 1 : 0);
        set(signals.admitted(), state.isAdmitted() ? 1 : 0);
        coresHolding = state.isAdmitted() ? coresHolding | 1 << core : coresHolding & ~(1 << core);
        if (holders != null) {
            set(holders, Integer.toUnsignedLong(coresHolding));
        }
    }

    private void place(CoreSignals signals, long place) {
        set(signals.pc(), Integer.toUnsignedLong(Kind.address(place)));
        set(signals.inShared(), Kind.inShared(place) ? 1 : 0);
    }

    private void drive(CoreSignals signals, long mask) {
        if (signals.drive() != null) {
            set(signals.drive(), mask & Integer.toUnsignedLong(design.pinMask()));
        }
    }

    private void pin(int pin, long at, PinState state) {
        upTo(at);
        boolean known = !state.isOpen() && !state.clash();
        set(pins[pin], known && state.high() ? 1 : 0, state.isOpen() ? 1 : 0, state.clash() ? 1 : 0);
        if (outside != null) {
            long bit = 1L << pin;
            set(
                    outside,
                    state.outside() == 1 ? outside.ones | bit : outside.ones & ~bit,
                    state.outside() == Input.NOTHING ? outside.opens | bit : outside.opens & ~bit,
                    0);
        }
    }

    private void set(Signal signal, long value) {
        set(signal, value, 0, 0);
    }

    private void set(Signal signal, long ones, long opens, long unknowns) {
        signal.ones = ones;
        signal.opens = opens;
        signal.unknowns = unknowns;
        if (!signal.isDirty) {
            signal.isDirty = true;
            dirty.add(signal);
        }
    }

    // ---- time

    /** Writes all cycles before this one. */
    private void upTo(long to) {
        while (cycle < to) {
            writeCycle();
            cycle = Math.min(to, nextByItself());
            beginCycle();
        }
    }

    /** The next cycle at which something changes by itself, or the dump begins. */
    private long nextByItself() {
        if (clock != null && cycle >= from) {
            return cycle + 1;
        }
        long next = cycle < from ? from : NEVER;
        for (long end : requestEnds) {
            next = end > cycle ? Math.min(next, end) : next;
        }
        return next;
    }

    /** What changes by itself at the beginning of a cycle. */
    private void beginCycle() {
        if (slotOwner != null && design.admission() instanceof Admission.Rotation rotation) {
            long slot = cycle / design.slotCycles();
            set(slotOwner, rotation.order().get((int) (slot % rotation.order().size())));
        }
        for (int core = 0; core < cores.length; core++) {
            if (requestEnds[core] == cycle) {
                set(cores[core].request(), 0);
                requestEnds[core] = NEVER;
            }
        }
    }

    private void writeCycle() {
        if (cycle < from) {
            return;
        }
        if (!begun) {
            dumpAll(cycle);
        } else {
            writeChanges();
        }
        if (clock != null) {
            stamp(2 * cycle + 1);
            clock.ones = 0;
            write(clock);
        }
    }

    private void writeChanges() {
        boolean stamped = false;
        if (clock != null) {
            set(clock, 1);
        }
        for (Signal signal : dirty) {
            if (signal.isChanged()) {
                if (!stamped) {
                    stamp(2 * cycle);
                    stamped = true;
                }
                write(signal);
            }
            signal.isDirty = false;
        }
        dirty.clear();
    }

    private void dumpAll(long at) {
        begun = true;
        stamp(2 * at);
        line("$dumpvars");
        if (clock != null) {
            clock.ones = 1;
        }
        signals.forEach(this::write);
        line("$end");
        dirty.forEach(signal -> signal.isDirty = false);
        dirty.clear();
    }

    private void write(Signal signal) {
        signal.write(text);
        changes++;
    }

    private void stamp(long halfCycles) {
        line("#" + timescale.at(halfCycles));
    }

    private void line(String line) {
        text.append(line).append('\n');
        if (text.length() >= CHUNK) {
            try {
                out.write(text.toString().getBytes(StandardCharsets.US_ASCII));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            text.setLength(0);
        }
    }
}
