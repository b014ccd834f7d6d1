package octurn.cli.draw;

import java.util.Locale;

/**
 * What a picture is made for. Lengths are in pixels: 96 to an inch on paper; a slide is scaled to its screen.
 */
public enum Size {
    /** A slide of 16 to 9: 960 wide, and 540 high at the most where the lanes allow it. */
    SLIDE(960, 540, 28, new Fonts(24, 13.5, 12, 14, 12, 11.5), 46, 22, 2),
    /** 180 mm wide: a page of A4 or letter paper between its margins; 288 dots an inch as PNG. */
    PAGE(680, 930, 6, new Fonts(15, 10.5, 9.5, 11, 9.5, 9.5), 35, 16, 3);

    private final int width;
    private final int height;
    private final int margin;
    private final Fonts fonts;
    private final int lane;
    private final int band;
    private final int pngScale;

    Size(int width, int height, int margin, Fonts fonts, int lane, int band, int pngScale) {
        this.width = width;
        this.height = height;
        this.margin = margin;
        this.fonts = fonts;
        this.lane = lane;
        this.band = band;
        this.pngScale = pngScale;
    }

    /** Heights of the letters, in pixels. */
    record Fonts(double title, double subtitle, double ruler, double name, double block, double label) {}

    /** Of all. */
    int width() {
        return width;
    }

    /** Of all, if the lanes can be made to fit. */
    int height() {
        return height;
    }

    /** Around all. */
    int margin() {
        return margin;
    }

    Fonts fonts() {
        return fonts;
    }

    /** From one lane to the next, with a row of instructions between them. */
    int lane() {
        return lane;
    }

    /** The height of the blocks in a lane. */
    int band() {
        return band;
    }

    /** Dots of a PNG for each pixel. */
    int pngScale() {
        return pngScale;
    }

    /** Width and height as an SVG has them: on paper in millimetres, so that it is printed at its size. */
    String svgLength(double pixels) {
        if (this == SLIDE) {
            return SvgSheet.number(pixels);
        }
        return SvgSheet.number(pixels * 25.4 / 96) + "mm";
    }

    /** Its name on the command line. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
