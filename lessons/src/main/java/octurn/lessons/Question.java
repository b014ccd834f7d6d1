package octurn.lessons;

import java.util.List;
import java.util.function.Function;
import octurn.lessons.text.Prose;

/** A question, with what the simulator says to it. */
public final class Question {

    /** What is asked for. */
    public enum Kind {
        /** A number. */
        NUMBER,
        /** The number of a core. */
        CORE,
        /** One of the options, by its number from 1. */
        CHOICE
    }

    private final Prose ask;
    private final Kind kind;
    private final String unit;
    private final List<Prose> options;
    private final Function<String, Judgement> judge;

    Question(Prose ask, Kind kind, String unit, List<Prose> options, Function<String, Judgement> judge) {
        this.ask = ask;
        this.kind = kind;
        this.unit = unit;
        this.options = List.copyOf(options);
        this.judge = judge;
    }

    /** What is asked. */
    public Prose ask() {
        return ask;
    }

    /** What is asked for. */
    public Kind kind() {
        return kind;
    }

    /** What a number counts, as in {@code cycles}; may be empty. */
    public String unit() {
        return unit;
    }

    /** What there is to choose from; empty unless it is a choice. */
    public List<Prose> options() {
        return options;
    }

    /** What an answer is worth, as somebody typed it. */
    public Judgement judge(String answer) {
        return judge.apply(answer);
    }
}
