package octurn.lessons;

import java.util.List;
import octurn.lessons.text.Template;
import octurn.lessons.value.Expression;
import org.jspecify.annotations.Nullable;

/** Something that a task demands of a run. In its expressions {@code run} is the run of the student's own program. */
public sealed interface Check {

    /** What to look at when it fails, in the author's words, if there are any. */
    @Nullable
    Template say();

    /**
     * Words of a memory at the end of the run.
     *
     * @param place of the first: a label of the student's program plus or minus a number, or an address
     * @param core whose private RAM, or null for shared memory
     * @param words what they are to be, signed
     */
    record MemoryWords(
            Expression place,
            @Nullable Expression core,
            List<Expression> words,
            @Nullable Template say) implements Check {
        public MemoryWords {
            words = List.copyOf(words);
        }
    }

    /** A register at the end of the run. */
    record Register(
            int register,
            Expression core,
            Expression is,
            @Nullable Template say) implements Check {}

    /**
     * What must not be too much or too little.
     *
     * @param core of which core alone, or null for all
     * @param line of which instruction alone, or null for all
     */
    record Budget(
            Amount amount,
            Bounds bounds,
            @Nullable Expression core,
            @Nullable Expression line,
            @Nullable Template say) implements Check {}

    /** What a budget is about. */
    enum Amount {
        /** Cycles of the whole run. */
        CYCLES("cycles"),
        /** Cycles that accesses waited, all together. */
        WAITS("waits"),
        /** The longest of those waits. */
        LONGEST_WAIT("longest-wait"),
        /** Instructions that finished. */
        INSTRUCTIONS("instructions"),
        /** Words of code and data in private RAMs and images. */
        CODE_WORDS("words");

        private final String text;

        Amount(String text) {
            this.text = text;
        }

        /** As lessons write it. */
        public String text() {
            return text;
        }
    }

    /** Whatever can be computed from the run. */
    record Measure(
            Expression measure, Bounds bounds, @Nullable Template say) implements Check {}

    /** How much something may be; one of the two at least is there, and both are the same where it must be just that. */
    record Bounds(@Nullable Expression least, @Nullable Expression most) {}

    /** What a serial line on a pin must say: 8 data bits, no parity, a stop bit. */
    record Serial(
            int pin, Expression baud, String text, @Nullable Template say) implements Check {}

    /** How long the pulses on a pin must be, in cycles. */
    record Pulse(
            int pin,
            @Nullable Bounds high,
            @Nullable Bounds period,
            @Nullable Template say) implements Check {}

    /** The level of a pin in a cycle. */
    record Level(int pin, Expression at, int is, @Nullable Template say) implements Check {}

    /** What must not happen. */
    record Never(Mishap mishap, @Nullable Template say) implements Check {}

    /** What a run is better without. */
    enum Mishap {
        FAULT,
        CLASH,
        STUCK
    }

    /** How the run must end. */
    record Ends(octurn.machine.End how, @Nullable Template say) implements Check {}

    /** Instructions that the program must, or must not, have. */
    record Uses(
            boolean wanted,
            List<String> mnemonics,
            @Nullable Template say) implements Check {
        public Uses {
            mnemonics = List.copyOf(mnemonics);
        }
    }
}
