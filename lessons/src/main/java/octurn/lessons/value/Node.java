package octurn.lessons.value;

import java.util.List;

/** A part of an expression; {@code start} and {@code end} are offsets into the passage, the end exclusive. */
sealed interface Node {

    int start();

    int end();

    /** A number as it is written. */
    record Literal(int start, int end, double number) implements Node {}

    /** A name: of a number or, where a measure asks for one, a label or a word. */
    record Name(int start, int end, String name) implements Node {}

    /** The negative of something. */
    record Negative(int start, int end, Node operand) implements Node {}

    /** Two operands and {@code + - * / %} between them. */
    record Binary(int start, int end, char sign, Node left, Node right) implements Node {}

    /** One of the {@link Function}s. */
    record Call(int start, int end, Function function, List<Node> arguments) implements Node {}

    /** What is asked of a run: {@code first.core(3).waits.max}. */
    record Path(int start, int end, String run, List<Part> parts) implements Node {}

    /** One step of a path. */
    record Part(int start, int end, String name, List<Node> arguments) {}
}
