package octurn.machine;

/**
 * What ended a core.
 *
 * @param kind which rule was broken
 * @param core whose
 * @param cycle the first cycle in state fault
 * @param address of the instruction, unsigned; for {@link Kind#OFF_THE_END} the target, for {@link Kind#BAD_IMAGE} 0
 * @param inShared which memory the address is in
 * @param value the number at fault: the word, the address, the core's number, the mode word or the count, as the kind
 *     has it; 0 where there is none
 */
public record Fault(Kind kind, int core, long cycle, int address, boolean inShared, int value) {

    /** The kinds of fault. */
    public enum Kind {
        NOT_AN_INSTRUCTION("not-an-instruction"),
        OFF_THE_END("off-the-end"),
        PRIVATE_ADDRESS("private-address"),
        SHARED_ADDRESS("shared-address"),
        DIVIDE_BY_ZERO("divide-by-zero"),
        NO_SUCH_CORE("no-such-core"),
        BAD_TALLY("bad-tally"),
        BAD_IMAGE("bad-image");

        private final String text;

        Kind(String text) {
            this.text = text;
        }

        /** As in the run report. */
        public String text() {
            return text;
        }
    }
}
