package octurn.cli.draw;

import java.util.Arrays;
import java.util.Locale;
import octurn.cli.draw.Texture.Hatch;
import octurn.machine.State;

/**
 * The colours of a picture. Those of the first two are from Okabe and Ito's palette for colour-blind readers (Color
 * Universal Design, 2008), black, white and greys. Words reach a contrast of 4.5 with what they stand on, and what tells
 * something a contrast of 3 with the picture's ground (WCAG 2.x).
 */
public enum Palette {
    /** On white. */
    LIGHT(0xFFFFFF, 0x000000, 0x595959, 0xD9D9D9, 0x0072B2) {
        @Override
        Texture make(State state) {
            return switch (state) {
                case WORK -> new Texture(0x009E73, 0x009E73, Hatch.PLAIN, 0x000000);
                case WAIT -> new Texture(0xFFFFFF, 0xD55E00, Hatch.RISING, 0x000000);
                case SLOT -> new Texture(0x0072B2, 0xFFFFFF, Hatch.CROSSED, 0xFFFFFF);
                case CODE_WAIT -> new Texture(0xFFFFFF, 0xCC79A7, Hatch.UPRIGHT, 0x000000);
                case CODE_SLOT -> new Texture(0xCC79A7, 0x000000, Hatch.UPRIGHT, 0x000000);
                case LOAD_WAIT -> new Texture(0xFFFFFF, 0xD55E00, Hatch.LEVEL, 0x000000);
                case LOAD_SLOT -> new Texture(0xE69F00, 0x000000, Hatch.LEVEL, 0x000000);
                case SLEEP -> new Texture(0xF2F2F2, 0x595959, Hatch.DOTTED, 0x000000);
                case IDLE -> new Texture(0xFFFFFF, 0x595959, Hatch.PLAIN, 0x000000);
                case FAULT -> new Texture(0x000000, 0x000000, Hatch.PLAIN, 0xFFFFFF);
            };
        }
    },
    /** On near black, for a dark slide. */
    DARK(0x111111, 0xFFFFFF, 0xBFBFBF, 0x3A3A3A, 0x56B4E9) {
        @Override
        Texture make(State state) {
            return switch (state) {
                case WORK -> new Texture(0x009E73, 0x009E73, Hatch.PLAIN, 0x000000);
                case WAIT -> new Texture(0x111111, 0xD55E00, Hatch.RISING, 0xFFFFFF);
                case SLOT -> new Texture(0x56B4E9, 0x000000, Hatch.CROSSED, 0x000000);
                case CODE_WAIT -> new Texture(0x111111, 0xCC79A7, Hatch.UPRIGHT, 0xFFFFFF);
                case CODE_SLOT -> new Texture(0xCC79A7, 0x000000, Hatch.UPRIGHT, 0x000000);
                case LOAD_WAIT -> new Texture(0x111111, 0xE69F00, Hatch.LEVEL, 0xFFFFFF);
                case LOAD_SLOT -> new Texture(0xE69F00, 0x000000, Hatch.LEVEL, 0x000000);
                case SLEEP -> new Texture(0x2B2B2B, 0xBFBFBF, Hatch.DOTTED, 0xFFFFFF);
                case IDLE -> new Texture(0x111111, 0xBFBFBF, Hatch.PLAIN, 0xFFFFFF);
                case FAULT -> new Texture(0xF0E442, 0xF0E442, Hatch.PLAIN, 0x000000);
            };
        }
    },
    /** Black, white and greys, for a printer without colours. */
    GREY(0xFFFFFF, 0x000000, 0x595959, 0xD9D9D9, 0x000000) {
        @Override
        Texture make(State state) {
            return switch (state) {
                case WORK -> new Texture(0x8C8C8C, 0x8C8C8C, Hatch.PLAIN, 0x000000);
                case WAIT -> new Texture(0xFFFFFF, 0x595959, Hatch.RISING, 0x000000);
                case SLOT -> new Texture(0x262626, 0xFFFFFF, Hatch.CROSSED, 0xFFFFFF);
                case CODE_WAIT -> new Texture(0xFFFFFF, 0x595959, Hatch.UPRIGHT, 0x000000);
                case CODE_SLOT -> new Texture(0xB3B3B3, 0x000000, Hatch.UPRIGHT, 0x000000);
                case LOAD_WAIT -> new Texture(0xFFFFFF, 0x595959, Hatch.LEVEL, 0x000000);
                case LOAD_SLOT -> new Texture(0xB3B3B3, 0x000000, Hatch.LEVEL, 0x000000);
                case SLEEP -> new Texture(0xF2F2F2, 0x595959, Hatch.DOTTED, 0x000000);
                case IDLE -> new Texture(0xFFFFFF, 0x595959, Hatch.PLAIN, 0x000000);
                case FAULT -> new Texture(0x000000, 0x000000, Hatch.PLAIN, 0xFFFFFF);
            };
        }
    };

    private final int ground;
    private final int ink;
    private final int weak;
    private final int faint;
    private final int turn;
    /** By the state's ordinal. */
    private final Texture[] textures;

    Palette(int ground, int ink, int weak, int faint, int turn) {
        this.ground = ground;
        this.ink = ink;
        this.weak = weak;
        this.faint = faint;
        this.turn = turn;
        this.textures = Arrays.stream(State.values()).map(this::make).toArray(Texture[]::new);
    }

    abstract Texture make(State state);

    /** What the picture stands on, as 0xRRGGBB; the same for the others. */
    int ground() {
        return ground;
    }

    /** Words, frames and arrows. */
    int ink() {
        return ink;
    }

    /** Words and lines that matter less. */
    int weak() {
        return weak;
    }

    /** Lines that only guide the eye; they tell nothing. */
    int faint() {
        return faint;
    }

    /** Where a core's own slot stands open. */
    int turn() {
        return turn;
    }

    /** How a core in this state is drawn. */
    Texture texture(State state) {
        return textures[state.ordinal()];
    }

    /** A clash on a pin. */
    Texture clash() {
        return new Texture(ground, ink, Hatch.CROSSED, ink);
    }

    /** Its name on the command line. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
