package octurn.isa;

import org.jspecify.annotations.Nullable;

/** A core's own ports, for {@code read} and {@code write}. */
public enum Port {
    PINS("pins", 0, false, "level of every pin"),
    OUT("out", 1, true, "output latch"),
    DRIVE("drive", 2, true, "mask of the pins that this core drives"),
    TIME("time", 3, false, "low 32 bits of the cycle number"),
    CORE("core", 4, false, "this core's number"),
    TALLY0("tally0", 8, true, "value of tally 0"),
    MODE0("mode0", 9, true, "mode word of tally 0"),
    SPAN0("span0", 10, true, "span of tally 0"),
    LEVEL0("level0", 11, true, "level of tally 0"),
    TALLY1("tally1", 12, true, "value of tally 1"),
    MODE1("mode1", 13, true, "mode word of tally 1"),
    SPAN1("span1", 14, true, "span of tally 1"),
    LEVEL1("level1", 15, true, "level of tally 1");

    private static final @Nullable Port[] BY_CODE = new @Nullable Port[16];

    static {
        for (Port port : values()) {
            BY_CODE[port.code] = port;
        }
    }

    private final String text;
    private final int code;
    private final boolean writable;
    private final String meaning;

    Port(String text, int code, boolean writable, String meaning) {
        this.text = text;
        this.code = code;
        this.writable = writable;
        this.meaning = meaning;
    }

    /** The port with this number, or null where there is none. */
    public static @Nullable Port of(int code) {
        return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : null;
    }

    /** As written in a program, in lower case. */
    public String text() {
        return text;
    }

    /** The bits 3..0 of the word. */
    public int code() {
        return code;
    }

    /** Whether {@code write} may name it. */
    public boolean writable() {
        return writable;
    }

    /** What is read there, in a few words. */
    public String meaning() {
        return meaning;
    }
}
