package octurn.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.machine.Chip;
import octurn.machine.Trial;
import octurn.reference.RandomPrograms;
import octurn.reference.RandomPrograms.Generated;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class WaveformTest {

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 120);
    }

    /** What the chip itself says of a pin in the present cycle. */
    private static PinState ofChip(Chip chip, Scenario scenario, int pin) {
        int drivers = IntStream.range(0, chip.design().cores())
                .map(core -> (chip.core(core).drive() >>> pin & 1) << core)
                .sum();
        int outside = scenario.inputs().stream()
                .filter(input -> input.pin() == pin)
                .mapToInt(input -> input.at(chip.cycle()))
                .findFirst()
                .orElse(Input.NOTHING);
        assertThat((chip.pinsGiven() >>> pin & 1) != 0).isEqualTo(outside != Input.NOTHING);
        return new PinState(
                (chip.pinLevels() >>> pin & 1) != 0, (chip.pinClashes() >>> pin & 1) != 0, drivers, outside);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void waveform_atEachCycle_isWhatTheChipSays(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = Trial.assemble(generated.design(), generated.text());
        WaveRecorder recorder = WaveRecorder.of(program.design(), generated.scenario());
        Run run = Run.of(program, generated.scenario(), generated.limit(), recorder);
        List<List<PinState>> said = new ArrayList<>();
        for (long cycle = 0; !run.isOver(); cycle++) {
            said.add(IntStream.range(0, program.design().pins())
                    .mapToObj(pin -> ofChip(run.chip(), generated.scenario(), pin))
                    .toList());
            run.runTo(cycle + 1);
        }

        for (int pin = 0; pin < program.design().pins(); pin++) {
            Waveform wave = recorder.waveform(pin, run.chip().cycle());
            assertThat(wave.to()).isEqualTo(said.size());
            for (int cycle = 0; cycle < said.size(); cycle++) {
                if (!wave.at(cycle).equals(said.get(cycle).get(pin))) {
                    assertThat(wave.at(cycle))
                            .as("pin %d at %d of %s", pin, cycle, generated)
                            .isEqualTo(said.get(cycle).get(pin));
                }
            }
            for (int step = 1; step < wave.steps(); step++) {
                assertThat(wave.state(step)).isNotEqualTo(wave.state(step - 1));
            }
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void waveform_fromALaterCycleOn_isThatPartOfTheWhole(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = Trial.assemble(generated.design(), generated.text());
        Design design = program.design();
        WaveRecorder whole = WaveRecorder.of(design, generated.scenario());
        Run run = Run.of(program, generated.scenario(), generated.limit(), whole);
        run.finish();
        long end = run.chip().cycle();
        long from = end / 3;
        WaveRecorder part = new WaveRecorder(design, generated.scenario(), design.pinMask(), from, 1_000_000);
        Run again = Run.of(program, generated.scenario(), generated.limit(), part);
        again.finish();

        for (int pin = 0; pin < design.pins(); pin++) {
            Waveform expected = whole.waveform(pin, end).between(from, end);
            Waveform actual = part.waveform(pin, end);
            assertThat(steps(actual)).as(generated::toString).isEqualTo(steps(expected));
        }
    }

    private static List<String> steps(Waveform wave) {
        return IntStream.range(0, wave.steps())
                .mapToObj(step -> wave.cycle(step) + " " + wave.state(step))
                .toList();
    }

    private static Waveform wave(String text, Scenario scenario, long limit, int pin) {
        Program program = Trial.assemble(Design.DEFAULT, text);
        WaveRecorder recorder = WaveRecorder.of(program.design(), scenario);
        Run run = Run.of(program, scenario, limit, recorder);
        run.finish();
        return recorder.waveform(pin, run.chip().cycle());
    }

    @Test
    void waveform_ofADrivenPinWithAnOutsideLevel_saysWhoGivesWhatAndTheClash() {
        Scenario scenario = new Scenario(
                OptionalLong.empty(),
                List.of(new Input.Changes(2, List.of(new Input.Change(5, 1), new Input.Change(9, 0)))));

        Waveform wave = wave("core 3\n set r1, 4\n write drive, r1\n pause 10\n halt\n", scenario, 100, 2);

        // The write ends in cycle 1, so the pin is driven from 2 on; halt is done in cycle 12, a cycle later it lets
        // go.
        assertThat(steps(wave))
                .containsExactly(
                        "0 " + PinState.OPEN,
                        "2 " + new PinState(false, false, 1 << 3, Input.NOTHING),
                        "5 " + new PinState(false, true, 1 << 3, 1),
                        "9 " + new PinState(false, false, 1 << 3, 0));
        assertThat(wave.clashCycles()).isEqualTo(4);
        assertThat(wave.to()).isEqualTo(13);
    }

    @Test
    void serialLine_pinThatIsLetGo_countsAsAtRest() {
        String text =
                "core 0\n set r1, 1\n write out, r1\n write drive, r1\n pause 4\n halt\ncore 1\n pause 20\n halt\n";
        Waveform wave = wave(text, Scenario.QUIET, 100, 0);

        assertThat(wave.levels().edges()).isEqualTo(2);
        assertThat(wave.levels().edge(0)).isEqualTo(3);
        assertThat(wave.levels().isRise(0)).isTrue();
        assertThat(wave.levels().edge(1)).isEqualTo(8);
        assertThat(wave.serialLine().edges()).isZero();
        assertThat(wave.serialLine().isHigh(20)).isTrue();
    }

    @Test
    void recorder_moreChangesThanItMayKeep_endsWhereItIsFull() {
        Scenario scenario = new Scenario(OptionalLong.empty(), List.of(new Input.Square(0, 0, 10, 5, Input.NEVER)));
        Program program = Trial.assemble(Design.DEFAULT, "core 0\n pause 1000\n halt\n");
        WaveRecorder recorder = new WaveRecorder(program.design(), scenario, 1, 0, 7);
        Run run = Run.of(program, scenario, 5000, recorder);
        run.finish();

        Waveform wave = recorder.waveform(0, run.chip().cycle());

        assertThat(recorder.isFull()).isTrue();
        assertThat(wave.steps()).isEqualTo(7);
        assertThat(wave.to()).isEqualTo(35);
        assertThatThrownBy(() -> recorder.waveform(1, 5000)).hasMessage("pin 1 was not recorded");
    }

    @Test
    void at_cycleOutside_isRefusedWithTheRange() {
        Waveform wave = wave("core 0\n pause 10\n halt\n", Scenario.QUIET, 8, 0);

        assertThatThrownBy(() -> wave.at(8)).hasMessage("cycle: 8, not 0..7");
    }
}
