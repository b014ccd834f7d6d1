package octurn.record;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;
import octurn.design.Design;
import octurn.isa.Codes;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.State;
import octurn.report.Places;
import octurn.report.Sentences;

/** Reads a recording, written from its description and not from the recorder; a chip known by nothing else. */
final class Playback {

    private static final String[] KINDS = {
        "begin", "begin other", "finish", "request", "admit", "give up", "state", "register",
        "shared", "private", "port", "loading", "start", "idle", "fault", "let go"
    };

    /** One change: of which core, when, what, with up to two numbers. */
    private record Change(long cycle, int core, String kind, long a, long b) {}

    private final Design design;
    private final List<Recorder.Instruction> instructions;
    private final List<Recorder.Message> messages;
    private final List<Change> changes = new ArrayList<>();
    private int next;

    private final State[] states;
    private final long[] since;
    private final long[] begun;
    private final long[] counted;
    private final long[] requestCycles;
    private final long[] requested;
    private final int[] instruction;
    private final int[] message;
    private final int[][] registers;
    private final int[][] rams;
    private final int[] shared;
    private final int[][] ports;
    private long levels;
    private long clashes;

    private byte[] bytes = {};
    private int at;

    Playback(Recorder recorder, byte[] start) {
        design = recorder.program().design();
        instructions = recorder.instructions();
        messages = recorder.messages();
        int cores = design.cores();
        states = new State[cores];
        since = new long[cores];
        begun = new long[cores];
        counted = new long[cores];
        requestCycles = new long[cores];
        requested = new long[cores];
        instruction = new int[cores];
        message = new int[cores];
        registers = new int[cores][16];
        rams = new int[cores][design.privateWords()];
        shared = new int[design.sharedWords()];
        ports = new int[cores][16];
        open(start);
        for (int core = 0; core < cores; core++) {
            states[core] = State.values()[bytes[at++]];
            instruction[core] = (int) number();
            message[core] = (int) number() - 1;
            since[core] = number();
            begun[core] = number();
            counted[core] = number();
            requestCycles[core] = number();
            requested[core] = word();
            for (int i = 0; i < 16; i++) {
                registers[core][i] = word();
            }
            ports[core][Codes.OUT] = (int) number();
            ports[core][Codes.DRIVE] = (int) number();
            for (int tally = 0; tally < 2; tally++) {
                for (int i = 0; i < 4; i++) {
                    ports[core][8 + 4 * tally + i] = word();
                }
            }
            for (int i = 0; i < rams[core].length; i++) {
                rams[core][i] = word();
            }
        }
        for (int i = 0; i < shared.length; i++) {
            shared[i] = word();
        }
        levels = number();
        clashes = number();
        number();
        number();
        if (at != bytes.length) {
            throw new AssertionError("bytes left over: " + (bytes.length - at));
        }
    }

    private void open(byte[] deflated) {
        Inflater inflater = new Inflater(true);
        inflater.setInput(deflated);
        byte[] all = new byte[1 << 16];
        int size = 0;
        try {
            while (!inflater.finished()) {
                if (size == all.length) {
                    all = Arrays.copyOf(all, 2 * size);
                }
                size += inflater.inflate(all, size, all.length - size);
            }
        } catch (DataFormatException e) {
            throw new AssertionError(e);
        } finally {
            inflater.end();
        }
        bytes = Arrays.copyOf(all, size);
        at = 0;
    }

    private long number() {
        long value = 0;
        for (int shift = 0; ; shift += 7) {
            long part = bytes[at++];
            value |= (part & 0x7F) << shift;
            if (part >= 0) {
                return value;
            }
        }
    }

    private int word() {
        int folded = (int) number();
        return (folded >>> 1) ^ -(folded & 1);
    }

    /** Takes in a block. */
    void block(long firstCycle, byte[] deflated) {
        open(deflated);
        List<Change> read = new ArrayList<>();
        for (int core = 0; core < design.cores(); core++) {
            lane(core, firstCycle, read);
        }
        long level = number();
        number();
        int end = (int) number();
        end += at;
        long cycle = firstCycle;
        while (at < end) {
            cycle += number();
            level ^= number();
            read.add(new Change(cycle, -1, "pins", level, number()));
        }
        if (at != bytes.length) {
            throw new AssertionError("bytes left over: " + (bytes.length - at));
        }
        read.sort(Comparator.comparingLong(Change::cycle).thenComparingInt(Change::core));
        changes.addAll(read);
    }

