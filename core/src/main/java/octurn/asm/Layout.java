package octurn.asm;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import octurn.design.Design;
import org.jspecify.annotations.Nullable;

/**
 * Says where everything lies: walks through the statements in the order of the file, gives every section its place,
 * every label its address and every constant its value as soon as the last label that it needs has an address.
 */
final class Layout {

    /** More than any memory holds. */
    private static final long MOST_WORDS = 1 << 17;

    private final Design design;
    private final Evaluator evaluator;
    private final Problems problems;

    /** The constants that wait for a label, in the order in which they can be worked out. */
    private final List<Symbol> waiting;

    private int worked;

    /** The section that each core has. */
    private final @Nullable Section[] ofCore;

    /** Words of shared memory used so far: the next free one. */
    private long top;

    private boolean topKnown = true;

    Layout(Design design, Evaluator evaluator, List<Symbol> orderedConstants, Problems problems) {
        this.design = design;
        this.evaluator = evaluator;
        this.problems = problems;
        this.ofCore = new Section[design.cores()];
        this.waiting = new ArrayList<>(orderedConstants);
        // Stable: constants that wait for the same label stay behind those that they need.
        this.waiting.sort(
                Comparator.comparingInt(constant -> constant.newest == null ? 0 : constant.newest.place.line()));
    }

    /**
     * Lays everything out.
     *
     * @return for each statement the number of the word in its section at which it stands
     */
    long[] run(List<Statement> statements) {
        long[] words = new long[statements.size()];
        Section section = null;
        Place overflow = null;
        for (int i = 0; i < words.length; i++) {
            Statement statement = statements.get(i);
            if (statement instanceof Statement.Open open) {
                close(section, overflow);
                section = open.section();
                overflow = null;
                open(section, open.place().line());
                continue;
            }
            if (section == null) {
                throw new IllegalStateException("a statement before the first section");
            }
            words[i] = section.size;
            if (statement instanceof Statement.Mark mark) {
                mark.label().settle(section.known ? new Value(section.labelAddress(section.size), section.home) : null);
                continue;
            }
            section.size += room(statement, section);
            if (overflow == null && overflows(section)) {
                overflow = statement.place();
            }
        }
        close(section, overflow);
        workOutConstants(Integer.MAX_VALUE);
        return words;
    }

    private void workOutConstants(int line) {
        for (; worked < waiting.size(); worked++) {
            Symbol constant = waiting.get(worked);
            if (constant.newest != null && constant.newest.place.line() > line) {
                return;
            }
            if (!constant.settled && constant.expression != null) {
                constant.settle(evaluator.value(constant.expression, constant.section));
            }
        }
    }

    private @Nullable Value value(Expression expression, Section section, int line) {
        workOutConstants(line);
        return evaluator.value(expression, section);
    }

    // Sections.

    private void open(Section section, int line) {
        section.known = !section.broken || section.kind == Block.Kind.CORE;
        switch (section.kind) {
            case CORE -> giveToCores(section, line);
            case IMAGE -> {
                section.address = top;
                section.size = 1;
                section.known &= topKnown;
                if (section.symbol != null) {
                    section.symbol.settle(section.known ? new Value(top, Home.IMAGE) : null);
                }
            }
            case SHARED -> {
                if (section.at == null) {
                    section.address = top;
                    section.known &= topKnown;
                } else {
                    placeAt(section, section.at, line);
                }
            }
        }
    }

    private void placeAt(Section section, Expression at, int line) {
        Value value = value(at, section, line);
        if (value == null) {
            section.known = false;
        } else if (value.number() < 0 || value.number() > design.sharedWords()) {
            problems.error(
                    at.place(),
                    "there is no shared word %d".formatted(value.number()),
                    "shared memory is 0..%d".formatted(design.sharedWords() - 1));
            section.known = false;
        } else {
            section.address = value.number();
        }
    }

    private void giveToCores(Section section, int line) {
        if (section.list == null) {
            for (int core = 0; core < design.cores(); core++) {
                if (!give(section, core, section.place)) {
                    return;
                }
            }
            return;
        }
        for (Statement.CoreRange range : section.list) {
            Value first = value(range.first(), section, line);
            Value last = range.last() == null ? first : value(range.last(), section, line);
            if (first == null || last == null) {
                continue;
            }
            if (first.number() > last.number()) {
                problems.error(
                        range.place(),
                        "the range %d..%d is empty".formatted(first.number(), last.number()),
                        "the lower number stands first");
                continue;
            }
            for (long core = first.number(); core <= last.number(); core++) {
                if (!give(section, core, range.place())) {
                    break;
                }
            }
        }
    }

