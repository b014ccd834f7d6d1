package octurn.lessons.value;

/** Words of messages. */
final class Words {

    private static final int LONGEST = 40;

    private Words() {}

    /** In double quotes, cut if it is long. */
    static String quoted(String text) {
        boolean fits = text.codePointCount(0, text.length()) <= LONGEST;
        return '"' + (fits ? text : text.substring(0, text.offsetByCodePoints(0, LONGEST)) + "..") + '"';
    }
}
