package octurn.cli.view;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import octurn.cli.view.Frame.Zone;
import octurn.cli.view.Line.Piece;
import org.jspecify.annotations.Nullable;

/**
 * A grid of cells to draw on. Whatever is drawn stays inside: text is cut at the right edge of its area, a character of
 * two columns is not cut in half, and marks stay with the letter before them.
 */
final class Canvas {

    private static final String BLANK = " ";
    /** Stands in the second cell of a character of two columns. */
    private static final String TAIL = "";

    private final int rows;
    private final int columns;
    private final Glyphs glyphs;
    private final String[] cells;
    private final Ink[] inks;
    private final List<Zone> zones = new ArrayList<>();
    private int cursorRow = -1;
    private int cursorColumn = -1;

    Canvas(int rows, int columns, Glyphs glyphs) {
        this.rows = rows;
        this.columns = columns;
        this.glyphs = glyphs;
        this.cells = new String[rows * columns];
        this.inks = new Ink[rows * columns];
        Arrays.fill(cells, BLANK);
        Arrays.fill(inks, Ink.PLAIN);
    }

    /** All of it. */
    Area all() {
        return new Area(0, 0, rows, columns);
    }

    Frame frame() {
        List<Line> lines = new ArrayList<>();
        for (int row = 0; row < rows; row++) {
            lines.add(line(row));
        }
        return new Frame(columns, lines, cursorRow, cursorColumn, zones);
    }

    private Line line(int row) {
        List<Piece> pieces = new ArrayList<>();
        StringBuilder text = new StringBuilder();
        @Nullable Ink ink = null;
        for (int i = row * columns; i < (row + 1) * columns; i++) {
            if (ink != null && inks[i] != ink) {
                pieces.add(new Piece(ink, text.toString()));
                text.setLength(0);
            }
            ink = inks[i];
            text.append(cells[i]);
        }
        if (ink != null) {
            pieces.add(new Piece(ink, text.toString()));
        }
        return Line.of(pieces);
    }

    private void set(int index, String cell, Ink ink) {
        boolean rowStart = index % columns == 0;
        boolean rowEnd = index % columns == columns - 1;
        if (cells[index].equals(TAIL) && !rowStart) {
            cells[index - 1] = BLANK;
        }
        if (!rowEnd && cells[index + 1].equals(TAIL)) {
            cells[index + 1] = BLANK;
        }
        cells[index] = cell;
        inks[index] = ink;
    }

    /** A rectangle of the canvas, with places counted from its own upper left corner. */
    final class Area {
        private final int top;
        private final int left;
        private final int height;
        private final int width;

        private Area(int top, int left, int height, int width) {
            this.top = top;
            this.left = left;
            this.height = height;
            this.width = width;
        }

        int rows() {
            return height;
        }

        int columns() {
            return width;
        }

        Glyphs glyphs() {
            return glyphs;
        }

        /** A part of it, itself cut to what there is. */
        Area part(int row, int column, int partRows, int partColumns) {
            int r = Math.max(0, Math.min(row, height));
            int c = Math.max(0, Math.min(column, width));
            return new Area(
                    top + r,
                    left + c,
                    Math.max(0, Math.min(partRows, height - r)),
                    Math.max(0, Math.min(partColumns, width - c)));
        }

        /** The part from a row on. */
        Area below(int row) {
            return part(row, 0, height - row, width);
        }

        /**
         * Writes text that can be shown as it is, and returns the column after it.
         *
         * @throws IllegalArgumentException if a control character is in it
         */
        int put(int row, int column, String text, Ink ink) {
            return put(row, column, text, ink, width);
        }

        /** The same, up to a column. */
        int put(int row, int column, String text, Ink ink, int endColumn) {
            int end = Math.min(endColumn, width);
            int at = column;
            for (int i = 0; i < text.length(); i += Character.charCount(text.codePointAt(i))) {
                int c = text.codePointAt(i);
                if (Character.getType(c) == Character.CONTROL) {
                    throw new IllegalArgumentException("a control character on the screen: %x".formatted(c));
                }
                int columnsTaken = Glyphs.width(c);
                if (row < 0 || row >= height || at + columnsTaken > end) {
                    break;
                }
                if (at >= 0) {
                    putOne(row, at, Character.toString(c), columnsTaken, ink, column);
                }
                at += columnsTaken;
            }
            return at;
        }

        private void putOne(int row, int at, String character, int columnsTaken, Ink ink, int start) {
            int index = (top + row) * columns + left + at;
            if (columnsTaken == 0) {
                if (at > start) {
                    int base = cells[index - 1].equals(TAIL) ? index - 2 : index - 1;
                    cells[base] += character;
                }
                return;
            }
            set(index, character, ink);
            if (columnsTaken == 2) {
                set(index + 1, TAIL, ink);
                // Setting the second half has cleared the first.
                cells[index] = character;
            }
        }

        /** Writes a line in its own inks. */
        void put(int row, int column, Line line) {
            int at = column;
            for (Piece piece : line.pieces()) {
                at = put(row, at, piece.text(), piece.ink());
            }
        }

        /** Writes text from outside, made visible, and returns the column after it. */
        int putOutside(int row, int column, String text, Ink ink, int endColumn) {
            return put(row, column, glyphs.visible(text), ink, endColumn);
        }

        /** The same, with an ellipsis where it is cut off. */
        int putCut(int row, int column, String text, Ink ink, int endColumn) {
            int room = Math.max(0, Math.min(endColumn, width) - column);
            return put(row, column, glyphs.cut(glyphs.visible(text), room), ink, endColumn);
        }

        /** Writes text that ends before a column. */
        void putRight(int row, int endColumn, String text, Ink ink) {
            put(row, endColumn - Glyphs.width(text), text, ink, endColumn);
        }

        /** Fills a row with one character. */
        void fill(int row, int fromColumn, int toColumn, String character, Ink ink) {
            for (int column = Math.max(0, fromColumn); column < Math.min(toColumn, width); column++) {
                put(row, column, character, ink);
            }
        }

        /** Gives cells that are drawn already another ink. */
        void ink(int row, int fromColumn, int toColumn, Ink ink) {
            for (int column = Math.max(0, fromColumn); column < Math.min(toColumn, width); column++) {
                if (row >= 0 && row < height) {
                    inks[(top + row) * columns + left + column] = ink;
                }
            }
        }

        /** Puts the cursor here. */
        void cursor(int row, int column) {
            cursorRow = top + row;
            cursorColumn = left + Math.min(column, width - 1);
        }

        /** Lets a part answer to the mouse. */
        void zone(int row, int column, int zoneRows, int zoneColumns, String click, String wheelUp, String wheelDown) {
            Area part = part(row, column, zoneRows, zoneColumns);
            if (part.height > 0 && part.width > 0) {
                zones.add(new Zone(part.top, part.left, part.height, part.width, click, wheelUp, wheelDown));
            }
        }
    }
}
