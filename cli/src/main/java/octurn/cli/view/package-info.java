/**
 * What commands show, as lines of text: pure functions from reports, listings, designs and diagnostics to
 * {@link octurn.cli.view.Line}s.
 *
 * <p>In: data, the width to fill, and how text reaches the terminal ({@link octurn.cli.view.Glyphs}). Out: lines that
 * are safe to send: whatever a program, a file or its name holds, no control character gets through. It knows no
 * terminal, no stream and no option.
 */
@NullMarked
package octurn.cli.view;

import org.jspecify.annotations.NullMarked;
