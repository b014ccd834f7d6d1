package octurn.machine;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Comparator;
import java.util.Random;
import java.util.TreeSet;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class AgendaTest {

    private record Entry(long cycle, int core) {}

    static IntStream seeds() {
        return IntStream.rangeClosed(1, 20);
    }

    @Test
    void cycle_nothingOnIt_isAfterAllThatCanBeSimulated() {
        Agenda agenda = new Agenda();

        assertThat(agenda.isEmpty()).isTrue();
        assertThat(agenda.cycle()).isGreaterThan(1L << 53);
    }

    /** Against a sorted set of the library. */
    @ParameterizedTest
    @MethodSource("seeds")
    void first_anyOrderOfAdding_isTheEarliestAndOfEqualsTheLowestCore(int seed) {
        Random random = new Random(seed);
        Agenda agenda = new Agenda();
        TreeSet<Entry> expected =
                new TreeSet<>(Comparator.comparingLong(Entry::cycle).thenComparingInt(Entry::core));
        long now = 0;
        for (int i = 0; i < 2000; i++) {
            int core = random.nextInt(32);
            if (expected.stream().noneMatch(entry -> entry.core() == core)) {
                long cycle = now + random.nextInt(random.nextBoolean() ? 5 : 500);
                agenda.add(cycle, core);
                expected.add(new Entry(cycle, core));
            } else {
                Entry first = expected.pollFirst();
                assertThat(new Entry(agenda.cycle(), agenda.core())).isEqualTo(first);
                now = agenda.cycle();
                agenda.remove();
            }
            assertThat(agenda.isEmpty()).isEqualTo(expected.isEmpty());
        }
    }

    /** The engine goes back to an earlier cycle when a core comes to a stop. */
    @Test
    void clear_thenAnEarlierCycle_isTakenLikeAnyOther() {
        Agenda agenda = new Agenda();
        agenda.add(1000, 3);
        agenda.remove();

        agenda.clear();
        agenda.add(20, 5);
        agenda.add(10, 4);

        assertThat(agenda.cycle()).isEqualTo(10);
        assertThat(agenda.core()).isEqualTo(4);
        agenda.remove();
        assertThat(agenda.core()).isEqualTo(5);
    }
}
