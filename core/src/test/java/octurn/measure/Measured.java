package octurn.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.trace.Event;
import octurn.trace.Kind;
import octurn.trace.Sink;

/** A program that ran to its end with every meter listening. */
public record Measured(
        Program program,
        RunReport report,
        List<AccessStalls> stalls,
        List<LoopPasses> loops,
        List<CoreThinks> thinks,
        List<Event> admissions) {

    public static Measured of(String text, Design design) {
        return of(assemble(text, design), Scenario.QUIET, 10_000_000);
    }

    public static Measured of(Program program, Scenario scenario, long limit) {
        StallMeter stalls = new StallMeter(program, limit);
        LoopMeter loops = new LoopMeter(program);
        ThinkMeter thinks = new ThinkMeter(program, limit);
        List<Event> admissions = new ArrayList<>();
        Sink keep = (kind, cycle, core, a, b) -> {
            if (kind == Kind.ADMIT) {
                admissions.add(new Event(kind, cycle, core, a, b));
            }
        };
        Run run = Run.of(program, scenario, limit, Sink.both(Sink.both(stalls, loops), Sink.both(thinks, keep)));
        run.finish();
        return new Measured(program, RunReports.of(run), stalls.stalls(), loops.loops(), thinks.thinks(), admissions);
    }

    /** The passes between two labels. */
    static List<RegionPasses> regions(String text, Design design, String from, String to, OptionalLong within) {
        Program program = assemble(text, design);
        RegionMeter meter = new RegionMeter(program, from, to, within);
        Run run = Run.of(program, Scenario.QUIET, 100_000, meter);
        run.finish();
        return meter.regions(run.chip().cycle());
    }

    public static Program assemble(String text, Design design) {
        Assembly assembly = Assembler.assemble("test.turn", text.getBytes(StandardCharsets.UTF_8), design, Map.of());
        assertThat(assembly).as(text).isInstanceOf(Assembly.Assembled.class);
        return ((Assembly.Assembled) assembly).program();
    }
}
