package octurn.signal;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import octurn.design.Input;
import octurn.design.Scenario;

/**
 * A pin read as a serial line.
 *
 * @param format of the bytes
 * @param cyclesPerBit the bit time that it was read with
 * @param origin where that comes from
 * @param frames the bytes, in order
 */
public record SerialReading(SerialFormat format, double cyclesPerBit, Origin origin, List<SerialFrame> frames) {

    /** Where a bit time comes from. */
    public enum Origin {
        GIVEN("as given"),
        SCENARIO("from the scenario"),
        FOUND("found by looking at the line");

        private final String text;

        Origin(String text) {
            this.text = text;
        }

        /** In words. */
        public String text() {
            return text;
        }
    }

    /**
     * Reads a pin.
     *
     * @param baud bits a second; without it those of the scenario, if it sends on this pin, and else {@link BitTime#find}
     * @return nothing if no bit time is given, and none can be found
     * @throws IllegalArgumentException if the baud rate is not above 0 or is above the clock
     */
    public static Optional<SerialReading> of(
            Waveform wave, Scenario scenario, SerialFormat format, OptionalDouble baud, long clockHertz) {
        if (baud.isPresent()) {
            if (!(baud.getAsDouble() > 0 && baud.getAsDouble() <= clockHertz)) {
                throw new IllegalArgumentException(
                        "baud: %s, not above 0 and up to the clock, %d".formatted(baud.getAsDouble(), clockHertz));
            }
            return Optional.of(with(wave, format, clockHertz / baud.getAsDouble(), Origin.GIVEN));
        }
        for (Input input : scenario.inputs()) {
            if (input.pin() == wave.pin() && input instanceof Input.Serial sent) {
                return Optional.of(with(wave, format, (double) sent.cyclesPerBit(), Origin.SCENARIO));
            }
        }
        return BitTime.find(wave.serialLine(), format, clockHertz)
                .map(time -> with(wave, format, time.cycles(), Origin.FOUND));
    }

    private static SerialReading with(Waveform wave, SerialFormat format, double cyclesPerBit, Origin origin) {
        return new SerialReading(format, cyclesPerBit, origin, SerialDecoder.decode(wave, format, cyclesPerBit));
    }
}
