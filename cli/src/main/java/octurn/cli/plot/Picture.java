package octurn.cli.plot;

import java.util.List;

/** What is to be drawn. */
public sealed interface Picture {

    /** What it shows. */
    String title();

    /** What it was made from: program, design, and what a reader has to know. */
    String caption();

    /** The same as the picture in words, for those who cannot see it. */
    String words();

    /** The scale of one side. */
    record Scale(String label, boolean logarithmic) {}

    /**
     * Points, joined by lines or not.
     *
     * @param name in the legend
     * @param line whether they are joined
     * @param marks whether each is marked
     */
    record Curve(String name, List<Point> points, boolean line, boolean marks) {
        public Curve {
            points = List.copyOf(points);
        }
    }

    /** A point. */
    record Point(double x, double y) {}

    /** Curves over two scales. */
    record Curves(String title, String caption, String words, Scale x, Scale y, List<Curve> curves) implements Picture {
        public Curves {
            curves = List.copyOf(curves);
        }
    }

    /**
     * Columns side by side: for each category one of each group.
     *
     * @param categories along the bottom
     */
    record Columns(
            String title, String caption, String words, Scale x, Scale y, List<String> categories, List<Group> groups)
            implements Picture {
        public Columns {
            categories = List.copyOf(categories);
            groups = List.copyOf(groups);
        }
    }

    /** Columns of one colour: a height for each category. */
    record Group(String name, List<Double> heights) {
        public Group {
            heights = List.copyOf(heights);
        }
    }

    /**
     * Bars one below the other, each cut into parts of the same meaning.
     *
     * @param parts what the parts are, in the order in which they are drawn; those that are 0 in all bars are left out
     */
    record Bars(String title, String caption, String words, String unit, List<Part> parts, List<Bar> bars)
            implements Picture {
        public Bars {
            parts = List.copyOf(parts);
            bars = List.copyOf(bars);
        }
    }

    /** A part of all bars, told apart by colour and by hatching. */
    record Part(String name, Fill fill) {}

    /** One bar; {@code lengths} one for each part. */
    record Bar(String name, List<Long> lengths) {
        public Bar {
            lengths = List.copyOf(lengths);
        }
    }

    /** Colour and hatching of a part. */
    enum Fill {
        /** Green, plain. */
        WORK,
        /** Vermilion on white, rising lines. */
        WAIT,
        /** Blue, crossed lines. */
        HOLD,
        /** Purple, upright lines. */
        CODE,
        /** Orange, level lines. */
        LOAD,
        /** Light grey. */
        SLEEP,
        /** White. */
        IDLE,
        /** Black. */
        FAULT
    }
}
