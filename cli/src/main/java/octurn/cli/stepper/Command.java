package octurn.cli.stepper;

import java.util.List;

/**
 * A command of the stepper: one row of the table that serves keys, command line, scripts and help.
 *
 * @param name one word
 * @param arguments what may follow, for people; empty for nothing
 * @param group what sort of command it is
 * @param help what it does, in one line
 * @param keys the keys that give it
 * @param offers what may come next on the command line
 * @param action what it does
 */
record Command(String name, String arguments, Group group, String help, List<Key> keys, Offers offers, Action action) {

    /** The sorts of command, as the help lists them. */
    enum Group {
        MOVE("Moving in time"),
        LOOK("Looking"),
        STOP("Coming to rest"),
        CHANGE("Changing the run"),
        SESSION("The session");

        private final String title;

        Group(String title) {
            this.title = title;
        }

        String title() {
            return title;
        }
    }

    /**
     * A key and the command line that it stands for.
     *
     * @param key its name: one character, or a word like {@code left}
     * @param line the command line; if it ends with a blank, it is put into the command line for the user to go on
     */
    record Key(String key, String line) {}

    /** What may come next. */
    @FunctionalInterface
    interface Offers {
        /** Words that may follow these; an empty list if anything may, or nothing. */
        List<String> after(Stepper stepper, List<String> words);
    }

    /** What a command does. */
    @FunctionalInterface
    interface Action {
        /**
         * Does it.
         *
         * @throws Mistake if the words make no sense, or it cannot be done; then nothing was
         */
        Answer run(Stepper stepper, Words words);
    }
}
