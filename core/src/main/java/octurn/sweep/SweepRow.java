package octurn.sweep;

import java.util.List;
import java.util.Optional;
import octurn.compare.RunFigures;

/**
 * What became of one point.
 *
 * @param point its number in the grid
 * @param values of the axes
 * @param status how it ended
 * @param figures of its run, if it ran
 * @param sharedChecksum of the words that it left in shared memory, if it ran; 0 otherwise
 * @param message what went wrong; empty if nothing did
 */
public record SweepRow(
        int point,
        List<String> values,
        Status status,
        Optional<RunFigures> figures,
        long sharedChecksum,
        String message) {

    /** How a point can end. */
    public enum Status {
        /** Every core came to its end. */
        ALL_IDLE("all-idle"),
        /** The limit of cycles ended the run. */
        LIMIT("limit"),
        /** The run was stuck. */
        STUCK("stuck"),
        /** A core is in fault. */
        FAULT("fault"),
        /** The program does not go with the design, or the values with each other: nothing was run. */
        UNFIT("unfit");

        private final String text;

        Status(String text) {
            this.text = text;
        }

        /** As in files. */
        public String text() {
            return text;
        }
    }

    public SweepRow {
        values = List.copyOf(values);
    }

    /** Whether the program came to its end. */
    public boolean finished() {
        return status == Status.ALL_IDLE;
    }
}
