package octurn.cli.stepper;

import java.util.function.Supplier;
import octurn.run.Watch;

/**
 * Where {@code run} comes to rest.
 *
 * @param text as commands write it, and as it is told
 * @param line the line of the program that it stands at, 0 for the others
 * @param watch makes the watch that looks for it
 */
record Stop(String text, int line, Supplier<Watch> watch) {}
