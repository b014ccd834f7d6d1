package octurn.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class NamedDesignsTest {

    @Test
    void names_areThoseOfTheDesigns_andAllDiffer() {
        assertThat(NamedDesigns.all()).extracting(NamedDesigns.Named::name).doesNotHaveDuplicates();
        assertThat(NamedDesigns.all()).extracting(NamedDesigns.Named::design).doesNotHaveDuplicates();
        assertThat(NamedDesigns.all().get(0).design()).isEqualTo(Design.DEFAULT);
        assertThat(NamedDesigns.all().subList(1, NamedDesigns.all().size()))
                .allSatisfy(named -> assertThat(named.design().name()).isEqualTo(named.name()));
        assertThat(NamedDesigns.of("no-such")).isEmpty();
    }

    @Test
    void policies_areAllThere() {
        assertThat(NamedDesigns.all().stream()
                        .map(named -> named.design().admission().policy())
                        .collect(Collectors.toSet()))
                .containsExactlyInAnyOrderElementsOf(Admission.POLICIES);
    }

    /** Core 0 has every second of 14 slots, the others one each. */
    @Test
    void weighted_givesCore0EverySecondSlot() {
        Design weighted = NamedDesigns.of("weighted").orElseThrow();

        assertThat(((Admission.Rotation) weighted.admission()).order())
                .isEqualTo(List.of(0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6, 0, 7));
        assertThat(weighted.coresWithoutSlot()).isEmpty();
    }

    /** A field that is set reads back, and nothing else changes. */
    @ParameterizedTest
    @EnumSource
    void with_anyField_changesThatAlone(Field field) {
        for (int value : List.of(field.min(), field.max())) {
            Design changed = field.with(Design.DEFAULT, value);

            assertThat(field.of(changed)).isEqualTo(value);
            for (Field other : Field.values()) {
                if (other != field) {
                    assertThat(other.of(changed)).as(other.path()).isEqualTo(other.of(Design.DEFAULT));
                }
            }
            assertThat(changed.name()).isEqualTo(Design.DEFAULT_NAME);
            assertThat(changed.clock().source()).isEqualTo(Clock.Source.CRYSTAL);
        }
        assertThatThrownBy(() -> field.with(Design.DEFAULT, field.max() + 1)).hasMessageContaining(field.path());
    }

    @Test
    void with_otherCores_bringsPlainOrdersAndWeightsAlong() {
        for (String policy : Admission.POLICIES) {
            Design design = Design.DEFAULT.withAdmission(Admission.plain(policy, 8));

            assertThat(Field.CORES.with(design, 5).admission()).isEqualTo(Admission.plain(policy, 5));
        }
    }

    @Test
    void with_otherCores_keepsAnOrderOfOnesOwn() {
        Design design = Design.DEFAULT.withAdmission(new Admission.Rotation(List.of(0, 1, 0, 2)));

        assertThat(Field.CORES.with(design, 16).admission()).isEqualTo(design.admission());
        assertThatThrownBy(() -> Field.CORES.with(design, 2)).hasMessageContaining("admission.order");
    }

    @Test
    void plain_ofAnUnknownPolicy_isRefused() {
        assertThatThrownBy(() -> Admission.plain("auction", 8)).hasMessageContaining("auction");
    }
}
