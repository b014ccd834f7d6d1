package octurn.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.groups.Tuple.tuple;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.LongStream;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.reference.RandomPrograms;
import octurn.report.RunReport.HotSpot;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class StallMeterTest {

    /** The worked example of the chip's rules: a core that fetches twice waits 23 and then 20 cycles. */
    @Test
    void twoFetches_ofCore0_wait23And20() {
        Measured measured = Measured.of("core 0\n fetch r1, [0]\n fetch r2, [1]\n halt\n", Design.DEFAULT);

        assertThat(measured.stalls())
                .extracting(AccessStalls::line, stalls -> stalls.waits().min(), AccessStalls::turns)
                .containsExactly(
                        // Asked for at 1, just too late for the slot at 0: 1 cycle less, but there is none to remove.
                        tuple(2, 23L, new TurnRule(23, 1, 1, new Spread(1, 0, 0, 0), 0)),
                        // 24 - 20 = 4 cycles less would win a turn; there are 0 to remove.
                        tuple(3, 20L, new TurnRule(20, 4, 4, new Spread(1, 0, 0, 0), 0)));
    }

    /** "Always waits 9: up to 9 more fit; to win anything remove at least 15": 24 cycles between two slots. */
    @Test
    void anAccess_thatAlwaysWaits9_has9FreeAndNeeds15Less() {
        String text = "core 0\n set r1, 50\nnext: pause 9\n fetch r2, [0]\n again r1, next\n halt\n";

        Measured measured = Measured.of(text, Design.DEFAULT);

        AccessStalls stalls = measured.stalls().get(0);
        assertThat(stalls.histogram()).containsExactlyInAnyOrderEntriesOf(Map.of(13L, 1L, 9L, 49L));
        TurnRule rule = stalls.turns();
        assertThat(rule).isNotNull();
        assertThat(rule.freeCycles()).isEqualTo(9);
        assertThat(rule.everyCycles()).isEqualTo(15);
        // The first pass has 10 cycles before it (set and pause), the others 11 (again and pause): 15 are not there.
        assertThat(rule.workCycles()).isEqualTo(new Spread(50, 10 + 49 * 11, 10, 11));
        assertThat(rule.winnable()).isZero();
    }

    /** Core 1 is admitted at 3 and has no slot before, for slots start with cycle 0: no removal can win. */
    @Test
    void anAccess_inItsCoresFirstSlot_hasNothingToWin() {
        Measured measured = Measured.of("core 1\n fetch r1, [0]\n halt\n", Design.DEFAULT);

        assertThat(measured.stalls().get(0).turns()).isEqualTo(new TurnRule(2, 0, 0, new Spread(1, 0, 0, 0), 0));
    }

    @Test
    void aLine_ofTwoCores_isWeighedTogether() {
        TurnRule one = new TurnRule(9, 15, 15, new Spread(1, 20, 20, 20), 1);
        TurnRule other = new TurnRule(5, 0, 0, new Spread(1, 3, 3, 3), 0);

        assertThat(one.and(other)).isEqualTo(new TurnRule(5, 15, 15, new Spread(2, 23, 3, 20), 1));
    }

    @Test
    void onDemand_andForCodeInSharedMemory_thereIsNoRule() {
        Design onDemand = Design.DEFAULT.withAdmission(new Admission.NextWaiting());
        String shared = "core 0\n far there\nshared\nthere: fetch r1, [0]\n halt\n";

        assertThat(Measured.of("core 0\n fetch r1, [0]\n halt\n", onDemand)
                        .stalls()
                        .get(0)
                        .turns())
                .isNull();
        assertThat(Measured.of(shared, Design.DEFAULT).stalls().get(0).turns()).isNull();
    }

    static LongStream seeds() {
        return LongStream.range(1, 120);
    }

    /** What the meter counts from events is what the engine counts in the report, on programs of every kind. */
    @ParameterizedTest
    @MethodSource("seeds")
    void meters_onRandomPrograms_agreeWithTheReport(long seed) {
        RandomPrograms.Generated generated = RandomPrograms.of(seed);
        Program program = Measured.assemble(generated.text(), generated.design());

        Measured measured = Measured.of(program, generated.scenario(), generated.limit());

        List<HotSpot> spots = measured.stalls().stream()
                .map(stalls -> new HotSpot(
                        stalls.core(),
                        stalls.inShared(),
                        stalls.address(),
                        stalls.line(),
                        stalls.waits().count(),
                        stalls.waits().total(),
                        stalls.waits().min(),
                        stalls.waits().max()))
                .toList();
        assertThat(spots).as(generated.toString()).isEqualTo(measured.report().hotSpots());
        measured.report().cores().forEach(core -> {
            Map<Long, Long> sum = new TreeMap<>();
            measured.stalls().stream()
                    .filter(stalls -> stalls.core() == core.core())
                    .forEach(stalls -> stalls.histogram().forEach((wait, count) -> sum.merge(wait, count, Long::sum)));
            assertThat(sum).as(generated.toString()).isEqualTo(core.waits().histogram());
        });
        assertThat(measured.thinks().stream().mapToLong(CoreThinks::accesses).sum())
                .isEqualTo(measured.report().cores().stream()
                        .mapToLong(core -> core.accesses())
                        .sum());
    }
}
