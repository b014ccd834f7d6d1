package octurn.asm;

import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** What is wrong with a line, thrown to the place where the parser goes on with the next one. */
final class Mistake extends RuntimeException {
    private static final long serialVersionUID = 1;

    private final transient Place place;
    private final String text;
    private final transient Supplier<@Nullable String> hint;

    Mistake(Place place, String text, @Nullable String hint) {
        this(place, text, () -> hint);
    }

    Mistake(Place place, String text, Supplier<@Nullable String> hint) {
        super(text, null, false, false);
        this.place = place;
        this.text = text;
        this.hint = hint;
    }

    void report(Problems problems) {
        problems.error(place, text, hint);
    }
}
