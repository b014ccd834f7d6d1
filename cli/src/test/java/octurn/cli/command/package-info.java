/** What the commands do with their command lines, their files and their output. */
@NullMarked
package octurn.cli.command;

import org.jspecify.annotations.NullMarked;
