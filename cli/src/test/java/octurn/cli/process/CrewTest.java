package octurn.cli.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntConsumer;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class CrewTest {

    private final ConcurrentLinkedQueue<Integer> worked = new ConcurrentLinkedQueue<>();

    private Crew crew(int pieces) {
        return new Crew("test", pieces, worked::add);
    }

    @ParameterizedTest
    @ValueSource(ints = {-1, 0, 1, 2, 7, 1000})
    void run_anyNumberOfWorkers_doesEachPieceOnce(int workers) {
        Crew crew = crew(500);
        crew.run(workers, () -> {});
        assertThat(worked)
                .containsExactlyInAnyOrderElementsOf(
                        IntStream.range(0, 500).boxed().toList());
        assertThat(crew.done()).isEqualTo(500);
    }

    @Test
    void run_oneWorker_takesThePiecesInOrder() {
        crew(5).run(1, () -> {});
        assertThat(worked).containsExactly(0, 1, 2, 3, 4);
    }

    @Test
    void run_nothingToDo_looksOnce() {
        AtomicInteger looks = new AtomicInteger();
        crew(0).run(4, looks::incrementAndGet);
        assertThat(worked).isEmpty();
        assertThat(looks).hasValue(1);
    }

    /** Each of three pieces waits for the other two. */
    @Test
    void run_threeWorkers_workAtTheSameTime() {
        CyclicBarrier together = new CyclicBarrier(3);
        Crew crew = new Crew("test", 3, trying(piece -> together.await(1, TimeUnit.MINUTES)));
        crew.run(3, () -> {});
        assertThat(crew.done()).isEqualTo(3);
    }

    /** The only piece goes on until it has been looked at twice. */
    @Test
    void look_whileItWorks_isCalledAgainAndAgain() {
        CountDownLatch looks = new CountDownLatch(2);
        AtomicInteger doneAtFirst = new AtomicInteger(-1);
        Crew crew = new Crew("test", 1, trying(piece -> looks.await(1, TimeUnit.MINUTES)));
        crew.run(1, () -> {
            doneAtFirst.compareAndSet(-1, crew.done());
            looks.countDown();
        });
        assertThat(looks.getCount()).isZero();
        assertThat(doneAtFirst).hasValue(0);
        assertThat(crew.done()).isEqualTo(1);
    }

    static List<Throwable> thrown() {
        return List.of(new Failure("no room"), new IllegalStateException("ours"), new StackOverflowError());
    }

    @ParameterizedTest
    @MethodSource("thrown")
    void run_aPieceThrows_throwsTheSameAndBeginsNoOther(Throwable trouble) {
        AtomicInteger looks = new AtomicInteger();
        Crew crew = new Crew("test", 100, piece -> {
            worked.add(piece);
            if (piece == 3) {
                throwUnchecked(trouble);
            }
        });
        assertThatThrownBy(() -> crew.run(1, looks::incrementAndGet)).isSameAs(trouble);
        assertThat(worked).containsExactly(0, 1, 2, 3);
        assertThat(crew.done()).isEqualTo(3);
        assertThat(looks.get()).isPositive();
    }

    /** Those that are at work are not waited for, but what they do is the last. */
    @Test
    void run_interrupted_returnsAndBeginsNoOther() throws InterruptedException {
        CountDownLatch begun = new CountDownLatch(1);
        CountDownLatch goOn = new CountDownLatch(1);
        CountDownLatch over = new CountDownLatch(1);
        Crew crew = new Crew("test", 2, trying(piece -> {
            worked.add(piece);
            begun.countDown();
            goOn.await(1, TimeUnit.MINUTES);
            over.countDown();
        }));
        Thread caller = new Thread(() -> crew.run(1, () -> {}));
        caller.start();
        assertThat(begun.await(1, TimeUnit.MINUTES)).isTrue();
        caller.interrupt();
        caller.join(TimeUnit.MINUTES.toMillis(1));
        assertThat(caller.isAlive()).isFalse();
        goOn.countDown();
        assertThat(over.await(1, TimeUnit.MINUTES)).isTrue();
        assertThat(worked).containsExactly(0);
    }

    private static void throwUnchecked(Throwable trouble) {
        if (trouble instanceof Error error) {
            throw error;
        }
        throw (RuntimeException) trouble;
    }

    private interface Trial {
        void work(int piece) throws Exception;
    }

    private static IntConsumer trying(Trial trial) {
        return piece -> assertThatCode(() -> trial.work(piece)).doesNotThrowAnyException();
    }
}
