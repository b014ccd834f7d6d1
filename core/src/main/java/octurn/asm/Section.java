package octurn.asm;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** A section of the text: what its first line says, its labels, and, once it is laid out, where it lies. */
final class Section {
    final Block.Kind kind;
    final Place place;
    /** An image's name; empty for the others. */
    final String name;
    /** What its labels are addresses in. */
    final Home home;
    /** For {@code core}: its list; null for {@code all}. */
    @Nullable
    List<Statement.CoreRange> list = List.of();
    /** For {@code shared at}: the address. */
    @Nullable
    Expression at;
    /** Whether its first line has a mistake. */
    boolean broken;
    /** For an image: its name. */
    @Nullable
    Symbol symbol;

    final Map<String, Symbol> labels = new LinkedHashMap<>();

    /** Whose private RAM it fills. */
    final List<Integer> cores = new ArrayList<>();
    /** Of its first word. */
    long address;
    /** Words, the count word of an image included. */
    long size;
    /** Whether the address is right: no mistake makes it unknown. */
    boolean placed = true;
    /** Whether the size is right so far. */
    boolean measured = true;

    int[] words = {};
    int[] lines = {};
    boolean[] code = {};

    Section(Block.Kind kind, Place place, String name) {
        this.kind = kind;
        this.place = place;
        this.name = name;
        this.home = kind == Block.Kind.SHARED ? Home.SHARED : new Home();
    }

    /** The address of its word number n for its own code: an image's code will run in private RAM. */
    long labelAddress(long n) {
        return switch (kind) {
            case CORE -> n;
            case IMAGE -> n - 1;
            case SHARED -> address + n;
        };
    }

    /** What a label stands for that comes now; null if a mistake makes that unknown. */
    @Nullable
    Value label() {
        return measured && (placed || isPrivate()) ? new Value(labelAddress(size), home) : null;
    }

    /** Words of private RAM that it takes. */
    long privateWords() {
        return isPrivate() ? labelAddress(size) : 0;
    }

    /** The shared address behind its last word. */
    long end() {
        return kind == Block.Kind.CORE ? 0 : address + size;
    }

    boolean isPrivate() {
        return kind != Block.Kind.SHARED;
    }

    Block block() {
        Map<String, Integer> addresses = new LinkedHashMap<>();
        labels.forEach((label, marked) -> {
            if (marked.value != null) {
                addresses.put(label, (int) marked.value.number());
            }
        });
        return new Block(kind, name, List.copyOf(cores), (int) address, words, lines, code, addresses);
    }
}
