/**
 * The timeline of a run as a picture: lanes over cycles ({@link octurn.cli.draw.Drawing}), laid out once for both kinds
 * of file and written as SVG with text that stays text, or as PNG.
 *
 * <p>In: an excerpt of a run and how it is wanted. Out: bytes. An SVG is the same on every machine, for no font is asked
 * how wide it is; only a PNG needs {@code java.awt}, which is loaded when one is asked for.
 */
@NullMarked
package octurn.cli.draw;

import org.jspecify.annotations.NullMarked;
