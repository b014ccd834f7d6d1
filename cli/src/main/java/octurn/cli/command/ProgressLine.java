package octurn.cli.command;

import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import octurn.cli.process.Surroundings;
import octurn.run.Run;

/** Brings a run to its end; if that takes more than a moment, a line on the terminal tells how far it is. */
final class ProgressLine {

    private static final long FIRST_AFTER = TimeUnit.SECONDS.toNanos(1);
    private static final long AGAIN_AFTER = TimeUnit.MILLISECONDS.toNanos(200);
    private static final long FIRST_STRETCH = 1 << 16;

    private final Surroundings surroundings;
    private final Runnable erase = this::erase;
    private int shown;

    ProgressLine(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    void finish(Run run) {
        if (surroundings.errIsTerminal()) {
            runTo(run, run.limit(), () -> false);
        } else {
            run.finish();
        }
    }

    /** Takes a run to this cycle, unless it ends before or there is enough of it. */
    void runTo(Run run, long cycle, BooleanSupplier enough) {
        long to = Math.min(cycle, run.limit());
        long begin = surroundings.nanoTime().getAsLong();
        long next = begin + FIRST_AFTER;
        long stretch = FIRST_STRETCH;
        surroundings.cleanups().add(erase);
        while (!run.isOver() && run.chip().cycle() < to && !enough.getAsBoolean()) {
            long before = surroundings.nanoTime().getAsLong();
            run.runTo(run.chip().cycle() + Math.min(stretch, to - run.chip().cycle()));
            long now = surroundings.nanoTime().getAsLong();
            // Cycles can be slow or quick by a factor of thousands, so the stretch follows.
            stretch = now - before < AGAIN_AFTER / 4 ? stretch * 2 : Math.max(1, stretch / 2);
            if (now - next >= 0 && surroundings.errIsTerminal()) {
                show(run.chip().cycle(), run.limit());
                next = now + AGAIN_AFTER;
            }
        }
        erase();
        surroundings.cleanups().remove(erase);
    }

    private void show(long cycle, long limit) {
        String text = "%,d cycles, %d %% of the limit".formatted(cycle, (int) (100.0 * cycle / limit));
        String blanks = " ".repeat(Math.max(0, shown - text.length()));
        surroundings.complain("\r" + text + blanks);
        shown = text.length();
    }

    private synchronized void erase() {
        if (shown > 0) {
            surroundings.complain("\r" + " ".repeat(shown) + "\r");
            shown = 0;
        }
    }
}
