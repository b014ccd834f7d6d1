package octurn.cli.view;

import octurn.design.Design;

/**
 * Where the parts of the stepper's screen lie.
 *
 * @param rows of the screen
 * @param columns of the screen
 * @param rulerRows rows above the lanes, the heading among them
 * @param lanes how many lanes are in sight
 * @param past columns for cycles before the present one
 * @param coming columns for the present cycle and those after it
 * @param legendRow row of the legend, or -1
 * @param titleRow row of the titles of source and panels
 * @param detailRows rows of source and panels below it
 * @param sentenceRows rows of the sentence
 * @param panelColumns how many panels stand side by side
 */
record StepLayout(
        int rows,
        int columns,
        int rulerRows,
        int lanes,
        int past,
        int coming,
        int legendRow,
        int titleRow,
        int detailRows,
        int sentenceRows,
        int panelColumns) {

    static final int LEAST_ROWS = 24;
    static final int LEAST_COLUMNS = 80;

    /** Columns of a lane's label. */
    static final int LABEL = 5;

    /** Columns of a panel, the line before it not counted. */
    static final int PANEL = 37;

    /** Columns from which on there is room for two, and for three panels side by side. */
    private static final int TWO_PANELS = 124;

    private static final int THREE_PANELS = 190;
    private static final int LEAST_DETAIL = 8;
    /** Screens below this have no rows to spare. */
    private static final int ROOMY_ROWS = 27;

    static boolean fits(int rows, int columns) {
        return rows >= LEAST_ROWS && columns >= LEAST_COLUMNS;
    }

    static StepLayout of(int rows, int columns, Design design) {
        boolean roomy = rows >= ROOMY_ROWS;
        int rulers = LanesView.needsTens(design) ? 4 : 3;
        int sentence = roomy ? 3 : 2;
        int bottom = roomy ? 2 : 1;
        int fixed = 1 + rulers + (roomy ? 1 : 0) + 1 + sentence + bottom;
        int most = Math.max(rows - fixed - LEAST_DETAIL, 4);
        int lanes = Math.min(design.cores(), Math.min(most, Math.max(8, rows / 2 - 3)));
        int times = columns - LABEL - 1 - textColumns(columns);
        int past = (times + 1) / 2;
        int legend = roomy ? 1 + rulers + lanes : -1;
        int title = 1 + rulers + lanes + (roomy ? 1 : 0);
        int panels = columns >= THREE_PANELS ? 3 : columns >= TWO_PANELS ? 2 : 1;
        return new StepLayout(
                rows,
                columns,
                rulers,
                lanes,
                past,
                times - past,
                legend,
                title,
                rows - title - 1 - sentence - bottom,
                sentence,
                panels);
    }

    /** Columns for what is said beside each lane. */
    static int textColumns(int columns) {
        if (columns >= 140) {
            return 50;
        }
        return columns >= 100 ? 41 : 33;
    }

    /** The same with so many rows of source and panels; what is below moves up. */
    StepLayout withDetailRows(int newRows) {
        return new StepLayout(
                rows,
                columns,
                rulerRows,
                lanes,
                past,
                coming,
                legendRow,
                titleRow,
                newRows,
                sentenceRows,
                panelColumns);
    }

    int sentenceRow() {
        return titleRow + 1 + detailRows;
    }

    int bottomRow() {
        return rows - 1;
    }

    int sourceColumns() {
        return columns - panelColumns * (PANEL + 1);
    }

    /** The first lane in sight, so that the chosen core is among them. */
    int firstLane(int core, int cores) {
        return Math.max(0, Math.min(core - lanes / 2, cores - lanes));
    }
}