    private boolean give(Section section, long core, Place place) {
        if (core < 0 || core >= ofCore.length) {
            problems.error(
                    place,
                    "the design has no core %d".formatted(core),
                    "its cores are 0..%d".formatted(ofCore.length - 1));
            return false;
        }
        Section other = ofCore[(int) core];
        if (other != null) {
            problems.error(
                    place,
                    other == section
                            ? "core %d stands twice in the list".formatted(core)
                            : "core %d has a section already, on line %d".formatted(core, other.place.line()),
                    "a core is given one section");
            return false;
        }
        ofCore[(int) core] = section;
        section.cores.add((int) core);
        return true;
    }

    private boolean overflows(Section section) {
        return section.known && (privateWords(section) > design.privateWords() || end(section) > design.sharedWords());
    }

    private static long privateWords(Section section) {
        return switch (section.kind) {
            case CORE -> section.size;
            case IMAGE -> section.size - 1;
            case SHARED -> 0;
        };
    }

    private static long end(Section section) {
        return section.kind == Block.Kind.CORE ? 0 : section.address + section.size;
    }

    private void close(@Nullable Section section, @Nullable Place overflow) {
        if (section == null) {
            return;
        }
        if (overflow != null) {
            boolean ram = privateWords(section) > design.privateWords();
            problems.error(
                    overflow,
                    ram
                            ? "the section of line %d has %d words, private RAM has %d"
                                    .formatted(section.place.line(), privateWords(section), design.privateWords())
                            : "the section of line %d would fill shared words %d..%d"
                                    .formatted(section.place.line(), section.address, end(section) - 1),
                    ram
                            ? "from here on it does not fit"
                            : "from here on it does not fit: shared memory is 0..%d"
                                    .formatted(design.sharedWords() - 1));
        }
        if (section.kind == Block.Kind.IMAGE && section.size == 1 && section.known) {
            problems.error(section.place, "the image has no word", "write its code and data below it");
        }
        if (section.isPrivate() && section.kind != Block.Kind.IMAGE) {
            return;
        }
        topKnown &= section.known && overflow == null;
        if (section.size > 0) {
            top = Math.max(top, end(section));
        }
    }

    // Data.

    private long room(Statement statement, Section section) {
        if (statement instanceof Statement.Instruct instruct) {
            return instruct.mnemonic().words();
        } else if (statement instanceof Statement.Words data) {
            return data.values().size();
        } else if (statement instanceof Statement.Characters text) {
            return text.codePoints().length;
        } else if (statement instanceof Statement.Space space) {
            return count(space, section);
        }
        int words = ((Statement.Broken) statement).words();
        section.known &= words >= 0;
        return Math.max(words, 0);
    }

    private long count(Statement.Space space, Section section) {
        Value count = value(space.count(), section, space.place().line());
        if (count != null && (count.number() < 0 || count.number() > MOST_WORDS)) {
            problems.error(
                    space.count().place(),
                    "a space of %d words".formatted(count.number()),
                    "it may have 0..%d".formatted(MOST_WORDS));
            count = null;
        }
        section.known &= count != null;
        return count == null ? 0 : count.number();
    }

    /** Tells of sections that want the same shared words: each with one of those that it meets. */
    void checkOverlaps(List<Section> sections) {
        List<Section> shared = new ArrayList<>(sections);
        shared.removeIf(section -> section.kind == Block.Kind.CORE || section.size == 0 || !section.known);
        shared.sort(Comparator.comparingLong(section -> section.address));
        Section furthest = null;
        for (Section section : shared) {
            if (furthest != null && section.address < end(furthest)) {
                boolean inOrder = furthest.place.line() < section.place.line();
                Section first = inOrder ? furthest : section;
                Section second = inOrder ? section : furthest;
                problems.error(
                        second.place,
                        "this section fills shared words %d..%d, the one of line %d fills %d..%d"
                                .formatted(
                                        second.address,
                                        end(second) - 1,
                                        first.place.line(),
                                        first.address,
                                        end(first) - 1),
                        "move one of them, or leave out its address");
            }
            if (furthest == null || end(section) > end(furthest)) {
                furthest = section;
            }
        }
    }
}
