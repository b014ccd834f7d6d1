package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import octurn.report.RunReport;
import octurn.signal.Pulses;
import octurn.signal.Waveform;

/** The pins of a run: their waves under a time ruler, and the figures of each. */
public final class PinWavesView {

    private static final int LABEL = 7;
    private static final String INDENT = "  ";

    private PinWavesView() {}

    /**
     * A paragraph on a pin that is said besides its figures.
     *
     * @param pin its number
     * @param lines what is said; the first one is a heading
     */
    public record Reading(int pin, List<String> lines) {}

    /**
     * The lines.
     *
     * @param waves of the pins to show, all of the same stretch
     * @param readings more that is to be said of some of them
     */
    public static List<Line> lines(
            RunReport report, List<Waveform> waves, List<Reading> readings, Glyphs glyphs, int columns) {
        List<Line> lines = new ArrayList<>(Headings.of(report, glyphs, columns));
        lines.add(Line.EMPTY);
        if (waves.isEmpty()) {
            lines.add(Line.of("No core drives a pin, and the outside gives none a level."));
            return lines;
        }
        long clock = report.design().clock().chipHertz();
        drawing(lines, waves, clock, glyphs, columns);
        for (Waveform wave : waves) {
            lines.add(Line.EMPTY);
            lines.add(Line.of(Ink.STRONG, "pin %d".formatted(wave.pin())).and(": " + givers(wave)));
            for (String text : PulseText.lines(Pulses.of(wave.levels()), clock, glyphs)) {
                lines.add(Line.of(INDENT + text));
            }
            long clashes = wave.clashCycles();
            if (clashes > 0) {
                lines.add(Line.of(INDENT)
                        .and(Ink.ALARM, "clash")
                        .and(" in %s cycle%s: on real parts two outputs that fight can destroy both"
                                .formatted(Numbers.grouped(clashes), clashes == 1 ? "" : "s")));
            }
            for (Reading reading : readings) {
                if (reading.pin() == wave.pin()) {
                    reading(lines, reading, glyphs, columns);
                }
            }
        }
        return lines;
    }

    private static void reading(List<Line> lines, Reading reading, Glyphs glyphs, int columns) {
        boolean first = true;
        for (String text : reading.lines()) {
            for (String row : glyphs.wrapped(text, columns - 2 * INDENT.length())) {
                lines.add(Line.of((first ? INDENT : INDENT + INDENT) + row));
            }
            first = false;
        }
    }

    private static void drawing(List<Line> lines, List<Waveform> waves, long clock, Glyphs glyphs, int columns) {
        long from = waves.get(0).from();
        long to = waves.get(0).to();
        int room = columns - LABEL;
        long scale = WaveMarks.scale(to - from, room);
        lines.add(Line.of(Ink.WEAK, Glyphs.padded("cycle", LABEL))
                .and(Ink.WEAK, WaveMarks.ruler(from, to, scale, room, Numbers::grouped)));
        lines.add(Line.of(Ink.WEAK, Glyphs.padded("time", LABEL))
                .and(
                        Ink.WEAK,
                        WaveMarks.ruler(
                                from, to, scale, room, cycle -> Numbers.duration((double) cycle / clock, glyphs))));
        for (Waveform wave : waves) {
            lines.add(WaveMarks.wave(
                    Line.of(Glyphs.padded("pin %2d".formatted(wave.pin()), LABEL)), wave, from, scale, glyphs));
        }
        String edges = scale == 1 ? "" : "  %s changes within".formatted(WaveMarks.edge(glyphs));
        lines.add(Line.of(
                Ink.WEAK,
                "%s high  %s low%s  %s nobody gives a level  %s clash"
                        .formatted(
                                WaveMarks.high(glyphs),
                                WaveMarks.low(glyphs),
                                edges,
                                WaveMarks.open(glyphs),
                                WaveMarks.CLASH)));
        lines.add(Line.of(
                Ink.WEAK,
                "a column is %s cycle%s = %s"
                        .formatted(
                                Numbers.grouped(scale),
                                scale == 1 ? "" : "s",
                                Numbers.duration((double) scale / clock, glyphs))));
    }

    private static String givers(Waveform wave) {
        List<String> givers = new ArrayList<>();
        wave.drivers().forEach(core -> givers.add("core " + core));
        if (wave.isGivenFromOutside()) {
            givers.add("the outside");
        }
        return givers.isEmpty() ? "nobody gives it a level" : "given its level by " + String.join(", ", givers);
    }
}
