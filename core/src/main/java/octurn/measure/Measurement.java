package octurn.measure;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import octurn.asm.Program;
import octurn.report.RunReport;

/**
 * All that the meters found in a run, beside its report.
 *
 * @param program what ran
 * @param report of the run
 * @param stalls by core, private before shared, then by address
 * @param loops by core, private before shared, then by address; loops with no pass are left out
 * @param thinks one entry for each core that was admitted for data, ascending
 * @param between what was measured between two labels, if that was asked for
 */
public record Measurement(
        Program program,
        RunReport report,
        List<AccessStalls> stalls,
        List<LoopPasses> loops,
        List<CoreThinks> thinks,
        Optional<Between> between) {

    public Measurement {
        stalls = List.copyOf(stalls);
        loops = List.copyOf(loops);
        thinks = List.copyOf(thinks);
    }

    /**
     * The passes between two labels.
     *
     * @param from the label at which a pass begins
     * @param to the label at which it ends
     * @param withinCycles how long it may take, if there is a deadline
     * @param regions one entry for each core that came to the first label, ascending
     */
    public record Between(String from, String to, OptionalLong withinCycles, List<RegionPasses> regions) {
        public Between {
            regions = List.copyOf(regions);
        }
    }
}
