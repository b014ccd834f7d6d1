package octurn.report;

import octurn.design.Design;
import octurn.machine.Fault;

/** What a fault means, in one sentence for people. */
final class FaultMessages {

    private FaultMessages() {}

    static String sentence(Fault fault, Design design) {
        int value = fault.value();
        String unsigned = Integer.toUnsignedString(value);
        String memory = fault.inShared() ? "shared memory" : "private RAM";
        int words = fault.inShared() ? design.sharedWords() : design.privateWords();
        return switch (fault.kind()) {
            case NOT_AN_INSTRUCTION -> "the word 0x%08X is no instruction".formatted(value);
            case OFF_THE_END ->
                "the program counter went to %s, but %s ends at %d".formatted(unsigned, memory, words - 1);
            case PRIVATE_ADDRESS ->
                "private address %s is outside 0..%d".formatted(unsigned, design.privateWords() - 1);
            case SHARED_ADDRESS -> "shared address %s is outside 0..%d".formatted(unsigned, design.sharedWords() - 1);
            case DIVIDE_BY_ZERO -> "a division by 0";
            case NO_SUCH_CORE -> "there is no core %d: this chip has 0..%d".formatted(value, design.cores() - 1);
            case BAD_TALLY -> "0x%X is no mode word of a tally".formatted(value);
            case BAD_IMAGE ->
                "the image at shared address %s does not fit: its count must be 1..%d and its words inside shared memory"
                        .formatted(unsigned, design.privateWords());
        };
    }
}
