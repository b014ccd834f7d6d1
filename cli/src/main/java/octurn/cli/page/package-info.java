/**
 * A recorded run as a page for a browser, in one file that needs nothing else.
 *
 * <p>A program and how long it runs enter; bytes of HTML leave, which are for a file. It must not know files, the command
 * line or the terminal. What the page does is in the resources beside it, in plain JavaScript.
 */
@NullMarked
package octurn.cli.page;

import org.jspecify.annotations.NullMarked;
