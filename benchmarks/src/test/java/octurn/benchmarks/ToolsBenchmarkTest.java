package octurn.benchmarks;

import static org.assertj.core.api.Assertions.assertThat;

import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.Chip;
import octurn.report.RunReports;
import octurn.run.Moment;
import octurn.run.Run;
import octurn.sweep.SweepRow;
import octurn.sweep.SweepTask;
import org.junit.jupiter.api.Test;

/** The work around a run that is timed is done, and done right. */
class ToolsBenchmarkTest {

    @Test
    void source_assembled_isNearlyAMebibyteWithoutAMistake() {
        byte[] source = ToolsBenchmark.source();

        assertThat(source.length).isBetween(ToolsBenchmark.SOURCE_BYTES - 200, ToolsBenchmark.SOURCE_BYTES);
        Assembly assembly = Assembler.assemble("beds.turn", source, ToolsBenchmark.ROOMY);
        assertThat(assembly).isInstanceOf(Assembly.Assembled.class);
        assertThat(((Assembly.Assembled) assembly).warnings()).isEmpty();
    }

    @Test
    void saveAndRestore_aChip_changesNothing() {
        ToolsBenchmark benchmark = new ToolsBenchmark();
        Object before = benchmark.report();
        benchmark.saveAndRestore();

        assertThat(benchmark.report()).isEqualTo(before);
    }

    @Test
    void sweep_someOfItsPoints_runToTheirLimit() {
        SweepTask sweep = ToolsBenchmark.sweep();

        assertThat(sweep.grid().size()).isEqualTo(256);
        for (int point = 0; point < 256; point += 51) {
            assertThat(sweep.run(point).status()).isEqualTo(SweepRow.Status.LIMIT);
        }
    }

    @Test
    void stepBack_fromAnywhere_showsWhatTheRunWasThen() {
        StepBackBenchmark benchmark = new StepBackBenchmark();
        benchmark.load = Load.SHARED;
        benchmark.cycles = 20_000;
        benchmark.setUp();
        StepBackBenchmark.Place place = new StepBackBenchmark.Place();
        place.go(benchmark);

        Moment moment = benchmark.stepBack(place);

        Program program = Load.SHARED.program(Design.DEFAULT);
        Run run = Run.of(program, Scenario.QUIET, 1L << 52);
        run.runTo(moment.cycle());
        Chip shown = moment.chip();
        assertThat(shown.sharedWord(0)).isEqualTo(run.chip().sharedWord(0));
        RunReports.of(run).cores().forEach(core -> {
            assertThat(shown.core(core.core()).pc()).isEqualTo(core.pc());
            assertThat(shown.core(core.core()).state()).isEqualTo(core.state());
        });
    }
}
