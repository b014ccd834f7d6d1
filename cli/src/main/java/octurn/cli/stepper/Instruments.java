package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import octurn.cli.view.PulseText;
import octurn.cli.view.SerialText;
import octurn.signal.Pulses;
import octurn.signal.SerialFormat;
import octurn.signal.SerialReading;
import octurn.signal.WaveRecorder;
import octurn.signal.Waveform;

/** Commands that measure a pin from the start of the run up to the present cycle. */
final class Instruments {

    private Instruments() {}

    static Answer pulses(Stepper stepper, Words words) {
        int pin = Moves.pin(stepper, words);
        words.end();
        Waveform wave = wave(stepper, pin);
        List<String> lines = new ArrayList<>(PulseText.lines(
                Pulses.of(wave.levels()), stepper.design().clock().chipHertz(), stepper.glyphs()));
        return stepper.text(title(pin, "pulses", wave), lines);
    }

    static Answer serial(Stepper stepper, Words words) {
        int pin = Moves.pin(stepper, words);
        long clock = stepper.design().clock().chipHertz();
        OptionalDouble baud = words.isEnd()
                ? OptionalDouble.empty()
                : OptionalDouble.of((double) words.number("bits a second", 1, clock));
        words.end();
        Waveform wave = wave(stepper, pin);
        Optional<SerialReading> reading =
                SerialReading.of(wave, stepper.timeline().scenario(), SerialFormat.USUAL, baud, clock);
        List<String> lines = reading.map(it -> SerialText.lines(it, clock, stepper.glyphs()))
                .orElse(List.of(
                        "No byte can be read off it so far; serial %d BAUD says how fast it is.".formatted(pin)));
        return stepper.text(title(pin, "a serial line", wave), lines);
    }

    private static String title(int pin, String as, Waveform wave) {
        return "pin %d as %s, up to cycle %d".formatted(pin, as, wave.to());
    }

    private static Waveform wave(Stepper stepper, int pin) {
        WaveRecorder recorder = new WaveRecorder(
                stepper.design(), stepper.timeline().scenario(), 1 << pin, 0, WaveRecorder.DEFAULT_CHANGES);
        if (!stepper.replay(recorder)) {
            throw new Mistake("interrupted");
        }
        if (recorder.isFull()) {
            throw new Mistake(
                    "pin %d changes more than %d times up to here".formatted(pin, WaveRecorder.DEFAULT_CHANGES));
        }
        return recorder.waveform(pin, stepper.cycle());
    }
}
