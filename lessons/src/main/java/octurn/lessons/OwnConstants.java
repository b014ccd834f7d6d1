package octurn.lessons;

import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Writes other values for constants into the text of a program. */
final class OwnConstants {

    private static final Pattern DEFINITION =
            Pattern.compile("(?m)^([ \\t]*)([A-Za-z_][A-Za-z0-9_]*)([ \\t]*=[ \\t]*)([^;\\r\\n]*?)([ \\t]*(;.*)?)$");

    private OwnConstants() {}

    /** The text with these values where it defines these constants. */
    static byte[] put(byte[] utf8, Map<String, Long> constants) {
        if (constants.isEmpty()) {
            return utf8;
        }
        String text = new String(utf8, StandardCharsets.UTF_8);
        Matcher matcher = DEFINITION.matcher(text);
        String put = matcher.replaceAll(found -> {
            Long value = constants.get(found.group(2));
            String line = value == null
                    ? found.group()
                    : found.group(1) + found.group(2) + found.group(3) + value + found.group(5);
            return Matcher.quoteReplacement(line);
        });
        return put.getBytes(StandardCharsets.UTF_8);
    }
}
