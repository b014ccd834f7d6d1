package octurn.asm;

import java.util.List;
import octurn.design.Design;
import octurn.isa.Op;
import octurn.isa.Word;
import org.jspecify.annotations.Nullable;

/**
 * Looks at a program without mistakes for what is allowed and yet will not do what its writer meant. It keeps silent
 * where it cannot be sure: a false alarm is worse than none.
 */
final class Review {
    private final Program program;
    private final Design design;
    private final Problems problems;

    private Review(Program program, Problems problems) {
        this.program = program;
        this.design = program.design();
        this.problems = problems;
    }

    static void run(Program program, List<Section> sections, Problems problems) {
        Review review = new Review(program, problems);
        if (sections.stream().noneMatch(section -> section.kind == Block.Kind.CORE)) {
            problems.warning(
                    Place.FILE, "no core has a section: nothing runs", "a section for core 0 begins with: core 0");
        }
        for (Section section : sections) {
            if (section.kind == Block.Kind.CORE) {
                review.beginning(section);
                review.turns(section);
            }
            for (int i = 0; i < section.words.length; i++) {
                if (section.code[i]) {
                    review.address(section, i);
                    review.next(section, i);
                }
            }
        }
    }

    /** A core starts with the first word of its section. */
    private void beginning(Section section) {
        if (section.words.length == 0) {
            problems.warning(section.place, "the section is empty: its cores fault at once", "halt makes a core idle");
        } else if (!Word.isInstruction(section.words[0])) {
            problems.warning(
                    Place.line(section.lines[0]),
                    "the section begins with data: its cores start here, and %d is no instruction"
                            .formatted(section.words[0]),
                    "put the data behind the code");
        }
    }

    /** A core without a slot in the rotation waits for ever with its first access, and with code in shared memory. */
    private void turns(Section section) {
        List<Integer> waiting = section.cores.stream()
                .filter(design.coresWithoutSlot()::contains)
                .toList();
        for (int i = 0; i < section.words.length && !waiting.isEmpty(); i++) {
            Op op = op(section, i);
            if (op != null && (op.isAccess() || op == Op.FAR)) {
                problems.warning(
                        Place.line(section.lines[i]),
                        "core %d has no slot in the rotation: this %s waits for ever"
                                .formatted(waiting.get(0), op.mnemonic()),
                        "give it a turn in admission.order");
                return;
            }
        }
    }

    private static @Nullable Op op(Section section, int index) {
        int word = section.words[index];
        return section.code[index] ? Op.of(Word.op(word)) : null;
    }

    /** An address written as a number, outside of the memory that it is meant for. */
    private void address(Section section, int index) {
        int word = section.words[index];
        Op op = op(section, index);
        if (op == null) {
            return;
        }
        boolean shared = op.isAccess() || op == Op.FAR;
        int size = shared ? design.sharedWords() : design.privateWords();
        int address = switch (op.form()) {
            case MEMORY -> Word.hasConstant(word) ? 0 : Word.absolute(word);
            case CROSS -> Word.jumpHasTarget(word) ? Word.crossAddress(word) : 0;
            default -> 0;
        };
        if (address >= size) {
            problems.warning(
                    Place.line(section.lines[index]),
                    "there is no %s word %d: %s faults here"
                            .formatted(shared ? "shared" : "private", address, op.mnemonic()),
                    "%s is 0..%d".formatted(shared ? "shared memory" : "private RAM", size - 1));
        }
    }

    /** What a core runs into after an instruction that does not go elsewhere. */
    private void next(Section section, int index) {
        Op op = op(section, index);
        if (op == null || goesElsewhere(op)) {
            return;
        }
        int next = index + 1;
        int line = section.lines[index];
        if (next < section.words.length) {
            // Words after a call may be what it is called with; a single one amid code may be filled in later.
            boolean amidCode = next + 1 < section.words.length && section.code[next + 1];
            if (op != Op.CALL && !amidCode && !Word.isInstruction(section.words[next])) {
                warn(line, "the core runs on into data: %d is no instruction".formatted(section.words[next]));
            }
        } else if (section.isPrivate()) {
            warn(line, "the core runs on behind the end of its section");
        } else {
            int address = (int) section.address + next;
            Block block = program.shared(address);
            if (block == null || !Word.isInstruction(block.words()[address - block.address()])) {
                warn(line, "the core runs on behind the end of the section");
            }
        }
    }

    private void warn(int line, String message) {
        problems.warning(Place.line(line), message, "end with halt, or a jump");
    }

    /** Never, or for a {@code stop} perhaps never, to the next word. */
    private static boolean goesElsewhere(Op op) {
        return switch (op) {
            case JUMP, FAR, NEAR, HALT, STOP -> true;
            default -> false;
        };
    }
}
