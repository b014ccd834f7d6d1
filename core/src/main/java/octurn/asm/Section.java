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
    /** Whether address and size are right: no mistake makes them unknown. */
    boolean known = true;

    int[] words = {};
    int[] lines = {};
    boolean[] code = {};

    Section(Block.Kind kind, Place place, String name) {
        this.kind = kind;
        this.place = place;
        this.name = name;
        this.home = kind == Block.Kind.SHARED ? Home.SHARED : new Home();
    }

    /** What the address of its word number n is, for its own code: an image's code will run in private RAM. */
    long labelAddress(long n) {
        return switch (kind) {
            case CORE -> n;
            case IMAGE -> n - 1;
            case SHARED -> address + n;
        };
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
