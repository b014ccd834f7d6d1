package octurn.cli.view;

import octurn.lessons.text.Prose;

/**
 * A piece of what a lesson shows.
 *
 * @param tone what sort of thing it says
 * @param label a few words before it, or none
 * @param text what it says; may be empty if there is a label
 */
public record Section(Tone tone, String label, Prose text) {

    /** The sorts of things that are said. Each has words of its own, so that nothing is told by its colour alone. */
    public enum Tone {
        PLAIN(Ink.STRONG),
        GOOD(Ink.GREEN),
        BAD(Ink.ALARM),
        NOTE(Ink.PINK);

        private final Ink ink;

        Tone(Ink ink) {
            this.ink = ink;
        }

        Ink ink() {
            return ink;
        }
    }

    /** Text alone. */
    public static Section of(Prose text) {
        return new Section(Tone.PLAIN, "", text);
    }

    /** One line with a label. */
    public static Section of(Tone tone, String label, String text) {
        return new Section(tone, label, text.isEmpty() ? Prose.EMPTY : Prose.of(text));
    }
}
