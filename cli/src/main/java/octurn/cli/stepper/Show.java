package octurn.cli.stepper;

import octurn.cli.view.Frame;
import octurn.run.Progress;

/**
 * What a whole screen shows, and what keys do to it. It knows no terminal: frames go out, names of keys and command lines
 * come in.
 */
public interface Show {

    /** What comes after a key or a command. */
    enum Next {
        GO_ON,

        /** Something is to be done with the terminal given back meanwhile: {@link Show#errand}. */
        ERRAND,

        /** The user wants to leave. */
        LEAVE
    }

    /** The present screen of this size. */
    Frame frame(int rows, int columns);

    /**
     * Takes a key.
     *
     * @param key its name: one character, or a word like {@code left}; {@code unknown} for one without a name
     * @param progress is told how far long moves have come, and may interrupt them
     */
    Next press(String key, Progress progress);

    /** Does a command that a part of the frame has for the mouse. */
    Next command(String line, Progress progress);

    /** How long something may take before any key ends it, in nanoseconds; Ctrl-C does at once. */
    default long patienceNanos() {
        return 200_000_000;
    }

    /** Cycles a second while playing; 0 while not. */
    default int playingSpeed() {
        return 0;
    }

    /** Goes on by so many cycles while playing. */
    default void playOn(long cycles) {}

    /**
     * Called every now and then while no key comes.
     *
     * @return whether there is something new to show
     */
    default boolean idle(Progress progress) {
        return false;
    }

    /** Does what a key asked for with {@link Next#ERRAND}; the terminal is as the user's shell has it. */
    default void errand() {}
}
