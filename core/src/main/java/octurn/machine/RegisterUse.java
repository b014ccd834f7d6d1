package octurn.machine;

import octurn.isa.Codes;
import octurn.isa.Word;

/** Which registers an instruction of private work, or an access, has to do with, as bit sets: bit i for register i. */
final class RegisterUse {

    /** The set of the link register alone. */
    private static final int LINK = 1 << 15;

    private RegisterUse() {}

    /** Those that it reads or writes, but for the one that an access takes its address from: see {@link #ofAddress}. */
    static int used(int word) {
        int rd = 1 << Word.rd(word);
        int ra = 1 << Word.ra(word);
        int low = 1 << Word.low(word);
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.NEAR -> Word.jumpHasTarget(word) ? 0 : low;
            case Codes.CALL -> Word.jumpHasTarget(word) ? LINK : LINK | low;
            case Codes.SET, Codes.UPPER, Codes.AGAIN, Codes.READ -> rd;
            case Codes.JUMP_IF -> Word.hasConstant(word) ? ra : ra | 1 << Word.branchRegister(word);
            case Codes.PAUSE, Codes.UNTIL -> Word.hasConstant(word) ? 0 : low;
            case Codes.LOAD, Codes.STORE -> rd | ofAddress(word);
            case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> rd;
            default -> Word.hasConstant(word) ? rd | ra : rd | ra | low;
        };
    }

    /** The one that a load, store or access takes its address from, if any. */
    static int ofAddress(int word) {
        return Word.hasConstant(word) ? 1 << Word.ra(word) : 0;
    }

    /** Those that it writes. */
    static int written(int word) {
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.NEAR, Codes.JUMP_IF, Codes.PAUSE, Codes.UNTIL, Codes.STORE, Codes.POST -> 0;
            case Codes.CALL -> LINK;
            default -> 1 << Word.rd(word);
        };
    }
}
