package octurn.cli.stepper;

import java.util.List;

/** Where scripts of commands are kept. What goes wrong there is told as a refusal. */
public interface ScriptFiles {

    /** A stepper that has no files at all. */
    ScriptFiles NONE = new ScriptFiles() {
        @Override
        public List<String> read(String name) {
            throw new Mistake("there are no script files here");
        }

        @Override
        public void check(String name) {
            throw new Mistake("there are no script files here");
        }

        @Override
        public void write(String name, List<String> lines) {
            throw new Mistake("there are no script files here");
        }
    };

    /** The lines of a script. */
    List<String> read(String name);

    /** Sees whether a script can be written there, and writes nothing. */
    void check(String name);

    /** Writes a script, whole or not at all. */
    void write(String name, List<String> lines);

    /** A refusal, for those who implement this. */
    static RuntimeException refusal(String message) {
        return new Mistake(message);
    }
}
