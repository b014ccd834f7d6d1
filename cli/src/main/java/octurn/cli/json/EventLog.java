package octurn.cli.json;

import java.util.Locale;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.isa.Disassembler;
import octurn.isa.Port;
import octurn.machine.End;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.trace.Kind;
import octurn.trace.Sink;
import tools.jackson.core.JsonGenerator;

/**
 * Writes what happens in a run, while it goes: one JSON object an event, with words for what are numbers to the engine.
 * It keeps nothing.
 */
public final class EventLog implements Sink {

    private static final State[] STATES = State.values();

    private final JsonGenerator json;

    /**
     * A log of a run of this program. The cores that the program starts with are told first: no event tells of them,
     * since the run begins with them at work.
     */
    public EventLog(Program program, JsonGenerator json) {
        this.json = json;
        for (int core = 0; core < program.design().cores(); core++) {
            if (startsAtWork(program, core)) {
                event(Kind.STATE, 0, core, State.WORK.ordinal(), State.IDLE.ordinal());
            }
        }
    }

    private static boolean startsAtWork(Program program, int core) {
        return program.blocks().stream()
                .anyMatch(block ->
                        block.kind() == Block.Kind.CORE && block.cores().contains(core));
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        json.writeStartObject();
        json.writeNumberProperty("cycle", cycle);
        json.writeStringProperty("event", word(kind));
        if (core >= 0) {
            json.writeNumberProperty("core", core);
        }
        switch (kind) {
            case STATE -> {
                json.writeStringProperty("state", STATES[(int) a].text());
                json.writeStringProperty("before", STATES[(int) b].text());
            }
            case BEGIN, FINISH -> {
                place(a);
                json.writeStringProperty("instruction", Disassembler.text((int) b, Kind.address(a)));
            }
            case REQUEST -> {
                json.writeStringProperty("for", purpose(STATES[(int) a]));
                address(b);
            }
            case ADMIT -> {
                json.writeNumberProperty("wait", a);
                address(b);
            }
            case SHARED_READ, SHARED_WRITE, PRIVATE_READ, PRIVATE_WRITE -> {
                json.writeNumberProperty("address", a);
                json.writeNumberProperty("value", (int) b);
            }
            case REGISTER -> {
                json.writeNumberProperty("register", a);
                json.writeNumberProperty("value", (int) b);
            }
            case PORT -> {
                Port port = Port.of((int) a);
                json.writeStringProperty("port", port == null ? Long.toString(a) : port.text());
                json.writeNumberProperty("value", Integer.toUnsignedLong((int) b));
            }
            case PINS -> {
                pins("high", a);
                pins("clash", b);
            }
            case LOADING -> {
                json.writeNumberProperty("by", a);
                json.writeNumberProperty("address", Integer.toUnsignedLong((int) b));
            }
            case IDLE -> {
                if (a < 0) {
                    json.writeNullProperty("by");
                } else {
                    json.writeNumberProperty("by", a);
                }
            }
            case FAULT -> {
                json.writeStringProperty("fault", Fault.Kind.values()[(int) a].text());
                place(b);
            }
            case END -> json.writeStringProperty("ended", End.values()[(int) a].text());
            case GIVE_UP, START, LET_GO -> {
                // The kind says it all.
            }
        }
        json.writeEndObject();
    }

    /** The kind in the words of the file. */
    public static String word(Kind kind) {
        return switch (kind) {
            case GIVE_UP -> "giveUp";
            case SHARED_READ -> "sharedRead";
            case SHARED_WRITE -> "sharedWrite";
            case PRIVATE_READ -> "privateRead";
            case PRIVATE_WRITE -> "privateWrite";
            case LET_GO -> "letGo";
            default -> kind.name().toLowerCase(Locale.ROOT);
        };
    }

    private static String purpose(State waiting) {
        return switch (waiting) {
            case CODE_WAIT -> "code";
            case LOAD_WAIT -> "load";
            default -> "data";
        };
    }

    private void place(long place) {
        json.writeStringProperty("in", JsonFigures.memory(Kind.inShared(place)));
        json.writeNumberProperty("address", Integer.toUnsignedLong(Kind.address(place)));
    }

    private void address(long address) {
        if (address < 0) {
            json.writeNullProperty("address");
        } else {
            json.writeNumberProperty("address", address);
        }
    }

    private void pins(String name, long mask) {
        json.writeArrayPropertyStart(name);
        for (long rest = mask; rest != 0; rest &= rest - 1) {
            json.writeNumber(Long.numberOfTrailingZeros(rest));
        }
        json.writeEndArray();
    }
}