    private void lane(int core, long firstCycle, List<Change> read) {
        at++;
        int now = (int) number();
        int asked = word();
        int markEnd = (int) number();
        markEnd += at;
        int marksAt = at;
        at = markEnd;
        int valueEnd = (int) number();
        int valuesAt = at;
        valueEnd += valuesAt;
        int[] last = new int[4096];
        int[] step = new int[4096];
        int[] followers = new int[1024];
        long cycle = firstCycle;
        at = marksAt;
        while (at < markEnd) {
            int head = bytes[at++] & 0xFF;
            cycle += head >> 5 == 7 ? number() : head >> 5;
            String kind = KINDS[head & 31];
            long a = 0;
            int[] channels = {};
            switch (kind) {
                case "begin" -> a = followers[now % 1024] - 1L;
                case "begin other" -> {
                    a = number();
                    followers[now % 1024] = (int) a + 1;
                }
                case "request" -> {
                    a = bytes[at++];
                    channels = new int[] {1};
                }
                case "state" -> a = bytes[at++];
                case "register" -> {
                    a = bytes[at++];
                    channels = new int[] {0};
                }
                case "shared" -> channels = new int[] {-1, 3};
                case "private" -> channels = new int[] {2, 3};
                case "port" -> {
                    a = bytes[at++];
                    channels = new int[] {3};
                }
                case "loading" -> a = number();
                case "idle", "fault" -> a = number();
                default -> {
                    // No number follows.
                }
            }
            long b = switch (kind) {
                case "loading" -> word();
                case "idle", "fault" -> number();
                default -> 0;
            };
            int marksNow = at;
            at = valuesAt;
            int[] values = new int[2];
            for (int i = 0; i < channels.length; i++) {
                int miss = word();
                if (channels[i] < 0) {
                    values[i] = asked + miss;
                } else {
                    int place = 4 * (now % 1024) + channels[i];
                    values[i] = last[place] + step[place] + miss;
                    step[place] = values[i] - last[place];
                    last[place] = values[i];
                }
            }
            valuesAt = at;
            at = marksNow;
            switch (kind) {
                case "begin", "begin other" -> {
                    now = (int) a;
                    kind = "begin";
                }
                case "idle", "fault" -> now = (int) b;
                case "request" -> {
                    asked = values[0];
                    b = values[0];
                }
                case "register", "port" -> b = values[0];
                case "shared", "private" -> {
                    a = values[0];
                    b = values[1];
                }
                default -> {
                    // Needs nothing more.
                }
            }
            read.add(new Change(cycle, core, kind, a, b));
        }
        if (valuesAt != valueEnd) {
            throw new AssertionError("values left over");
        }
        at = valueEnd;
    }

    /** Goes on to the beginning of this cycle. */
    void moveTo(long cycle) {
        while (next < changes.size() && changes.get(next).cycle() <= cycle) {
            apply(changes.get(next++));
        }
    }

    private void enter(int core, State state, long cycle) {
        if (states[core] != state) {
            since[core] = cycle;
        }
        states[core] = state;
    }

    private void apply(Change change) {
        int core = change.core();
        long cycle = change.cycle();
        switch (change.kind()) {
            case "begin" -> {
                instruction[core] = (int) change.a();
                begun[core] = cycle;
                enter(core, State.WORK, cycle);
            }
            case "finish" -> counted[core] = cycle;
            case "request" -> {
                enter(core, State.values()[(int) change.a()], cycle);
                requestCycles[core] = cycle;
                requested[core] = change.b();
            }
            case "admit" -> enter(core, State.values()[states[core].ordinal() + 1], cycle);
            case "state" -> enter(core, State.values()[(int) change.a()], cycle);
            case "register" -> registers[core][(int) change.a()] = (int) change.b();
            case "shared" -> shared[(int) change.a()] = (int) change.b();
            case "private" -> rams[core][(int) change.a()] = (int) change.b();
            case "port" -> ports[core][(int) change.a()] = (int) change.b();
            case "loading" -> {
                Arrays.fill(registers[core], 0);
                Arrays.fill(rams[core], 0);
                instruction[core] = Recorder.NONE;
                counted[core] = cycle;
            }
            case "start" -> {
                counted[core] = cycle;
                enter(core, State.WORK, cycle);
            }
            case "idle" -> {
                instruction[core] = (int) change.b();
                enter(core, State.IDLE, cycle);
            }
            case "fault" -> {
                message[core] = (int) change.a();
                instruction[core] = (int) change.b();
                enter(core, State.FAULT, cycle);
            }
            case "let go" -> Arrays.fill(ports[core], 0);
            case "pins" -> {
                levels = change.a();
                clashes = change.b();
            }
            case "give up" -> {
                // Its core becomes idle.
            }
            default -> throw new AssertionError(change);
        }
    }

