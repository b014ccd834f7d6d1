package octurn.cli.draw;

import java.util.List;

/** Something to draw on. Lengths are in pixels from the upper left corner; colours are 0xRRGGBB. */
interface Sheet {

    /** Where a text stands to its place. */
    enum Anchor {
        START,
        MIDDLE,
        END
    }

    /** A point of a path. */
    record Point(double x, double y) {}

    /**
     * What letters look like.
     *
     * @param size their height
     */
    record Letters(double size, boolean bold, int colour) {}

    /** A surface without a frame. */
    void fill(double x, double y, double width, double height, Texture texture);

    /** A surface of one colour. */
    void fill(double x, double y, double width, double height, int colour);

    /** A line through these points. */
    void line(List<Point> points, double width, int colour);

    /** A surface between these points. */
    void polygon(List<Point> points, int colour);

    /** A text on its base line; it can be shown as it is. */
    void text(double x, double y, String text, Anchor anchor, Letters letters);
}
