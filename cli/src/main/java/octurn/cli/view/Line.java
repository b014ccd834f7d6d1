package octurn.cli.view;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** One line to show, in pieces of one ink each. */
public final class Line {

    /** An empty line. */
    public static final Line EMPTY = new Line(List.of());

    /** A stretch of one ink. */
    record Piece(Ink ink, String text) {}

    private final List<Piece> pieces;

    private Line(List<Piece> pieces) {
        this.pieces = pieces;
    }

    /** A line of these pieces. */
    static Line of(List<Piece> pieces) {
        return new Line(List.copyOf(pieces));
    }

    /** A line of one piece. */
    public static Line of(Ink ink, String text) {
        return EMPTY.and(ink, text);
    }

    /** A plain line. */
    public static Line of(String text) {
        return of(Ink.PLAIN, text);
    }

    /** This line with a piece more. */
    public Line and(Ink ink, String text) {
        List<Piece> more = new ArrayList<>(pieces);
        more.add(new Piece(ink, text));
        return new Line(more);
    }

    /** This line with a plain piece more. */
    public Line and(String text) {
        return and(Ink.PLAIN, text);
    }

    /** The pieces, in order. */
    List<Piece> pieces() {
        return Collections.unmodifiableList(pieces);
    }

    /** The text alone, without blanks at its end. */
    public String plain() {
        StringBuilder text = new StringBuilder();
        for (Piece piece : pieces) {
            text.append(piece.text());
        }
        return text.toString().stripTrailing();
    }

    /** The text with the control sequences that colour it. */
    public String coloured() {
        StringBuilder text = new StringBuilder();
        for (Piece piece : pieces) {
            boolean plain = piece.ink().codes().isEmpty() || piece.text().isBlank();
            text.append(plain ? piece.text() : inCodes(piece.ink().codes(), piece.text()));
        }
        return text.toString().stripTrailing();
    }

    /** The text to its last blank, with control sequences: for a screen, where blanks can have a ground. */
    public String onScreen(boolean colour) {
        StringBuilder text = new StringBuilder();
        for (Piece piece : pieces) {
            String codes = colour ? piece.ink().codes() : piece.ink().codesWithoutColour();
            text.append(codes.isEmpty() ? piece.text() : inCodes(codes, piece.text()));
        }
        return text.toString();
    }

    private static String inCodes(String codes, String text) {
        return "\u001b[" + codes + "m" + text + "\u001b[0m";
    }

    @Override
    public String toString() {
        return plain();
    }
}
