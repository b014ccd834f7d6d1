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
    ALARM("1;38;5;166");

    private final String codes;

    Ink(String codes) {
        this.codes = codes;
    }

    /** The parameters of the terminal's "select graphic rendition" (ECMA-48), empty for plain text. */
    String codes() {
        return codes;
    }
}
