package octurn.cli.command;

import java.util.concurrent.TimeUnit;
import octurn.cli.process.Surroundings;

/** A line on the terminal that tells how far a long piece of work is, and how long it is likely to take. */
final class CountProgress {

    private static final long FIRST_AFTER = TimeUnit.SECONDS.toNanos(1);
    private static final long AGAIN_AFTER = TimeUnit.MILLISECONDS.toNanos(250);
    private static final int BAR = 20;

    private final Surroundings surroundings;
    private final String things;
    private final int before;
    private final int all;
    private final long begin;
    private long next;
    private int shown;

    /**
     * @param things what is counted, as in {@code points}
     * @param before how many were done already
     * @param all how many there are
     */
    CountProgress(Surroundings surroundings, String things, int before, int all) {
        this.surroundings = surroundings;
        this.things = things;
        this.before = before;
        this.all = all;
        this.begin = surroundings.nanoTime().getAsLong();
        this.next = begin + FIRST_AFTER;
    }

    /** So many are done now, those done before included. */
    synchronized void tell(int done) {
        long now = surroundings.nanoTime().getAsLong();
        if (!surroundings.errIsTerminal() || now - next < 0) {
            return;
        }
        next = now + AGAIN_AFTER;
        String text = line(things, done, all, before, TimeUnit.NANOSECONDS.toSeconds(now - begin));
        String blanks = " ".repeat(Math.max(0, shown - text.length()));
        surroundings.complain("\r" + text + blanks);
        shown = text.length();
    }

    /** The line, in ASCII. */
    static String line(String things, int done, int all, int before, long seconds) {
        int full = (int) ((long) BAR * done / all);
        String left = done == before ? "" : ", about %s left".formatted(time(left(done, all, before, seconds)));
        return "[%s%s] %,d of %,d %s, %d %%%s"
                .formatted("#".repeat(full), ".".repeat(BAR - full), done, all, things, 100L * done / all, left);
    }

    private static long left(int done, int all, int before, long seconds) {
        return (long) Math.ceil((double) seconds * (all - done) / (done - before));
    }

    private static String time(long seconds) {
        if (seconds < 100) {
            return seconds + " s";
        }
        long minutes = (seconds + 30) / 60;
        return minutes < 100 ? minutes + " min" : "%d h %d min".formatted(minutes / 60, minutes % 60);
    }

    /** Takes the line away. */
    synchronized void erase() {
        if (shown > 0) {
            surroundings.complain("\r" + " ".repeat(shown) + "\r");
            shown = 0;
        }
    }
}
