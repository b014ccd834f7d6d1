package octurn.lessons;

import java.util.Collections;
import java.util.List;
import java.util.stream.LongStream;

/**
 * The numbers of which each student is given one.
 *
 * @param choices at least one; the middle one (of two the first) is for those without a name
 */
public record Vary(List<Long> choices) {

    /** The most numbers to choose from. */
    public static final int MOST = 10_000;

    public Vary {
        choices = List.copyOf(choices);
        if (choices.isEmpty() || choices.size() > MOST) {
            throw new IllegalArgumentException("choices: %d, not 1..%d".formatted(choices.size(), MOST));
        }
    }

    /** All whole numbers from one to another. */
    public static Vary between(long from, long to) {
        return new Vary(LongStream.rangeClosed(from, to).boxed().toList());
    }

    /** The least and the greatest of the numbers. */
    public List<Long> extremes() {
        return List.of(Collections.min(choices), Collections.max(choices));
    }

    /** The number for those without a name. */
    public long standard() {
        return choices.get((choices.size() - 1) / 2);
    }
}
