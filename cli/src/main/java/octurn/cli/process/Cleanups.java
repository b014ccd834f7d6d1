package octurn.cli.process;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** What is to be tidied up if the user ends the process in the middle of a command. */
public final class Cleanups {

    private final Set<Runnable> cleanups = new LinkedHashSet<>();

    /** Adds one. */
    public synchronized void add(Runnable cleanup) {
        cleanups.add(cleanup);
    }

    /** Takes one back that is no longer needed. */
    public synchronized void remove(Runnable cleanup) {
        cleanups.remove(cleanup);
    }

    /** Does all that are there, once. */
    public void run() {
        List<Runnable> now;
        synchronized (this) {
            now = List.copyOf(cleanups);
            cleanups.clear();
        }
        now.forEach(Runnable::run);
    }
}
