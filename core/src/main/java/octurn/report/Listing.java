package octurn.report;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.isa.Disassembler;
import octurn.isa.Instruction;
import org.jspecify.annotations.Nullable;

/**
 * A program as it lies in memory: each word with the line that it comes from, what it says when it is read back, and the
 * time that it takes under the design.
 *
 * @param program what is listed
 * @param sections in the order of the file
 */
public record Listing(Program program, List<Section> sections) {

    public Listing {
        sections = List.copyOf(sections);
    }

    /**
     * One section.
     *
     * @param block as it was assembled
     * @param rows one for each word
     */
    public record Section(Block block, List<Row> rows) {
        public Section {
            rows = List.copyOf(rows);
        }
    }

    /**
     * One word.
     *
     * @param address where it will lie when it is used: in an image the private address; the count word of an image,
     *     which is used by its address in shared memory, has that one
     * @param word as encoded
     * @param line of the program file, from 1
     * @param code whether the file wrote it as an instruction
     * @param text the instruction read back from the word, or for data the number
     * @param time what it takes, or null for data
     */
    public record Row(
            int address,
            int word,
            int line,
            boolean code,
            String text,
            @Nullable Time time) {}

    /**
     * What an instruction takes, fetching it from shared memory left aside.
     *
     * @param least cycles at the least
     * @param most cycles at the most, if there is a bound that the design or the word gives
     * @param waits whether it goes through the arbiter, so that the wait for its turn is part of it
     */
    public record Time(long least, OptionalLong most, boolean waits) {

        private static Time exactly(long cycles) {
            return new Time(cycles, OptionalLong.of(cycles), false);
        }

        private static Time between(long one, long other) {
            return new Time(Math.min(one, other), OptionalLong.of(Math.max(one, other)), false);
        }

        private static Time from(long least) {
            return new Time(least, OptionalLong.empty(), false);
        }
    }

    /** The listing of this program. */
    public static Listing of(Program program) {
        List<Section> sections = new ArrayList<>();
        for (Block block : program.blocks()) {
            sections.add(section(block, program.design()));
        }
        return new Listing(program, sections);
    }

    private static Section section(Block block, Design design) {
        Map<Integer, String> labels = new HashMap<>();
        block.labels().forEach((label, address) -> labels.putIfAbsent(address, label));
        List<Row> rows = new ArrayList<>();
        for (int i = 0; i < block.words().length; i++) {
            boolean count = block.kind() == Block.Kind.IMAGE && i == 0;
            int address = block.kind() == Block.Kind.IMAGE && !count ? i - 1 : block.address() + i;
            int word = block.words()[i];
            Instruction instruction = block.code()[i] ? Instruction.decode(word) : null;
            rows.add(
                    instruction == null
                            ? new Row(address, word, block.lines()[i], false, Integer.toString(word), null)
                            : new Row(
                                    address,
                                    word,
                                    block.lines()[i],
                                    true,
                                    Disassembler.text(word, address, labels::get),
                                    time(instruction, design)));
        }
        return new Section(block, rows);
    }

    /** What this instruction takes under this design. */
    public static Time time(Instruction instruction, Design design) {
        Cost cost = design.cost();
        return switch (instruction.op().timing()) {
            case PLAIN -> Time.exactly(cost.plain());
            case PRIVATE -> Time.exactly(cost.privateAccess());
            case MULTIPLY -> Time.exactly(cost.multiply());
            case DIVIDE -> Time.exactly(cost.divide());
            case TAKEN -> Time.exactly(cost.taken());
            case TAKEN_OR_PLAIN -> Time.between(cost.plain(), cost.taken());
            case ACCESS -> access(design);
            case HOLD ->
                instruction.constant()
                        ? Time.exactly(Math.max(cost.plain(), instruction.value()))
                        : Time.from(cost.plain());
            case UNTIL_TIME, UNTIL_PINS -> Time.from(cost.plain());
        };
    }

    private static Time access(Design design) {
        long least = (long) design.cost().plain() + design.slotCycles();
        long worst = 0;
        for (TurnFigures.CoreTurns core : TurnFigures.of(design).cores()) {
            if (core.worstWait().isEmpty()) {
                return new Time(least, OptionalLong.empty(), true);
            }
            worst = Math.max(worst, core.worstWait().getAsLong());
        }
        return new Time(least, OptionalLong.of(least + worst), true);
    }
}
