/**
 * Program text to words: lexer, parser, expressions, assembler.
 *
 * <p>In: a file's bytes and the design to assemble for. Out: an {@link octurn.asm.Assembly}, which is a
 * {@link octurn.asm.Program} or all that is wrong with the text. It knows the instruction table and the design, and no
 * machine.
 */
@NullMarked
package octurn.asm;

import org.jspecify.annotations.NullMarked;
