package octurn.sweep;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.compare.Outcome;
import octurn.compare.RunFigures;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.FaultReport;
import octurn.report.RunReports;
import octurn.report.Verdict;
import octurn.run.Run;
import octurn.sweep.SweepRow.Status;

/**
 * A sweep: what is to be run at each point of a grid. Points do not know each other, so they can be run in any order and
 * side by side.
 *
 * @param file the program file's name as the user gave it, for messages
 * @param text what is in it
 * @param grid the points
 * @param scenario what the world does in each of them
 * @param limit the cycle at which a run ends at the latest
 */
public record SweepTask(String file, byte[] text, Grid grid, Scenario scenario, long limit) {

    /**
     * The program of a point, or what is wrong with it.
     *
     * @throws IllegalArgumentException if the values of the point do not go together
     */
    public Assembly assemble(int point) {
        return Assembler.assemble(file, text, grid.design(point), grid.constants(point));
    }

    /** Runs one point to its end; all that goes wrong with it is in the row. */
    public SweepRow run(int point) {
        List<String> values = grid.values(point);
        try {
            Assembly assembly = assemble(point);
            if (assembly instanceof Assembly.Rejected rejected) {
                return unfit(point, values, line(rejected.errors()));
            }
            Program program = ((Assembly.Assembled) assembly).program();
            OptionalInt pin = scenario.pinBeyond(program.design());
            if (pin.isPresent()) {
                return unfit(
                        point,
                        values,
                        "the scenario gives pin %d a level, but the design has %d pins"
                                .formatted(pin.getAsInt(), program.design().pins()));
            }
            Run run = Run.of(program, scenario, limit);
            run.finish();
            return row(point, values, program, RunReports.of(run));
        } catch (IllegalArgumentException e) {
            return unfit(point, values, String.valueOf(e.getMessage()));
        }
    }

    private static SweepRow unfit(int point, List<String> values, String why) {
        return new SweepRow(point, values, Status.UNFIT, Optional.empty(), 0, why);
    }

    private static String line(List<Diagnostic> errors) {
        Diagnostic first = errors.get(0);
        String where = first.span().line() == 0
                ? ""
                : "line %d: ".formatted(first.span().line());
        String more = errors.size() == 1 ? "" : " (and %d more errors)".formatted(errors.size() - 1);
        return where + first.message() + more;
    }

    private static SweepRow row(int point, List<String> values, Program program, RunReport report) {
        RunFigures figures = RunFigures.of(report);
        Status status = figures.faults() > 0
                ? Status.FAULT
                : switch (report.ended()) {
                    case ALL_IDLE -> Status.ALL_IDLE;
                    case STUCK -> Status.STUCK;
                    case LIMIT -> Status.LIMIT;
                };
        long checksum = new Outcome(program, report).sharedChecksum();
        return new SweepRow(point, values, status, Optional.of(figures), checksum, message(status, report));
    }

    private static String message(Status status, RunReport report) {
        return switch (status) {
            case FAULT, STUCK -> status == Status.STUCK ? Verdict.of(report).sentence() : firstFault(report);
            case LIMIT -> "not at its end at the limit of %d cycles".formatted(report.cycles());
            case ALL_IDLE, UNFIT -> "";
        };
    }

    private static String firstFault(RunReport report) {
        String text = "";
        long first = Long.MAX_VALUE;
        for (CoreReport core : report.cores()) {
            FaultReport fault = core.fault();
            if (fault != null && fault.cycle() < first) {
                first = fault.cycle();
                text = "core %d, line %d: %s: %s"
                        .formatted(core.core(), fault.line(), fault.kind().text(), fault.message());
            }
        }
        return text;
    }
}
