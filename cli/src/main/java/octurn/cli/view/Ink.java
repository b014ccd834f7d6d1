package octurn.cli.view;

/**
 * What a piece of a line is, for those terminals that tell it by colour as well. Nothing is told by colour alone.
 *
 * <p>The four colours are those of Okabe and Ito's palette for colour-blind readers (Color Universal Design, 2008) whose
 * contrast reaches 3 on white and on black (WCAG 2.x): 009E73, 0072B2, D55E00, CC79A7; each beside it is the nearest of
 * the 256 colours that terminals have in common.
 */
public enum Ink {
    PLAIN(""),
    STRONG("1"),
    WEAK("2"),
    GREEN("38;5;36"),
    BLUE("38;5;25"),
    RED("38;5;166"),
    PINK("38;5;175"),
    ALARM("1;38;5;166"),

    /** What is chosen, or stands out as a bar. */
    REVERSED("7"),
    STRONG_REVERSED("1;7"),
    UNDERLINED("4"),

    // Cells with a ground of their own, so that their contrast is the same on any terminal: black on the palette.
    ON_GREEN("38;5;16;48;5;36"),
    ON_BLUE("38;5;16;48;5;74"),
    ON_RED("38;5;16;48;5;166"),
    ON_PINK("38;5;16;48;5;175"),
    ON_YELLOW("1;38;5;16;48;5;227"),
    ON_GREY("38;5;16;48;5;250"),

    // The same for what is still to come: the palette on black.
    GREEN_AHEAD("38;5;36;48;5;16"),
    BLUE_AHEAD("38;5;74;48;5;16"),
    RED_AHEAD("38;5;166;48;5;16"),
    PINK_AHEAD("38;5;175;48;5;16"),
    YELLOW_AHEAD("1;38;5;227;48;5;16"),
    GREY_AHEAD("38;5;250;48;5;16");

    private final String codes;

    Ink(String codes) {
        this.codes = codes;
    }

    /** The parameters of the terminal's "select graphic rendition" (ECMA-48), empty for plain text. */
    String codes() {
        return codes;
    }

    /** The same without colours: bold, faint, reversed, underlined. */
    String codesWithoutColour() {
        return codes.replaceAll(";?[34]8;5;[0-9]+", "").replaceFirst("^;", "");
    }
}
