package octurn.cli.view;

import java.util.List;
import octurn.report.RunReport;

/** What ran, under which design, and how it ended: the first lines of every view of a run. */
final class Headings {

    private Headings() {}

    static List<Line> of(RunReport report, Glyphs glyphs, int columns) {
        String cycles = Numbers.grouped(report.cycles()) + (report.cycles() == 1 ? " cycle" : " cycles");
        boolean anyFault = report.cores().stream().anyMatch(core -> core.fault() != null);
        String end = switch (report.ended()) {
            case ALL_IDLE -> anyFault ? "every core is idle or in fault after " : "every core is idle after ";
            case STUCK -> "stuck after ";
            case LIMIT -> "stopped at the limit of ";
        };
        double seconds = (double) report.cycles() / report.design().clock().chipHertz();
        String ended = ": %s%s = %s".formatted(end, cycles, Numbers.duration(seconds, glyphs));
        String name = glyphs.cut(glyphs.visible(report.program()), columns - Glyphs.width(ended));
        return List.of(Line.of(Ink.STRONG, name).and(ended), DesignView.oneLine(report.design(), glyphs, columns));
    }
}