    /** What is known of the chip, as text. */
    String text() {
        StringBuilder text = new StringBuilder("pins %x %x%n".formatted(levels, clashes));
        for (int core = 0; core < states.length; core++) {
            State state = states[core];
            Recorder.Instruction at = instructions.get(instruction[core]);
            text.append("core %d %s since %d registers %s out %x drive %x"
                    .formatted(
                            core,
                            state,
                            since[core],
                            Arrays.toString(registers[core]),
                            ports[core][Codes.OUT],
                            ports[core][Codes.DRIVE]));
            for (int tally = 0; tally < 2; tally++) {
                int base = tally == 0 ? Codes.MODE0 : Codes.MODE1;
                text.append(
                        " tally %x %d %d".formatted(ports[core][base], ports[core][base + 1], ports[core][base + 2]));
            }
            if (state.isWaiting()) {
                text.append(" asked at ").append(requestCycles[core]);
            }
            if (state.isWaiting() || state.isAdmitted()) {
                text.append(" for ").append(requested[core]);
            }
            if (doesOne(state) || (state == State.IDLE && instruction[core] != Recorder.NONE)) {
                text.append(" line ").append(at.line()).append(": ").append(at.text());
            }
            if (state == State.FAULT) {
                text.append(' ').append(messages.get(message[core]).text());
            }
            text.append(" ram ").append(Arrays.hashCode(rams[core])).append(System.lineSeparator());
        }
        return text.append("shared ").append(Arrays.hashCode(shared)).toString();
    }

    private static boolean doesOne(State state) {
        return switch (state) {
            case WORK, WAIT, SLOT, SLEEP, FAULT -> true;
            case CODE_WAIT, CODE_SLOT, LOAD_WAIT, LOAD_SLOT, IDLE -> false;
        };
    }

    /** The same of a real chip. */
    static String text(Chip chip, Sentences sentences) {
        Design design = chip.design();
        Places places = sentences.places();
        StringBuilder text = new StringBuilder("pins %x %x%n".formatted(chip.pinLevels(), chip.pinClashes()));
        for (int number = 0; number < design.cores(); number++) {
            Core core = chip.core(number);
            State state = core.state();
            int[] registers = new int[16];
            Arrays.setAll(registers, core::register);
            text.append("core %d %s since %d registers %s out %x drive %x"
                    .formatted(number, state, core.stateSince(), Arrays.toString(registers), core.out(), core.drive()));
            for (int tally = 0; tally < 2; tally++) {
                text.append(" tally %x %d %d"
                        .formatted(core.tallyMode(tally), core.tallySpan(tally), core.tallyLevel(tally)));
            }
            if (state.isWaiting()) {
                text.append(" asked at ").append(core.requestCycle());
            }
            if (state.isWaiting() || state.isAdmitted()) {
                text.append(" for ").append((int) core.requestAddress());
            }
            boolean never = core.stateSince() == 0 && core.instructions() == 0;
            if (doesOne(state) || (state == State.IDLE && !never)) {
                text.append(" line ").append(places.line(core)).append(": ");
                text.append(sentences.instruction(chip, core));
            }
            if (state == State.FAULT) {
                text.append(' ').append(sentences.faultMessage(core));
            }
            int[] ram = new int[design.privateWords()];
            Arrays.setAll(ram, core::privateWord);
            text.append(" ram ").append(Arrays.hashCode(ram)).append(System.lineSeparator());
        }
        int[] shared = new int[design.sharedWords()];
        Arrays.setAll(shared, chip::sharedWord);
        return text.append("shared ").append(Arrays.hashCode(shared)).toString();
    }
}
