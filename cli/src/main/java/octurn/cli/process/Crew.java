package octurn.cli.process;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.IntConsumer;
import org.jspecify.annotations.Nullable;

/** Threads that share out numbered pieces of work among themselves, each piece to one of them, in order of number. */
public final class Crew {

    private static final long LOOK_MILLIS = 100;

    private final String name;
    private final int pieces;
    private final IntConsumer work;
    private final AtomicInteger next = new AtomicInteger();
    private final AtomicInteger done = new AtomicInteger();
    private final AtomicReference<@Nullable Throwable> trouble = new AtomicReference<>();

    /**
     * A crew that works once.
     *
     * @param name of its threads
     * @param pieces how many there are, numbered from 0
     * @param work does the piece of this number; called by several threads at the same time
     */
    public Crew(String name, int pieces, IntConsumer work) {
        this.name = name;
        this.pieces = pieces;
        this.work = work;
    }

    /** How many pieces are done. Can be asked for at any time, from any thread. */
    public int done() {
        return done.get();
    }

    /**
     * Does all pieces and returns when they are done; or, if this thread is interrupted, at once, and then no further piece
     * is begun. A piece that throws is the last: those begun come to their end, and what it threw is thrown here.
     *
     * @param workers how many pieces at a time at most, at least 1
     * @param look is called here every now and then, and at the end
     */
    public void run(int workers, Runnable look) {
        int threads = Math.max(1, Math.min(workers, pieces));
        CountDownLatch working = new CountDownLatch(threads);
        for (int i = 0; i < threads; i++) {
            Thread thread = new Thread(() -> work(working), name + " " + i);
            thread.setDaemon(true);
            thread.start();
        }
        try {
            while (!working.await(LOOK_MILLIS, TimeUnit.MILLISECONDS)) {
                look.run();
            }
        } catch (InterruptedException e) {
            beginNoMore();
            Thread.currentThread().interrupt();
        }
        look.run();
        Throwable thrown = trouble.get();
        if (thrown instanceof Error error) {
            throw error;
        }
        if (thrown instanceof RuntimeException exception) {
            throw exception;
        }
    }

    private void work(CountDownLatch working) {
        try {
            for (int piece = next.getAndIncrement(); piece < pieces; piece = next.getAndIncrement()) {
                work.accept(piece);
                done.incrementAndGet();
            }
        } catch (RuntimeException | Error e) {
            trouble.compareAndSet(null, e);
            beginNoMore();
        } finally {
            working.countDown();
        }
    }

    private void beginNoMore() {
        next.set(pieces);
    }
}
