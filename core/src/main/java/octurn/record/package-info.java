/**
 * A run put down in few bytes: what the chip is at one cycle, and from there on each change, for whoever wants to show the
 * run without simulating it. {@code docs/page.md} describes the form byte by byte.
 *
 * <p>A program and how long it runs enter; packed parts leave, one after the other. It must not know where they are kept,
 * nor who reads them.
 */
@NullMarked
package octurn.record;

import org.jspecify.annotations.NullMarked;
