package octurn.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.function.IntFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** The whole-number fields of a design. */
class FieldTest {

    @ParameterizedTest
    @CsvSource({
        "CORES, cores, 1, 32, 8",
        "PRIVATE_WORDS, privateWords, 16, 65536, 1024",
        "SHARED_WORDS, sharedWords, 16, 131072, 16384",
        "SLOT_CYCLES, slotCycles, 1, 64, 3",
        "COST_PLAIN, cost.plain, 1, 64, 1",
        "COST_PRIVATE, cost.private, 1, 64, 2",
        "COST_TAKEN, cost.taken, 1, 64, 2",
        "COST_MULTIPLY, cost.multiply, 1, 64, 4",
        "COST_DIVIDE, cost.divide, 1, 64, 16",
        "PINS, pins, 0, 32, 16",
        "CLOCK_HERTZ, clock.hertz, 1, 1000000000, 6000000",
        "CLOCK_MULTIPLIER, clock.multiplier, 1, 64, 8",
        "CLOCK_TOLERANCE, clock.tolerancePpm, 0, 500000, 50",
    })
    void field_hasItsPathRangeAndDefault(Field field, String path, int min, int max, int standard) {
        assertThat(field.path()).isEqualTo(path);
        assertThat(field.min()).isEqualTo(min);
        assertThat(field.max()).isEqualTo(max);
        assertThat(field.standard()).isEqualTo(standard);
        assertThat(field.of(Design.DEFAULT)).isEqualTo(standard);
    }

    @Test
    void fields_areThirteen() {
        // As many as the lines above: a new field needs a new line.
        assertThat(Field.values()).hasSize(13);
    }

    @ParameterizedTest
    @EnumSource
    void field_atEitherEndOfItsRange_isTakenAndReadBack(Field field) {
        assertThat(field.of(with(field).apply(field.min()))).isEqualTo(field.min());
        assertThat(field.of(with(field).apply(field.max()))).isEqualTo(field.max());
    }

    @ParameterizedTest
    @EnumSource
    void field_beyondEitherEndOfItsRange_isRefusedWithNameValueAndRange(Field field) {
        for (int value : new int[] {field.min() - 1, field.max() + 1}) {
            assertThatThrownBy(() -> with(field).apply(value))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("%s: %d, not %d..%d", field.path(), value, field.min(), field.max());
        }
    }

    /** The default design with one field changed. */
    private static IntFunction<Design> with(Field field) {
        Design d = Design.DEFAULT;
        Cost c = d.cost();
        Clock k = d.clock();
        return switch (field) {
            case CORES -> v -> design(v, d.privateWords(), d.sharedWords(), d.slotCycles(), c, d.pins(), k);
            case PRIVATE_WORDS -> v -> design(d.cores(), v, d.sharedWords(), d.slotCycles(), c, d.pins(), k);
            case SHARED_WORDS -> v -> design(d.cores(), d.privateWords(), v, d.slotCycles(), c, d.pins(), k);
            case SLOT_CYCLES -> v -> design(d.cores(), d.privateWords(), d.sharedWords(), v, c, d.pins(), k);
            case PINS -> v -> design(d.cores(), d.privateWords(), d.sharedWords(), d.slotCycles(), c, v, k);
            case COST_PLAIN -> v -> with(new Cost(v, c.privateAccess(), c.taken(), c.multiply(), c.divide()), k);
            case COST_PRIVATE -> v -> with(new Cost(c.plain(), v, c.taken(), c.multiply(), c.divide()), k);
            case COST_TAKEN -> v -> with(new Cost(c.plain(), c.privateAccess(), v, c.multiply(), c.divide()), k);
            case COST_MULTIPLY -> v -> with(new Cost(c.plain(), c.privateAccess(), c.taken(), v, c.divide()), k);
            case COST_DIVIDE -> v -> with(new Cost(c.plain(), c.privateAccess(), c.taken(), c.multiply(), v), k);
            case CLOCK_HERTZ -> v -> with(c, new Clock(k.source(), v, k.multiplier(), k.tolerancePpm()));
            case CLOCK_MULTIPLIER -> v -> with(c, new Clock(k.source(), k.hertz(), v, k.tolerancePpm()));
            case CLOCK_TOLERANCE -> v -> with(c, new Clock(k.source(), k.hertz(), k.multiplier(), v));
        };
    }

    private static Design with(Cost cost, Clock clock) {
        Design d = Design.DEFAULT;
        return design(d.cores(), d.privateWords(), d.sharedWords(), d.slotCycles(), cost, d.pins(), clock);
    }

    private static Design design(
            int cores, int privateWords, int sharedWords, int slotCycles, Cost cost, int pins, Clock clock) {
        return new Design(
                "a name",
                cores,
                privateWords,
                sharedWords,
                slotCycles,
                new Admission.Rotation(List.of(0)),
                cost,
                pins,
                clock);
    }
}
