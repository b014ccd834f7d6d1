package octurn.sweep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AxisTest {

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "slotCycles=1..4 | 1 2 3 4",
                "slotCycles = 5 | 5",
                "cores=2,4,8 | 2 4 8",
                "cores=1..3, 8, 16..17 | 1 2 3 8 16 17",
                "cost.multiply=1..64*2 | 1 2 4 8 16 32 64",
                "goal=0..30+8 | 0 8 16 24",
                "goal=-4..-1 | -4 -3 -2 -1",
                "goal=3..100*5 | 3 15 75",
                "goal=7..7 | 7",
                "admission.policy=rotation,own-port | rotation own-port",
                "admission.order=0:1:0:2,3 | 0:1:0:2 3",
                "admission.seed=1..3 | 1 2 3",
                "clock.source=internal | internal",
                "goal=999999999999999998..999999999999999999*2 | 999999999999999998",
            })
    void parse_ofAllForms_givesTheirValues(String text, String values) {
        assertThat(Axis.parse(text).values()).containsExactly(values.split(" "));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "slotCycles | \"slotCycles\" has no =; right would be slotCycles=1..8",
                "slot cycles=1 | \"slot cycles\" is neither a field of a design nor the name of a constant",
                "slotCycles=8..1 | slotCycles: the range 8..1 is empty",
                "slotCycles= | slotCycles: \"\" is no whole number and no range; right would be 1..8, 0..64+8, 1..32*2"
                        + " or 2,4,8",
                "slotCycles=1,,2 | slotCycles: \"\" is no whole number and no range; right would be 1..8, 0..64+8,"
                        + " 1..32*2 or 2,4,8",
                "slotCycles=1.5 | slotCycles: \"1.5\" is no whole number and no range; right would be 1..8, 0..64+8,"
                        + " 1..32*2 or 2,4,8",
                "slotCycles=0..4 | slotCycles: 0 is not in 1..64",
                "slotCycles=60..70 | slotCycles: 65 is not in 1..64",
                "slotCycles=1,2,1 | slotCycles: the value 1 comes twice",
                "goal=1..8+0 | goal: the range 1..8+0 would never end",
                "goal=1..8*1 | goal: the range 1..8*1 would never end",
                "goal=0..8*2 | goal: the range 0..8*2 would never end",
                "goal=1..10000000 | goal: the range 1..10000000 has more than 1,000,000 values",
                "admission.policy=auction | admission.policy: there is no \"auction\"; there are rotation,"
                        + " next-waiting, priority, first-come, lottery, own-port",
                "admission.order=0-1 | admission.order: \"0-1\" is no list of numbers; right would be 0:1:0:2",
                "admission.seed=0 | admission.seed: 0 is not in 1..4294967295",
                "cost.plian=1 | there is no field cost.plian (did you mean cost.plain?)",
                "a.b=1 | there is no field a.b",
                "clock.source=quartz | clock.source: there is no \"quartz\"; there are crystal, internal",
            })
    void parse_ofAMistake_saysWhatWouldBeRight(String text, String message) {
        assertThatThrownBy(() -> Axis.parse(text == null ? "" : text))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage(message);
    }

    @Test
    void fields_areAllThatADesignHas() {
        assertThat(Axis.fields()).hasSize(18).contains("cores", "cost.private", "clock.hertz", "admission.order");
        assertThat(Axis.fields()).allSatisfy(name -> assertThat(name).doesNotContain(" "));
    }

    @Test
    void with_eachKind_changesTheDesign() {
        Design lottery = Axis.parse("admission.policy=lottery").with(Design.DEFAULT, "lottery");

        assertThat(lottery.admission()).isInstanceOf(Admission.Lottery.class);
        assertThat(Axis.parse("admission.seed=5").with(lottery, "5").admission())
                .isEqualTo(new Admission.Lottery(Design.plainWeights(8), 5));
        assertThat(Axis.parse("admission.weights=1:2:3:4:5:6:7:8")
                        .with(lottery, "1:2:3:4:5:6:7:8")
                        .admission())
                .isEqualTo(new Admission.Lottery(List.of(1, 2, 3, 4, 5, 6, 7, 8), Admission.Lottery.DEFAULT_SEED));
        assertThat(Axis.parse("admission.order=0:1").with(Design.DEFAULT, "0:1").rotationCycles())
                .isEqualTo(6);
        assertThat(Axis.parse("clock.source=internal")
                        .with(Design.DEFAULT, "internal")
                        .clock()
                        .source())
                .isEqualTo(Clock.Source.INTERNAL);
        assertThat(Axis.parse("goal=3").with(Design.DEFAULT, "3")).isSameAs(Design.DEFAULT);
    }

    @Test
    void with_whatDoesNotGoTogether_isRefused() {
        assertThatThrownBy(() -> Axis.parse("admission.seed=5").with(Design.DEFAULT, "5"))
                .hasMessage("admission.policy: rotation has no weights and no seed");
        Design onDemand = Axis.parse("admission.policy=first-come").with(Design.DEFAULT, "first-come");
        assertThatThrownBy(() -> Axis.parse("admission.order=0").with(onDemand, "0"))
                .hasMessage("admission.order: the policy first-come has none");
    }
}
