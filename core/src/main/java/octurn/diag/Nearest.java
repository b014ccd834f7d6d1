package octurn.diag;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Finds the known word that a mistyped one was most likely meant to be. */
public final class Nearest {

    private Nearest() {}

    /**
     * The known word nearest to this one, or null if none is near: at most one slip for every three letters, where a
     * slip is a letter too many, too few, wrong, or traded with its neighbour (optimal string alignment distance). Case
     * does not count. Of equally near words the one that comes first.
     */
    public static @Nullable String of(String word, Iterable<String> known) {
        String wanted = word.toLowerCase(Locale.ROOT);
        if (wanted.length() > LONGEST) {
            return null;
        }
        String nearest = null;
        int least = Math.max(1, wanted.length() / 3) + 1;
        for (String candidate : known) {
            if (Math.abs(candidate.length() - wanted.length()) >= least) {
                continue;
            }
            int distance = distance(wanted, candidate.toLowerCase(Locale.ROOT));
            // A word of one or two letters is near everything short, so it must at least share its first letter.
            boolean related = wanted.length() > 2 || distance == 0 || wanted.regionMatches(true, 0, candidate, 0, 1);
            if (distance < least && related) {
                nearest = candidate;
                least = distance;
            }
        }
        return nearest;
    }

    /** Names are at most this long; anything longer is no slip of a known word. */
    private static final int LONGEST = 64;

    private static int distance(String a, String b) {
        int[] beforeLast = new int[b.length() + 1];
        int[] last = new int[b.length() + 1];
        int[] now = new int[b.length() + 1];
        for (int j = 0; j <= b.length(); j++) {
            last[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            now[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int change = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
                now[j] = Math.min(Math.min(last[j], now[j - 1]) + 1, last[j - 1] + change);
                boolean traded =
                        i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1);
                if (traded) {
                    now[j] = Math.min(now[j], beforeLast[j - 2] + 1);
                }
            }
            int[] free = beforeLast;
            beforeLast = last;
            last = now;
            now = free;
        }
        return last[b.length()];
    }
}
