package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import octurn.signal.Pulses;
import octurn.signal.Statistics;

/** The pulses of a pin in words. */
public final class PulseText {

    private PulseText() {}

    /** The figures, each in a line: widths, periods, frequency; one line if there is no whole pulse. */
    public static List<String> lines(Pulses pulses, long clockHertz, Glyphs glyphs) {
        List<String> lines = new ArrayList<>();
        if (pulses.high().count() == 0 && pulses.low().count() == 0) {
            lines.add(
                    pulses.rises() + pulses.falls() == 0
                            ? "The level never changes."
                            : "The level changes once: no pulse is whole.");
            return lines;
        }
        add(lines, "high", pulses.high(), clockHertz, glyphs);
        add(lines, "low", pulses.low(), clockHertz, glyphs);
        add(lines, "rise to rise", pulses.riseToRise(), clockHertz, glyphs);
        pulses.hertz(clockHertz)
                .ifPresent(hertz -> lines.add("frequency     %s, high %s %% of the time"
                        .formatted(
                                frequency(hertz),
                                Numbers.significant(100 * pulses.duty().orElse(0), 4))));
        return lines;
    }

    private static void add(List<String> lines, String what, Statistics figures, long clockHertz, Glyphs glyphs) {
        if (figures.count() == 0) {
            return;
        }
        String mean = Numbers.duration(figures.mean() / clockHertz, glyphs);
        String count = "%-13s %sx ".formatted(what, Numbers.grouped(figures.count()));
        if (figures.isConstant()) {
            lines.add(count + "%s = %s".formatted(cycles(figures.min()), mean));
        } else {
            lines.add(count
                    + "%s to %s, mean %s = %s,"
                            .formatted(
                                    Numbers.grouped(figures.min()),
                                    cycles(figures.max()),
                                    Numbers.groupedSignificant(figures.mean(), 7),
                                    mean));
            lines.add(" ".repeat(14)
                    + "standard deviation %s cycles"
                            .formatted(Numbers.groupedSignificant(figures.standardDeviation(), 4)));
        }
    }

    private static String cycles(long number) {
        return Numbers.grouped(number) + (number == 1 ? " cycle" : " cycles");
    }

    /** A frequency in the unit that suits it, with six digits. */
    static String frequency(double hertz) {
        return hertz < 1000 ? Numbers.significant(hertz, 6) + " Hz" : Numbers.roundedHertz(Math.round(hertz));
    }
}
