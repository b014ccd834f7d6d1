package octurn.cli.view;

import java.util.List;
import java.util.stream.Collectors;

/**
 * A whole screen, ready to be shown: exactly so many lines of at most so many columns.
 *
 * @param columns of the screen
 * @param lines one for each row
 * @param cursorRow where the cursor stands, from 0; -1 if none is shown
 * @param cursorColumn from 0
 * @param zones what the mouse can reach; where two overlap, the later one counts
 */
public record Frame(int columns, List<Line> lines, int cursorRow, int cursorColumn, List<Zone> zones) {

    public Frame {
        lines = List.copyOf(lines);
        zones = List.copyOf(zones);
    }

    /**
     * A part of the screen that answers to the mouse with a command of the stepper.
     *
     * @param row of its upper left corner, from 0
     * @param column of its upper left corner, from 0
     * @param click the command of a click; empty for none
     * @param wheelUp the command of the wheel turned away from the user; empty for none
     * @param wheelDown the command of the wheel turned towards the user; empty for none
     */
    public record Zone(int row, int column, int rows, int columns, String click, String wheelUp, String wheelDown) {

        /** Whether this place of the screen is part of it. */
        public boolean contains(int atRow, int atColumn) {
            return atRow >= row && atRow < row + rows && atColumn >= column && atColumn < column + columns;
        }
    }

    /** What the mouse does: the command of the last zone there that has one, or nothing. */
    public String command(int row, int column, java.util.function.Function<Zone, String> action) {
        String found = "";
        for (Zone zone : zones) {
            if (zone.contains(row, column) && !action.apply(zone).isEmpty()) {
                found = action.apply(zone);
            }
        }
        return found;
    }

    /** The text alone, one line a row. */
    public String plain() {
        return lines.stream().map(Line::plain).collect(Collectors.joining("\n", "", "\n"));
    }
}
