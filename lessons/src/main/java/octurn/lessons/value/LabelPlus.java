package octurn.lessons.value;

import org.jspecify.annotations.Nullable;

/**
 * An argument that is a label plus and minus numbers: its first name, and what is added.
 *
 * @param label the name that stands first, or null if none does
 * @param offset all that is added to it; for no name, all of the argument
 */
record LabelPlus(Node.@Nullable Name label, Node offset) {

    static LabelPlus of(Node node) {
        Node first = node;
        while (first instanceof Node.Binary binary && isSum(binary)) {
            first = binary.left();
        }
        return first instanceof Node.Name name ? new LabelPlus(name, without(node, name)) : new LabelPlus(null, node);
    }

    static boolean isSum(Node.Binary binary) {
        return binary.sign() == '+' || binary.sign() == '-';
    }

    /** The same sum with 0 for the name. */
    private static Node without(Node node, Node.Name name) {
        return node instanceof Node.Binary binary
                ? new Node.Binary(
                        binary.start(), binary.end(), binary.sign(), without(binary.left(), name), binary.right())
                : new Node.Literal(name.start(), name.end(), 0);
    }
}
