package octurn.cli.process;

import java.io.IOException;

/** Stops this process, as the shell's Ctrl-Z does, until the shell lets it go on. */
public final class Pausing {

    private Pausing() {}

    /** Returns when the process goes on; false if it could not be stopped, as on Windows. */
    public static boolean pause() {
        try {
            long self = ProcessHandle.current().pid();
            return new ProcessBuilder("kill", "-STOP", Long.toString(self))
                            .inheritIO()
                            .start()
                            .waitFor()
                    == 0;
        } catch (IOException e) {
            return false;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }
}
