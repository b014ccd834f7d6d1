package octurn.cli.stepper;

import static octurn.cli.stepper.Steppers.doing;
import static octurn.cli.stepper.Steppers.lesson;
import static octurn.cli.stepper.Steppers.lessonWithScenario;
import static org.assertj.core.api.Assertions.assertThat;

import octurn.run.Progress;
import org.junit.jupiter.api.Test;

class InstrumentsTest {

    private static Answer run(Stepper stepper, String line) {
        return stepper.run(line, Progress.NONE);
    }

    @Test
    void serial_halfWayThroughTheLogLine_readsWhatIsOutSoFar() {
        Answer answer = run(doing(lesson("serial-log.turn"), "go 270000"), "serial 7");

        assertThat(answer.kind()).isEqualTo(Answer.Kind.TEXT);
        assertThat(answer.title()).isEqualTo("pin 7 as a serial line, up to cycle 270000");
        assertThat(answer.lines())
                .containsExactly(
                        "8N1, 5,000 cycles a bit = 9600 baud, found by looking at the line",
                        "\"vent \"",
                        "6 bytes, 1 not good, left out above",
                        "cycle 255,008: cut off, read as 3 (0x03)");
    }

    @Test
    void serial_withABaudRate_readsWithThat() {
        assertThat(run(doing(lesson("serial-log.turn"), "end"), "serial 7 9600").lines())
                .contains("8N1, 5,000 cycles a bit = 9600 baud, as given", "\"vent open\\n\"", "10 bytes, all good");
    }

    @Test
    void pulses_ofAFlowMeter_areItsWidthsAndFrequency() {
        Answer answer =
                run(doing(lessonWithScenario("flow-meter.turn", "flow-meter.scenario.json"), "go 12000"), "pulses 0");

        assertThat(answer.lines())
                .contains("high          25x 240 cycles = 5 \u00b5s", "frequency     100 kHz, high 50 % of the time");
    }

    /** The replay is the run as it is: with the changes by hand. */
    @Test
    void pulses_ofAPinSetByHand_areThoseOfTheHand() {
        Stepper stepper = doing(
                lesson("blink.turn"),
                "go 100",
                "set pin 3 1",
                "go 160",
                "set pin 3 0",
                "go 200",
                "set pin 3 1",
                "go 300");

        assertThat(run(stepper, "pulses 3").lines())
                .contains("high          1x 60 cycles = 1.25 \u00b5s", "rise to rise  1x 100 cycles = 2.083 \u00b5s");
    }

    @Test
    void pulses_andBackAgain_leaveTheRunWhereItWas() {
        Stepper stepper = doing(lesson("eight-cores.turn"), "go 57");
        String before = stepper.moment().events().toString();

        run(stepper, "pulses 0");

        assertThat(stepper.cycle()).isEqualTo(57);
        assertThat(stepper.moment().events().toString()).isEqualTo(before);
        assertThat(doing(stepper, "step", "back").moment().events().toString()).isEqualTo(before);
    }

    @Test
    void instruments_mistakes_areRefused() {
        Stepper stepper = doing(lesson("serial-log.turn"), "go 57");

        assertThat(run(stepper, "serial").line()).isEqualTo("pin is missing");
        assertThat(run(stepper, "pulses 16").line()).isEqualTo("pin: 16 is not 0..15");
        assertThat(run(stepper, "serial 7 0").line()).isEqualTo("bits a second: 0 is not 1..48000000");
    }
}
