package octurn.cli.view;

import octurn.machine.State;

/** How one cycle of a core is marked in its lane: a letter or sign for each state, and an ink for those who see it. */
final class LaneMarks {

    private LaneMarks() {}

    /** The first cycle of an instruction. */
    static String start(Glyphs glyphs) {
        return glyphs.sign("\u25b8", ">");
    }

    /** Any cycle; of an instruction, not its first. */
    static String mark(State state, Glyphs glyphs) {
        return switch (state) {
            case WORK -> glyphs.sign("\u2501", "#");
            case WAIT -> "w";
            case SLOT -> "S";
            case CODE_WAIT -> "c";
            case CODE_SLOT -> "C";
            case LOAD_WAIT -> "l";
            case LOAD_SLOT -> "L";
            case SLEEP -> "z";
            case IDLE -> glyphs.sign("\u00b7", ".");
            case FAULT -> "!";
        };
    }

    /** The ink of a cycle that is past or present. */
    static Ink ink(State state) {
        return switch (state) {
            case WORK -> Ink.ON_GREEN;
            case WAIT -> Ink.ON_RED;
            case SLOT -> Ink.ON_BLUE;
            case CODE_WAIT, CODE_SLOT, LOAD_WAIT, LOAD_SLOT -> Ink.ON_PINK;
            case SLEEP -> Ink.ON_GREY;
            case IDLE -> Ink.WEAK;
            case FAULT -> Ink.ON_YELLOW;
        };
    }

    /** The ink of a cycle that is still to come. */
    static Ink inkAhead(State state) {
        return switch (state) {
            case WORK -> Ink.GREEN_AHEAD;
            case WAIT -> Ink.RED_AHEAD;
            case SLOT -> Ink.BLUE_AHEAD;
            case CODE_WAIT, CODE_SLOT, LOAD_WAIT, LOAD_SLOT -> Ink.PINK_AHEAD;
            case SLEEP -> Ink.GREY_AHEAD;
            case IDLE -> Ink.WEAK;
            case FAULT -> Ink.YELLOW_AHEAD;
        };
    }

    /** A state in at most five columns. */
    static String brief(State state) {
        return switch (state) {
            case CODE_WAIT -> "codeW";
            case CODE_SLOT -> "codeS";
            case LOAD_WAIT -> "loadW";
            case LOAD_SLOT -> "loadS";
            default -> state.text();
        };
    }

    /** What the marks mean, in one line of 76 columns. */
    static String legend(Glyphs glyphs) {
        return "%s%s works  w waits  S slot  c/C code: waits/slot  l/L loading  z sleeps  %s idle  ! fault"
                .formatted(start(glyphs), mark(State.WORK, glyphs), mark(State.IDLE, glyphs));
    }
}
