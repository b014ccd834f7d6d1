package octurn.arbiter;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import octurn.design.Input;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Slots in strict rotation, against the rule written out: the slot at k*S belongs to order[k mod length]. */
class RotationTest {

    @Test
    void plainOrder_core1Of8_hasSlotsAt3And27() {
        Rotation rotation = new Rotation(3, List.of(0, 1, 2, 3, 4, 5, 6, 7), 8);

        assertThat(rotation.nextSlot(1, 0)).isEqualTo(3);
        assertThat(rotation.nextSlot(1, 3)).isEqualTo(3);
        assertThat(rotation.nextSlot(1, 4)).isEqualTo(27);
        assertThat(rotation.nextSlot(0, 0)).isZero();
        assertThat(rotation.nextSlot(0, 1)).isEqualTo(24);
    }

    @Test
    void coreThatTheOrderLeavesOut_hasNoSlot() {
        Rotation rotation = new Rotation(3, List.of(0, 2), 3);

        assertThat(rotation.nextSlot(1, 0)).isEqualTo(Rotation.NEVER);
        assertThat(rotation.slotsBefore(1, 1000)).isZero();
    }

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 60);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void everySlot_isAsTheRuleSays(long seed) {
        Random random = new Random(seed);
        int cores = 1 + random.nextInt(32);
        int slotCycles = 1 + random.nextInt(seed % 2 == 0 ? 64 : 4);
        int length = 1 + random.nextInt(seed % 3 == 0 ? 256 : 12);
        List<Integer> order = IntStream.range(0, length)
                .map(i -> random.nextInt(cores))
                .boxed()
                .toList();
        Rotation rotation = new Rotation(slotCycles, order, cores);

        int[] slots = new int[cores];
        for (int cycle = 0; cycle < 2 * length * slotCycles + 3; cycle++) {
            int owner = order.get(cycle / slotCycles % length);
            assertThat(rotation.owner(cycle)).isEqualTo(owner);
            for (int core = 0; core < cores; core++) {
                assertThat(rotation.slotsBefore(core, cycle)).isEqualTo(slots[core]);
            }
            if (cycle % slotCycles == 0) {
                slots[owner]++;
            }
        }
        for (int core = 0; core < cores; core++) {
            // Backwards, so that the next slot is at hand.
            long next = Rotation.NEVER;
            for (int cycle = 4 * length * slotCycles; cycle >= 0; cycle--) {
                if (cycle % slotCycles == 0 && order.get(cycle / slotCycles % length) == core) {
                    next = cycle;
                }
                if (cycle <= 2 * length * slotCycles) {
                    assertThat(rotation.nextSlot(core, cycle)).isEqualTo(next);
                }
            }
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void nextSlot_atTheGreatestCycles_isExact(long seed) {
        Random random = new Random(seed);
        int slotCycles = 1 + random.nextInt(64);
        int length = 1 + random.nextInt(256);
        List<Integer> order =
                IntStream.range(0, length).map(i -> i == 0 ? 0 : 1).boxed().toList();
        Rotation rotation = new Rotation(slotCycles, order, 2);
        BigInteger round = BigInteger.valueOf((long) slotCycles * length);

        for (int i = 0; i < 500; i++) {
            long cycle = i < 250 ? Input.MAX_CYCLE - random.nextInt(20_000) : random.nextLong(Input.MAX_CYCLE);
            // Core 0 owns the first slot of each round: the next multiple of the round.
            BigInteger next = BigInteger.valueOf(cycle)
                    .add(round)
                    .subtract(BigInteger.ONE)
                    .divide(round)
                    .multiply(round);
            assertThat(rotation.nextSlot(0, cycle)).isEqualTo(next.longValueExact());
            assertThat(rotation.slotsBefore(0, cycle))
                    .isEqualTo(next.divide(round).longValueExact());
            assertThat(rotation.owner(cycle)).isEqualTo(cycle % round.longValueExact() < slotCycles ? 0 : 1);
        }
    }

    /** From turn to turn, as an engine goes: near, far, the same again, and back. */
    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void cursor_anyRequests_findsTheSlotThatTheRuleFinds(long seed) {
        Random random = new Random(seed);
        int cores = 1 + random.nextInt(32);
        int length = 1 + random.nextInt(seed % 3 == 0 ? 256 : 12);
        List<Integer> order = IntStream.range(0, length)
                .map(i -> random.nextInt(cores))
                .boxed()
                .toList();
        Rotation rotation = new Rotation(1 + random.nextInt(seed % 2 == 0 ? 64 : 4), order, cores);

        for (int core = 0; core < cores; core++) {
            Rotation.Cursor cursor = rotation.cursor(core);
            long request = 0;
            for (int i = 0; i < 300; i++) {
                long turn = cursor.next(request);
                assertThat(turn).isEqualTo(rotation.nextSlot(core, request));
                long base = turn == Rotation.NEVER ? request : turn;
                request = switch (random.nextInt(8)) {
                    case 0 -> random.nextLong(Input.MAX_CYCLE);
                    case 1 -> random.nextInt(1000);
                    case 2 -> base;
                    default -> base + random.nextInt(300);
                };
            }
        }
    }
}
