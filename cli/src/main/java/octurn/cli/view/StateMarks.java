package octurn.cli.view;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import octurn.machine.State;

/** How the states of a core are marked in bars and tables. */
enum StateMarks {
    WORK("work", "\u2588", "#", Ink.GREEN, State.WORK),
    WAIT("wait", "\u2591", "w", Ink.RED, State.WAIT),
    SLOT("slot", "\u2593", "S", Ink.BLUE, State.SLOT),
    CODE_WAIT("code wait", "c", "c", Ink.PINK, State.CODE_WAIT),
    CODE_SLOT("code slot", "C", "C", Ink.PINK, State.CODE_SLOT),
    CODE("code", "C", "C", Ink.PINK, State.CODE_WAIT, State.CODE_SLOT),
    LOAD_WAIT("load wait", "l", "l", Ink.PINK, State.LOAD_WAIT),
    LOAD_SLOT("load slot", "L", "L", Ink.PINK, State.LOAD_SLOT),
    LOAD("load", "L", "L", Ink.PINK, State.LOAD_WAIT, State.LOAD_SLOT),
    SLEEP("sleep", "z", "z", Ink.WEAK, State.SLEEP),
    IDLE("idle", "\u00b7", ".", Ink.WEAK, State.IDLE),
    FAULT("fault", "!", "!", Ink.ALARM, State.FAULT);

    /** More columns than these do not fit beside a bar. */
    private static final int MOST_APART = 7;

    private static final Set<StateMarks> JOINED = EnumSet.of(CODE, LOAD);
    private static final Set<StateMarks> APART = EnumSet.of(CODE_WAIT, CODE_SLOT, LOAD_WAIT, LOAD_SLOT);

    private final String text;
    private final String unicode;
    private final String ascii;
    private final Ink ink;
    private final Set<State> states;

    StateMarks(String text, String unicode, String ascii, Ink ink, State first, State... more) {
        this.text = text;
        this.unicode = unicode;
        this.ascii = ascii;
        this.ink = ink;
        this.states = EnumSet.of(first, more);
    }

    /**
     * The marks for a table in which these states occur: one for each; if they are many, code and loading have one for
     * their waits and slots together.
     */
    static List<StateMarks> of(Set<State> occurring) {
        return occurring.size() <= MOST_APART ? marks(occurring, JOINED) : marks(occurring, APART);
    }

    private static List<StateMarks> marks(Set<State> occurring, Set<StateMarks> without) {
        List<StateMarks> marks = new ArrayList<>();
        for (StateMarks mark : values()) {
            if (!without.contains(mark) && mark.states.stream().anyMatch(occurring::contains)) {
                marks.add(mark);
            }
        }
        return marks;
    }

    String text() {
        return text;
    }

    String mark(Glyphs glyphs) {
        return glyphs.sign(unicode, ascii);
    }

    Ink ink() {
        return ink;
    }

    Set<State> states() {
        return states;
    }
}
