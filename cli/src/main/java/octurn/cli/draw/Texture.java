package octurn.cli.draw;

/**
 * How a surface looks: a ground with lines on it, so that it is told apart without colour, too.
 *
 * @param ground its colour, as 0xRRGGBB
 * @param lines the colour of the lines
 * @param hatch how they run
 * @param text the colour of words on the ground
 */
record Texture(int ground, int lines, Hatch hatch, int text) {

    /** How lines run. */
    enum Hatch {
        PLAIN,
        RISING,
        CROSSED,
        UPRIGHT,
        LEVEL,
        DOTTED;

        /** From one line to the next, in pixels. */
        static final int PITCH = 6;
    }
}
