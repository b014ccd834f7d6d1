package octurn.isa;

/**
 * How an instruction is laid out in its word, and how its operands are written.
 *
 * <p>The operation is bits 31..26 in every form; every bit that a form does not name is 0.
 *
 * <pre>
 *        31      26 25    22 21    18 17 16                  0
 *       +----------+--------+--------+--+---------------------+
 *   S   |    op    |   rd   |            c (22)               |
 *   A   |    op    |   rd   |   ra   |1 |   x (17, signed)    |   or  0, register in 3..0
 *   M   |    op    |   rd   |   ra   |1 |   x (17, signed)    |   or  ra 0, 0, address (17)
 *   C   |    op    |  cond  |   ra   |i |  b (8) | offset (9) |   i 0: register in 12..9
 *   J   |    op    |i|           x (25)                       |   i 0: register in 3..0
 *   L   |    op    |   rd   |      offset (22, signed)        |
 *   P   |    op    |   rd   |                      | port (4) |
 *   W   |    op    |   0    |   ra   |i |   x as in A         |
 *   T   |    op    |   rd   |   ra   |             |  rb (4)  |
 *       +----------+--------+--------+--+---------------------+
 * </pre>
 */
public enum Form {
    /** {@code rd, c}: a signed constant of 22 bits. */
    SET('S', "rd, c"),
    /** {@code rd, c}: an unsigned constant of 10 bits. */
    UPPER('S', "rd, c"),
    /** {@code rd, ra, b}. */
    THREE('A', "rd, ra, b"),
    /** {@code rd, [m]}. */
    MEMORY('M', "rd, [m]"),
    /** {@code x if ra COND b}: the target is the word's own address plus the offset. */
    BRANCH('C', "x if ra COND b"),
    /** {@code x}: a signed distance from the word's own address, or a register that holds the address. */
    JUMP('J', "x"),
    /** {@code x}: the address itself, or a register that holds it. */
    CROSS('J', "x"),
    /** {@code rd, x}: the target is the word's own address plus the offset. */
    LOOP('L', "rd, x"),
    /** {@code rd, PORT}. */
    READ('P', "rd, PORT"),
    /** {@code PORT, rs}: the register in the bits of rd. */
    WRITE('P', "PORT, rs"),
    /** {@code b}: ra is 0. */
    HOLD('W', "b"),
    /** {@code ra, b}. */
    AWAIT('W', "ra, b"),
    /** {@code rd, ra, rb}. */
    START('T', "rd, ra, rb"),
    /** {@code rc}: in the bits of rd. */
    STOP('T', "rc"),
    /** No operands. */
    BARE('T', "");

    private final char letter;
    private final String operands;

    Form(char letter, String operands) {
        this.letter = letter;
        this.operands = operands;
    }

    /** The letter under which the layout stands in the drawing above. */
    public char letter() {
        return letter;
    }

    /** How the operands are written. */
    public String operands() {
        return operands;
    }
}
