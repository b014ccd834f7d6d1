/**
 * The instruction set: one table ({@link octurn.isa.Op}), from which encoding, decoding, disassembly, the
 * assembler's syntax and the printed card all follow.
 *
 * <p>In: words, or the fields of an instruction. Out: the other of the two, or text. It knows no program, no memory
 * and no time but the names of what an instruction costs.
 */
@NullMarked
package octurn.isa;

import org.jspecify.annotations.NullMarked;
