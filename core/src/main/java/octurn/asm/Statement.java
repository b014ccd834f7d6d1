package octurn.asm;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** One thing that the text says about what goes to memory, in the order of the file. */
sealed interface Statement {

    Place place();

    /** A section begins. */
    record Open(Section section, Place place) implements Statement {}

    /** A label: the address of what comes next. */
    record Mark(Symbol label, Place place) implements Statement {}

    /** {@code word}: one word for each expression. */
    record Words(List<Expression> values, Place place) implements Statement {}

    /** {@code text}: one word for each character. */
    record Characters(int[] codePoints, Place place) implements Statement {}

    /** {@code space}: words of 0. */
    record Space(Expression count, Place place) implements Statement {}

    /** An instruction. */
    record Instruct(Mnemonic mnemonic, List<Operand> operands, Place place) implements Statement {}

    /**
     * A line with a mistake, which takes room all the same.
     *
     * @param words how many words it would be, -1 if that cannot be told
     */
    record Broken(int words, Place place) implements Statement {}

    /** The numbers of a list of cores: one, or a range. */
    record CoreRange(Expression first, @Nullable Expression last, Place place) {}
}
