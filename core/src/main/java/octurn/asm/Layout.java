package octurn.asm;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import octurn.design.Design;
import org.jspecify.annotations.Nullable;

/**
 * Says where everything lies: walks through the statements in the order of the file, gives every section its place,
 * every label its address and every constant its value as soon as the last label that it needs has an address.
 */
final class Layout {

    /** As many words as the largest memory has. */
    private static final Range MOST_WORDS = new Range(0, 1 << 17);

    private final Design design;
    private final Evaluator evaluator;
    private final Problems problems;

    /** The constants that wait for a label, in the order in which they can be worked out. */
    private final List<Symbol> waiting;

    private int worked;

    /** The section that each core has. */
    private final @Nullable Section[] ofCore;

    /** The sections in shared memory that have it to themselves. */
    private final TreeMap<Long, Section> byAddress = new TreeMap<>();

    /** Behind the highest shared word used so far. */
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
     * @return for each statement how many words it takes
     */
    long[] run(List<Statement> statements) {
        long[] sizes = new long[statements.size()];
        Section section = null;
        Place overflow = null;
        for (int i = 0; i < sizes.length; i++) {
            Statement statement = statements.get(i);
            if (statement instanceof Statement.Open open) {
                close(section, overflow);
                overflow = null;
                section = open.section();
                open(section, open.place().line());
                continue;
            }
            if (section == null) {
                throw new IllegalStateException("a statement before the first section");
            }
            if (statement instanceof Statement.Mark mark) {
                mark.label().settle(section.label());
                continue;
            }
            sizes[i] = room(statement, section);
            section.size += sizes[i];
            if (overflows(section)) {
                overflow = statement.place();
                // One mistake is enough: what would lie beyond the end has no address.
                section.measured = false;
            }
        }
        close(section, overflow);
        workOutConstants(Integer.MAX_VALUE);
        return sizes;
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

    // Sections.

    private void open(Section section, int line) {
        switch (section.kind) {
            case CORE -> giveToCores(section, line);
            case IMAGE -> {
                section.address = top;
                section.placed = topKnown;
                section.size = 1;
                if (section.symbol != null) {
                    section.symbol.settle(topKnown ? new Value(top, Home.IMAGE) : null);
                }
            }
            case SHARED -> {
                if (section.at == null) {
                    section.address = top;
                    section.placed = topKnown && !section.broken;
                } else {
                    placeAt(section, section.at, line);
                }
            }
        }
    }

    private void placeAt(Section section, Expression at, int line) {
        workOutConstants(line);
        Long address = evaluator.number(
                at,
                section,
                new Range(0, design.sharedWords()),
                "shared at",
                "shared memory has %d words".formatted(design.sharedWords()));
        section.placed = address != null && !section.broken;
        section.address = address == null ? 0 : address;
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
        workOutConstants(line);
        for (Statement.CoreRange range : section.list) {
            Value first = evaluator.value(range.first(), section);
            Value last = range.last() == null ? first : evaluator.value(range.last(), section);
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
        Collections.sort(section.cores);
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
        return section.measured
                && (section.privateWords() > design.privateWords()
                        || (section.placed && section.end() > design.sharedWords()));
    }

    private void close(@Nullable Section section, @Nullable Place overflow) {
        if (section == null) {
            return;
        }
        if (overflow != null) {
            tellOverflow(section, overflow);
        }
        if (section.kind == Block.Kind.CORE) {
            return;
        }
        if (section.kind == Block.Kind.IMAGE && section.size == 1 && section.measured) {
            problems.error(section.place, "the image has no word", "write its code and data below it");
        }
        topKnown &= section.placed && section.measured;
        if (section.size > 0) {
            top = Math.max(top, section.end());
        }
        if (section.size > 0 && section.placed && section.measured) {
            checkOverlap(section);
        }
    }

    private void tellOverflow(Section section, Place overflow) {
        int line = section.place.line();
        if (section.privateWords() > design.privateWords()) {
            problems.error(
                    overflow,
                    "the section of line %d has %d words, private RAM has %d"
                            .formatted(line, section.privateWords(), design.privateWords()),
                    "from here on it does not fit");
        } else {
            problems.error(
                    overflow,
                    "the section of line %d would fill shared words %d..%d"
                            .formatted(line, section.address, section.end() - 1),
                    "from here on it does not fit: shared memory is 0..%d".formatted(design.sharedWords() - 1));
        }
    }

    /** Tells of a section that wants words which an earlier one has. */
    private void checkOverlap(Section section) {
        Map.Entry<Long, Section> before = byAddress.lowerEntry(section.end());
        if (before == null || before.getValue().end() <= section.address) {
            byAddress.put(section.address, section);
            return;
        }
        Section other = before.getValue();
        problems.error(
                section.place,
                "this section fills shared words %d..%d, the one of line %d fills %d..%d"
                        .formatted(
                                section.address, section.end() - 1, other.place.line(), other.address, other.end() - 1),
                "move one of them, or leave out its address");
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
        section.measured &= words >= 0;
        return Math.max(words, 0);
    }

    private long count(Statement.Space space, Section section) {
        workOutConstants(space.place().line());
        Long count = evaluator.number(space.count(), section, MOST_WORDS, "space", null);
        section.measured &= count != null;
        return count == null ? 0 : count;
    }
}
