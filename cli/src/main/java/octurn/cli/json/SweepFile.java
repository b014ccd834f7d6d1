package octurn.cli.json;

import java.util.List;
import octurn.design.Design;
import octurn.sweep.Axis;
import octurn.sweep.Finding;
import octurn.sweep.Grid;
import octurn.sweep.SweepRow;

/**
 * A sweep, or a part of one, as it lies in a file.
 *
 * @param program the program file's name, without its folder
 * @param fingerprint of all that decides what the rows are: program, design, scenario, limit and axes; pieces of one
 *     sweep have the same
 * @param design the design that fields are changed in
 * @param limit the cycle at which a run ends at the latest
 * @param set what has one value at all points
 * @param vary what is varied
 * @param own for each axis what it is without the sweep; empty text where it is nothing
 * @param points how many points the whole grid has
 * @param finding what the rows say, in words
 * @param rows by point, ascending; of a piece those of its share, of a sweep that was broken off those that were done
 */
public record SweepFile(
        String program,
        String fingerprint,
        Design design,
        long limit,
        List<Axis> set,
        List<Axis> vary,
        List<String> own,
        int points,
        String finding,
        List<SweepRow> rows) {

    public SweepFile {
        set = List.copyOf(set);
        vary = List.copyOf(vary);
        own = List.copyOf(own);
        rows = List.copyOf(rows);
    }

    /** The whole grid. */
    public Grid grid() {
        return new Grid(design, set, vary);
    }

    /** The same sweep with other rows, and what these say. */
    public SweepFile with(List<SweepRow> newRows) {
        String says = Finding.of(grid(), newRows, own).sentence();
        return new SweepFile(program, fingerprint, design, limit, set, vary, own, points, says, newRows);
    }
}
