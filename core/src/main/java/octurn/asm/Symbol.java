package octurn.asm;

import org.jspecify.annotations.Nullable;

/** A name and what it stands for: a constant, a label, an image, or a name known from the start. */
final class Symbol {
    final String name;
    /** Where it is defined; {@link Place#FILE} if it was known from the start. */
    final Place place;
    /** The section in which it is written: where the names of a constant's expression are looked up. */
    final @Nullable Section section;
    /** What a constant is defined as; null for the others, and where the definition cannot be read. */
    final @Nullable Expression expression;
    /** The last label that a constant needs; for a label or image itself. Null if it needs none. */
    @Nullable
    Symbol newest;
    /** How far the search for circles has come with a constant. */
    Search search = Search.NEW;
    /** Whether its value was worked out, even if to nothing. */
    boolean settled;
    /** Null if it is not settled, or if a mistake that was told already keeps it from having a value. */
    @Nullable
    Value value;

    enum Search {
        NEW,
        OPEN,
        DONE
    }

    private Symbol(String name, Place place, @Nullable Section section, @Nullable Expression expression) {
        this.name = name;
        this.place = place;
        this.section = section;
        this.expression = expression;
    }

    static Symbol constant(String name, Place place, @Nullable Section section, Expression expression) {
        return new Symbol(name, place, section, expression);
    }

    /** A label or an image, to be settled when its address is known. */
    static Symbol address(String name, Place place, Section section) {
        Symbol symbol = new Symbol(name, place, section, null);
        symbol.newest = symbol;
        return symbol;
    }

    static Symbol known(String name, long number) {
        return spoiled(name, Place.FILE).settle(Value.plain(number));
    }

    /** A name whose definition has a mistake: it counts as defined, so that its uses are no mistakes. */
    static Symbol spoiled(String name, Place place) {
        return new Symbol(name, place, null, null).settle(null);
    }

    Symbol settle(@Nullable Value result) {
        value = result;
        settled = true;
        return this;
    }
}
