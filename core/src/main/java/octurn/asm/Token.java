package octurn.asm;

import org.jspecify.annotations.Nullable;

/**
 * One word or sign of a line.
 *
 * @param text as it stands there; of a string what it means, without quotes and escapes
 * @param number the value of a {@code NUMBER}
 * @param mistake what is wrong with a {@code BAD} one
 */
record Token(
        Kind kind,
        String text,
        long number,
        Place place,
        @Nullable Mistake mistake) {

    enum Kind {
        NAME,
        /** Digits, or one character in quotes. */
        NUMBER,
        STRING,
        SIGN,
        /** What cannot be read; nothing follows it. */
        BAD,
        /** The end of the line, or its comment. */
        END
    }

    boolean is(String sign) {
        return kind == Kind.SIGN && text.equals(sign);
    }

    /** Whether it is this word of the language, which may be written in any case. */
    boolean isWord(String word) {
        return kind == Kind.NAME && text.equalsIgnoreCase(word);
    }

    /** For a message. */
    String shown() {
        return kind == Kind.END ? "the end of the line" : Text.quoted(text);
    }
}
