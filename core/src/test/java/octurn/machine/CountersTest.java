package octurn.machine;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.LongStream;
import octurn.trace.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The counters of waits, against maps. */
class CountersTest {

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 30);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void waitCounts_anyWaits_areCountedLikeInAMap(long seed) {
        Random random = new Random(seed);
        WaitCounts counts = new WaitCounts();
        Map<Long, Long> expected = new TreeMap<>();
        int range = 1 + random.nextInt(seed % 2 == 0 ? 5000 : 20);
        for (int i = 0; i < 3000; i++) {
            long wait = random.nextInt(50) == 0 ? random.nextLong(1L << 53) : random.nextInt(range);
            long times = 1L + random.nextInt(3);
            counts.add(wait, times);
            expected.merge(wait, times, Long::sum);
        }

        assertThat(counts.toMap()).isEqualTo(expected);

        WaitCounts copy = new WaitCounts();
        copy.add(1, 1);
        copy.copyFrom(counts);
        counts.add(0, 1);
        for (int i = 0; i < 100; i++) {
            copy.add(1_000_000 + i, 1);
            expected.merge(1_000_000L + i, 1L, Long::sum);
        }
        // The copy goes its own way.
        assertThat(copy.toMap()).isEqualTo(expected);
    }

    @Test
    void waitCounts_ofNothing_areEmpty() {
        assertThat(new WaitCounts().toMap()).isEmpty();
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void accessSites_anyAccesses_areCountedLikeInAMap(long seed) {
        Random random = new Random(seed);
        AccessSites sites = new AccessSites();
        Map<Long, AccessSite> expected = new TreeMap<>();
        int range = 1 + random.nextInt(seed % 2 == 0 ? 900 : 9);
        for (int i = 0; i < 3000; i++) {
            int address = random.nextInt(range);
            boolean inShared = random.nextBoolean();
            int origin = random.nextInt(100) - 2;
            long wait = random.nextInt(30);
            long times = 1L + random.nextInt(3);
            sites.add(Kind.place(address, inShared), origin, wait, times);
            expected.merge(
                    Kind.place(address, inShared),
                    new AccessSite(3, inShared, address, origin, times, wait * times, wait, wait),
                    (old, more) -> new AccessSite(
                            3,
                            inShared,
                            address,
                            old.origin(),
                            old.count() + more.count(),
                            old.total() + more.total(),
                            Math.min(old.min(), more.min()),
                            Math.max(old.max(), more.max())));
        }

        assertThat(sites.list(3)).containsExactlyElementsOf(expected.values());

        AccessSites copy = new AccessSites();
        copy.copyFrom(sites);
        for (int i = 0; i < 100; i++) {
            sites.add(Kind.place(100_000 + i, false), 0, 1, 1);
        }
        assertThat(copy.list(3)).containsExactlyElementsOf(expected.values());
    }

    @Test
    void accessSites_oneRow_carriesCountTotalLeastAndMost() {
        AccessSites sites = new AccessSites();
        sites.add(Kind.place(4, false), Core.FROM_PROGRAM, 7, 1);
        sites.add(Kind.place(4, false), 99, 3, 2);
        sites.add(Kind.place(4, false), Core.FROM_NOWHERE, 5, 1);

        // The origin is that of the first.
        assertThat(sites.list(6)).containsExactly(new AccessSite(6, false, 4, Core.FROM_PROGRAM, 4, 18, 3, 7));
    }
}
