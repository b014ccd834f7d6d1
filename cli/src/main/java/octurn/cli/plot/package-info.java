/**
 * Pictures for handouts: what to draw ({@link octurn.cli.plot.Picture}, made by {@link octurn.cli.plot.Plots}) and how
 * ({@link octurn.cli.plot.Painter}), as SVG with real text or as PNG.
 *
 * <p>The only package that knows the drawing libraries; they, and {@code java.awt}, are loaded when a picture is asked for.
 */
@NullMarked
package octurn.cli.plot;

import org.jspecify.annotations.NullMarked;
