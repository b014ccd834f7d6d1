package octurn.report;

import java.nio.charset.StandardCharsets;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.run.Run;

/** Programs, and what came of running them. */
final class Runs {

    private Runs() {}

    static Program assembled(String text, Design design) {
        Assembly assembly = Assembler.assemble("test.turn", text.getBytes(StandardCharsets.UTF_8), design);
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        throw new AssertionError(assembly);
    }

    static RunReport report(String text, Design design, long limit) {
        Run run = Run.of(assembled(text, design), Scenario.QUIET, limit);
        run.finish();
        return RunReports.of(run);
    }

    static RunReport report(String text) {
        return report(text, Design.DEFAULT, Run.DEFAULT_LIMIT);
    }

    static Design design(int cores, int slotCycles, Admission admission) {
        return design(cores, slotCycles, 1, admission);
    }

    static Design design(int cores, int slotCycles, int plain, Admission admission) {
        Cost cost = new Cost(plain, 2, 2, 4, 16);
        return new Design("test", cores, 1024, 4096, slotCycles, admission, cost, 16, Clock.DEFAULT);
    }
}
