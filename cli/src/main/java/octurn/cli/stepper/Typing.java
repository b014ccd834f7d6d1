package octurn.cli.stepper;

/** One line of text while it is being typed: the text and the cursor. */
public final class Typing {

    private static final int LONGEST = 200;

    private final StringBuilder text = new StringBuilder();
    private int cursor;

    /** The text so far. */
    public String text() {
        return text.toString();
    }

    /** Place in the text, 0 .. its length. */
    public int cursor() {
        return cursor;
    }

    String beforeCursor() {
        return text.substring(0, cursor);
    }

    /** Makes this the text, with the cursor behind it. */
    public void set(String newText) {
        text.setLength(0);
        text.append(newText);
        cursor = newText.length();
    }

    /**
     * Takes a key.
     *
     * @param key its name: one character, or a word like {@code left}
     */
    public void press(String key) {
        switch (key) {
            case "space" -> insert(" ");
            case "left" -> cursor = before(cursor);
            case "right" -> cursor = after(cursor);
            case "home", "ctrl-a" -> cursor = 0;
            case "end", "ctrl-e" -> cursor = text.length();
            case "backspace" -> erase(before(cursor), cursor);
            case "delete" -> erase(cursor, after(cursor));
            case "ctrl-u" -> erase(0, cursor);
            case "ctrl-k" -> erase(cursor, text.length());
            case "ctrl-w" -> erase(wordStart(), cursor);
            default -> {
                if (key.codePointCount(0, key.length()) == 1) {
                    insert(key);
                }
            }
        }
    }

    /** Puts other text in the place of that from an offset up to the cursor. */
    void replaceBefore(int start, String characters) {
        erase(start, cursor);
        insert(characters);
    }

    private void insert(String characters) {
        if (text.length() + characters.length() <= LONGEST) {
            text.insert(cursor, characters);
            cursor += characters.length();
        }
    }

    private void erase(int from, int to) {
        text.delete(from, to);
        cursor = from;
    }

    private int before(int index) {
        return index == 0 ? 0 : text.offsetByCodePoints(index, -1);
    }

    private int after(int index) {
        return index == text.length() ? index : text.offsetByCodePoints(index, 1);
    }

    private int wordStart() {
        int start = cursor;
        while (start > 0 && text.charAt(start - 1) == ' ') {
            start--;
        }
        while (start > 0 && text.charAt(start - 1) != ' ') {
            start--;
        }
        return start;
    }
}
