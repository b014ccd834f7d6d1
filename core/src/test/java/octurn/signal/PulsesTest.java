package octurn.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.OptionalLong;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.machine.Trial;
import octurn.run.Run;
import org.junit.jupiter.api.Test;

class PulsesTest {

    @Test
    void of_levels_measuresWholePulsesAlone() {
        // high 2..4, low 5..10, high 11..13, low 14..18, high from 19 on
        Pulses pulses = Pulses.of(Levels.of(0, 100, false, 2, 5, 11, 14, 19));

        assertThat(pulses.rises()).isEqualTo(3);
        assertThat(pulses.falls()).isEqualTo(2);
        assertThat(pulses.high()).isEqualTo(new Statistics(2, 6, 3, 3, 0));
        assertThat(pulses.low()).isEqualTo(new Statistics(2, 11, 5, 6, 0.5));
        assertThat(pulses.riseToRise()).isEqualTo(new Statistics(2, 17, 8, 9, 0.5));
        assertThat(pulses.riseToRise().mean()).isEqualTo(8.5);
        assertThat(pulses.duty()).hasValue(6.0 / 17);
        assertThat(pulses.hertz(17_000_000)).hasValue(2_000_000);
    }

    @Test
    void of_fewerThanTwoRises_hasNoFrequencyAndNoDuty() {
        Pulses pulses = Pulses.of(Levels.of(0, 100, false, 2, 5));

        assertThat(pulses.high()).isEqualTo(new Statistics(1, 3, 3, 3, 0));
        assertThat(pulses.riseToRise()).isEqualTo(Statistics.NONE);
        assertThat(pulses.hertz(1000)).isEmpty();
        assertThat(pulses.duty()).isEmpty();
    }

    /** From the definition: the deviation of 2, 4, 4, 4, 5, 5, 7, 9 is 2 (a textbook's example; from memory). */
    @Test
    void statistics_ofKnownNumbers_areTheirMeanAndDeviation() {
        Statistics.Adder adder = new Statistics.Adder();
        for (int number : new int[] {2, 4, 4, 4, 5, 5, 7, 9}) {
            adder.add(number);
        }

        assertThat(adder.statistics().mean()).isEqualTo(5);
        assertThat(adder.statistics().standardDeviation()).isEqualTo(2, within(1e-12));
        assertThat(adder.statistics().isConstant()).isFalse();
    }

    @Test
    void of_aTallyThatPutsOutPulses_hasItsSpanAndLevel() {
        // mode 6 is pulse; pin 3; 48 of 480 cycles
        Program program = Trial.assemble(Design.DEFAULT, """
                core 0
                        set   r1, 480
                        write span0, r1
                        set   r1, 48
                        write level0, r1
                        set   r1, 8
                        write drive, r1
                        set   r1, 0x306
                        write mode0, r1
                        pause 20000
                        halt
                """);
        WaveRecorder recorder = WaveRecorder.of(program.design(), Scenario.QUIET);
        Run run = Run.of(program, Scenario.QUIET, 50_000, recorder);
        run.finish();

        Pulses pulses = Pulses.of(recorder.waveform(3, run.chip().cycle()).levels());

        assertThat(pulses.riseToRise().isConstant()).isTrue();
        assertThat(pulses.riseToRise().mean()).isEqualTo(480);
        assertThat(pulses.duty()).hasValue(0.1);
        assertThat(pulses.hertz(48_000_000)).hasValue(100_000);
    }

    @Test
    void of_aSquareWaveFromOutside_hasItsPeriodAndWidth() {
        Scenario scenario = new Scenario(OptionalLong.empty(), List.of(new Input.Square(3, 0, 4800, 1200, 96_000)));
        Program program = Trial.assemble(Design.DEFAULT, "core 0\n big r1, 100000\n pause r1\n halt\n");
        WaveRecorder recorder = WaveRecorder.of(program.design(), scenario);
        Run run = Run.of(program, scenario, 200_000, recorder);
        run.finish();

        Pulses pulses = Pulses.of(recorder.waveform(3, run.chip().cycle()).levels());

        // 20 periods: 20 falls, but the first rise is before cycle 0.
        assertThat(pulses.falls()).isEqualTo(20);
        assertThat(pulses.riseToRise()).isEqualTo(new Statistics(18, 18 * 4800, 4800, 4800, 0));
        assertThat(pulses.high().isConstant()).isTrue();
        assertThat(pulses.high().mean()).isEqualTo(1200);
        assertThat(pulses.duty()).hasValue(0.25);
    }

    @Test
    void levels_edgesThatDoNotAscend_areRefused() {
        assertThatThrownBy(() -> Levels.of(0, 10, true, 3, 3)).hasMessage("edge: 3, not 4..9");
    }
}
