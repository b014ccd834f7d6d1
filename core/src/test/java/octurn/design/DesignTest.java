package octurn.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class DesignTest {

    private static Design with(int cores, Admission admission) {
        return with("a name", cores, 3, admission, 16);
    }

    private static Design with(String name, int cores, int slotCycles, Admission admission, int pins) {
        return new Design(name, cores, 1024, 16384, slotCycles, admission, Cost.DEFAULT, pins, Clock.DEFAULT);
    }

    // ---- the default ----

    @Test
    void defaultDesign_isEightCoresInPlainRotation() {
        assertThat(Design.DEFAULT.name()).isEqualTo("eight in turn");
        assertThat(Design.DEFAULT.cores()).isEqualTo(8);
        assertThat(Design.DEFAULT.admission()).isEqualTo(new Admission.Rotation(List.of(0, 1, 2, 3, 4, 5, 6, 7)));
        assertThat(Design.DEFAULT.cost()).isEqualTo(new Cost(1, 2, 2, 4, 16));
        assertThat(Design.DEFAULT.clock()).isEqualTo(new Clock(Clock.Source.CRYSTAL, 6_000_000, 8, 50));
    }

    @Test
    void plainOrderAndWeights_areOneForEachCore() {
        assertThat(Design.plainOrder(3)).containsExactly(0, 1, 2);
        assertThat(Design.plainWeights(3)).containsExactly(1, 1, 1);
    }

    // ---- what follows from it ----

    @Test
    void rotationCycles_underRotation_isSlotTimesLengthOfTheOrder() {
        assertThat(Design.DEFAULT.rotationCycles()).isEqualTo(24);
        assertThat(with("n", 3, 5, new Admission.Rotation(List.of(0, 1, 0, 2, 0)), 16)
                        .rotationCycles())
                .isEqualTo(25);
    }

    @Test
    void rotationCycles_underOtherPolicies_isSlotTimesCores() {
        assertThat(with("n", 3, 5, new Admission.NextWaiting(), 16).rotationCycles())
                .isEqualTo(15);
        assertThat(with("n", 4, 5, new Admission.OwnPort(), 16).rotationCycles())
                .isEqualTo(20);
    }

    @ParameterizedTest
    @CsvSource({"0, 0", "1, 1", "5, 0x1F", "16, 0xFFFF", "31, 0x7FFFFFFF", "32, 0xFFFFFFFF"})
    void pinMask_hasABitForEachPin(int pins, String mask) {
        assertThat(with("n", 8, 3, Design.DEFAULT.admission(), pins).pinMask())
                .isEqualTo(Long.decode(mask).intValue());
    }

    @Test
    void coresWithoutSlot_areThoseThatTheRotationLeavesOut() {
        assertThat(with(5, new Admission.Rotation(List.of(3, 1, 3))).coresWithoutSlot())
                .containsExactly(0, 2, 4);
        assertThat(Design.DEFAULT.coresWithoutSlot()).isEmpty();
        assertThat(with(5, new Admission.FirstCome()).coresWithoutSlot()).isEmpty();
    }

    // ---- the name ----

    @Test
    void name_of1To60PrintableCharacters_isTaken() {
        for (String name : List.of("x", "x".repeat(60), "Gew\u00e4chshaus \u2116 3", "\uD83C\uDF31".repeat(60))) {
            assertThat(with(name, 8, 3, Design.DEFAULT.admission(), 16).name()).isEqualTo(name);
        }
    }

    @Test
    void name_emptyOrTooLongOrNotPrintable_isRefused() {
        for (String name : List.of(
                "",
                "x".repeat(61),
                "a\u001bb",
                "a\nb",
                "a\u007fb",
                "a\u202eb",
                "a\u2028b",
                "a\u2029b",
                "a\uD800b",
                "a\uE000b",
                "a\u0378b")) {
            assertThatThrownBy(() -> with(name, 8, 3, Design.DEFAULT.admission(), 16))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("name: not 1..60 printable characters");
        }
    }

    // ---- admission ----

    @ParameterizedTest
    @ValueSource(ints = {-1, 8, 31})
    void rotation_ofACoreThatIsNone_isRefused(int core) {
        assertThatThrownBy(() -> with(8, new Admission.Rotation(List.of(0, core))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("admission.order: %d, not 0..7", core);
    }

    @Test
    void rotation_ofNoneOrMoreThan256Slots_isRefused() {
        assertThatThrownBy(() -> new Admission.Rotation(List.of()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("admission.order: 0 entries, not 1..256");
        assertThatThrownBy(() -> new Admission.Rotation(Collections.nCopies(257, 0)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("admission.order: 257 entries, not 1..256");
        assertThat(with(8, new Admission.Rotation(Collections.nCopies(256, 0))).rotationCycles())
                .isEqualTo(768);
    }

    @Test
    void priority_ofEveryCoreOnce_isTaken() {
        assertThat(with(3, new Admission.Priority(List.of(2, 0, 1))).admission().policy())
                .isEqualTo("priority");
    }

    @Test
    void priority_withACoreMissingOrTwice_isRefused() {
        for (List<Integer> order : List.of(List.of(0, 1), List.of(0, 1, 1), List.of(0, 1, 2, 2))) {
            assertThatThrownBy(() -> with(3, new Admission.Priority(order)))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("admission.order: under priority every core once");
        }
        assertThatThrownBy(() -> with(3, new Admission.Priority(List.of(0, 1, 3))))
                .hasMessage("admission.order: 3, not 0..2");
    }

    @Test
    void lottery_weights_areOneForEachCoreFrom1To1000() {
        with(2, new Admission.Lottery(List.of(1, 1000), 1));
        assertThatThrownBy(() -> with(2, new Admission.Lottery(List.of(1), 1)))
                .hasMessage("admission.weights: 1 of them, not one for each of 2 cores");
        assertThatThrownBy(() -> with(2, new Admission.Lottery(List.of(1, 0), 1)))
                .hasMessage("admission.weights: 0, not 1..1000");
        assertThatThrownBy(() -> with(2, new Admission.Lottery(List.of(1, 1001), 1)))
                .hasMessage("admission.weights: 1001, not 1..1000");
    }

    @Test
    void lottery_seed_isFrom1To2To32Less1() {
        new Admission.Lottery(List.of(1), 1);
        new Admission.Lottery(List.of(1), 4294967295L);
        assertThatThrownBy(() -> new Admission.Lottery(List.of(1), 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("admission.seed: 0, not 1..4294967295");
        assertThatThrownBy(() -> new Admission.Lottery(List.of(1), 4294967296L))
                .hasMessage("admission.seed: 4294967296, not 1..4294967295");
        assertThat(Admission.Lottery.DEFAULT_SEED).isEqualTo(2463534242L);
    }

    @Test
    void policies_areNamedAsInDesignFiles() {
        assertThat(List.of(
                                new Admission.Rotation(List.of(0)),
                                new Admission.NextWaiting(),
                                new Admission.Priority(List.of(0)),
                                new Admission.FirstCome(),
                                new Admission.Lottery(List.of(1), 1),
                                new Admission.OwnPort())
                        .stream()
                        .map(Admission::policy))
                .containsExactly("rotation", "next-waiting", "priority", "first-come", "lottery", "own-port");
    }

    @Test
    void orderAndWeights_areCopied() {
        List<Integer> order = new ArrayList<>(List.of(0, 1));
        Admission.Rotation rotation = new Admission.Rotation(order);
        order.set(0, 1);

        assertThat(rotation.order()).containsExactly(0, 1);
    }

    // ---- the clock ----

    @Test
    void clock_isSourceTimesMultiplier() {
        assertThat(Clock.DEFAULT.chipHertz()).isEqualTo(48_000_000);
        // Common practice: a 5 MHz crystal times 16 makes 80 MHz, 12.5 ns a cycle.
        Clock fast = new Clock(Clock.Source.CRYSTAL, 5_000_000, 16, 50);
        assertThat(fast.chipHertz()).isEqualTo(80_000_000);
        assertThat(fast.cycleNanos()).isEqualTo(12.5, within(1e-12));
        // Beyond 32 bits.
        assertThat(new Clock(Clock.Source.INTERNAL, 1_000_000_000, 64, 0).chipHertz())
                .isEqualTo(64_000_000_000L);
    }

    @Test
    void clock_micros_isCyclesByMegahertz() {
        assertThat(Clock.DEFAULT.micros(48)).isEqualTo(1, within(1e-12));
        assertThat(Clock.DEFAULT.micros(24)).isEqualTo(0.5, within(1e-12));
    }

    @Test
    void clockSources_areNamedAsInDesignFiles() {
        assertThat(Clock.Source.CRYSTAL.text()).isEqualTo("crystal");
        assertThat(Clock.Source.INTERNAL.text()).isEqualTo("internal");
    }

    @Test
    void isPrintable_controlsAndTheLike_areNot() {
        assertThat(IntStream.of(0, 9, 0x1b, 0x7f, 0x9b, 0xad, 0x200e, 0xfeff, 0xd800, 0xe000, 0x2028, 0x2029, 0xffff)
                        .anyMatch(Design::isPrintable))
                .isFalse();
        assertThat(IntStream.of(' ', 'x', 0xe4, 0x2116, 0x1F331).allMatch(Design::isPrintable))
                .isTrue();
    }
}
