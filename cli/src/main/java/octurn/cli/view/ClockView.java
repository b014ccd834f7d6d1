package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import octurn.design.Clock;
import octurn.signal.SerialFormat;
import octurn.signal.WholeCycles;
import octurn.signal.Wish;
import octurn.signal.Wish.Kind;

/** A clock, what wanted rates and times are in its cycles, and what must be minded with real pins. */
public final class ClockView {

    /** What each side of a serial line may be off, in percent (common practice). */
    private static final double USUAL_PERCENT = 2;

    private static final int NAME = 20;
    private static final int CYCLES = 16;
    private static final int GIVES = 18;
    private static final int ERROR = 13;

    private ClockView() {}

    /** The lines. */
    public static List<Line> lines(Clock clock, SerialFormat format, List<Wish> wishes, Glyphs glyphs, int columns) {
        List<Line> lines = new ArrayList<>();
        long hertz = clock.chipHertz();
        String source = clock.source() == Clock.Source.CRYSTAL ? "crystal" : "internal oscillator";
        lines.add(Line.of(
                Ink.STRONG,
                "%s %s %s %d = %s"
                        .formatted(
                                Numbers.hertz(clock.hertz()),
                                source,
                                glyphs.sign("\u00d7", "x"),
                                clock.multiplier(),
                                Numbers.hertz(hertz))));
        lines.add(Line.of("A cycle is %s ns; %s cycles are 1 %s."
                .formatted(
                        Numbers.significant(clock.cycleNanos(), 6),
                        Numbers.groupedSignificant(hertz / 1e6, 9),
                        glyphs.sign("\u00b5s", "us"))));
        double ownPercent = clock.tolerancePpm() / 1e4;
        lines.add(Line.of("The source may be off by %d ppm = %s %%, on top of each error below."
                .formatted(clock.tolerancePpm(), Numbers.significant(ownPercent, 4))));
        lines.add(Line.EMPTY);
        lines.add(Line.of(Ink.WEAK, row("wanted", "cycles", "gives", "error", "")));
        boolean anyBaud = false;
        for (Wish wish : wishes) {
            lines.add(row(wish, hertz, ownPercent, format, glyphs));
            anyBaud |= wish.kind() == Kind.BAUD;
        }
        if (anyBaud) {
            lines.add(Line.EMPTY);
            paragraph(
                    lines,
                    ("A receiver that looks at the middle of each bit reads %s right if both ends together are off by less"
                                    + " than half a bit in %s: %s %%. Common practice: at most about %s %% on each side.")
                            .formatted(
                                    format.text(),
                                    Numbers.significant(format.bits() - 0.5, 4),
                                    Numbers.significant(format.midBitPercent(), 3),
                                    Numbers.significant(USUAL_PERCENT, 2)),
                    glyphs,
                    columns);
        }
        lines.add(Line.EMPTY);
        lines.add(Line.of(Ink.STRONG, "On real pins (common practice; the part's data sheet decides)"));
        for (String caution : CAUTIONS) {
            paragraph(lines, caution, glyphs, columns);
        }
        return lines;
    }

    private static final List<String> CAUTIONS = List.of(
            "3.3 V logic takes up to 0.8 V as low and from 2.0 V as high. A higher level than its supply, 5 V for one,"
                    + " damages a pin that is not 5 V tolerant: put a level shifter in between.",
            "Two outputs that fight on one line can destroy both. A pin drives a few milliamperes: a lamp, a fan or a"
                    + " pump needs a driver.",
            "On the mains the data sheets, the local code and a licensed electrician have the last word.");

    private static void paragraph(List<Line> lines, String text, Glyphs glyphs, int columns) {
        glyphs.wrapped(text, columns).forEach(line -> lines.add(Line.of(line)));
    }

    private static Line row(Wish wish, long hertz, double ownPercent, SerialFormat format, Glyphs glyphs) {
        WholeCycles cycles = wish.cycles();
        double given = wish.gives(hertz);
        String gives = switch (wish.kind()) {
            case BAUD -> Numbers.significant(given, 8) + " baud";
            case HERTZ -> PulseText.frequency(given);
            case PULSE -> Numbers.duration(given, glyphs);
        };
        String error = cycles.isExact() ? "exact" : percent(cycles.errorPercent());
        double worst = Math.abs(cycles.errorPercent()) + ownPercent;
        boolean serial = wish.kind() == Kind.BAUD;
        String remark =
                !serial || worst <= USUAL_PERCENT ? "" : worst < format.midBitPercent() ? "above 2 %" : "does not work";
        return Line.of(row(glyphs.visible(wish.text()), Numbers.grouped(cycles.cycles()), gives, error, ""))
                .and(remark.isEmpty() ? Ink.PLAIN : Ink.ALARM, remark.isEmpty() ? "" : "  " + remark);
    }

    private static String percent(double percent) {
        String digits = Math.abs(percent) < 0.1 || Math.abs(percent) >= 100
                ? Numbers.significant(Math.abs(percent), 3)
                : Numbers.significant(Math.abs(percent), 4);
        return (percent < 0 ? "-" : "+") + digits + " %";
    }

    private static String row(String name, String cycles, String gives, String error, String rest) {
        return (Glyphs.padded(name, NAME) + right(cycles, CYCLES) + right(gives, GIVES) + right(error, ERROR) + rest)
                .stripTrailing();
    }

    private static String right(String text, int columns) {
        return " ".repeat(Math.max(1, columns - Glyphs.width(text))) + text;
    }
}
