package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;

/** Chips of any size with the standard costs, and programs to run on them. */
final class Lab {

    private Lab() {}

    static Design design(int cores, int slotCycles, Admission admission) {
        return new Design("lab", cores, 1024, 16384, slotCycles, admission, Cost.DEFAULT, 16, Clock.DEFAULT);
    }

    static Admission rotation(int cores) {
        return new Admission.Rotation(Design.plainOrder(cores));
    }

    static Admission priority(int cores) {
        return new Admission.Priority(Design.plainOrder(cores));
    }

    static Admission lottery(Integer... weights) {
        return new Admission.Lottery(List.of(weights), Admission.Lottery.DEFAULT_SEED);
    }

    static Admission evenLottery(int cores) {
        return new Admission.Lottery(Design.plainWeights(cores), Admission.Lottery.DEFAULT_SEED);
    }

    /** A run at cycle 0 of a text that must be right. */
    static Run run(String text, Design design, long limit) {
        Assembly assembly = Assembler.assemble("lab.turn", text, design);
        assertThat(assembly).isInstanceOf(Assembly.Assembled.class);
        return Run.of(((Assembly.Assembled) assembly).program(), Scenario.QUIET, limit);
    }

    static RunReport report(String text, Design design, long limit) {
        Run run = run(text, design, limit);
        run.finish();
        return RunReports.of(run);
    }

    /** The mean of a histogram of waits. */
    static double mean(Map<Long, Long> histogram) {
        return histogram.entrySet().stream()
                        .mapToDouble(e -> (double) e.getKey() * e.getValue())
                        .sum()
                / count(histogram);
    }

    /** The variance of a histogram of waits, all of them taken as the whole population. */
    static double variance(Map<Long, Long> histogram) {
        double mean = mean(histogram);
        return histogram.entrySet().stream()
                        .mapToDouble(e -> Math.pow(e.getKey() - mean, 2) * e.getValue())
                        .sum()
                / count(histogram);
    }

    private static long count(Map<Long, Long> histogram) {
        return histogram.values().stream().mapToLong(Long::longValue).sum();
    }
}
