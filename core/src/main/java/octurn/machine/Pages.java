package octurn.machine;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * A copy of some words, cut into pages. Pages that hold the same as in an earlier copy are shared with it, and pages of
 * zeros are not held at all, so that many copies of a large memory that changes little cost little.
 */
final class Pages {

    private static final int WORDS = 256;
    /** What a page costs in bytes: its words, and about what the objects around them take. */
    private static final int BYTES = 4 * WORDS + 48;

    private static final int[] ZEROS = new int[WORDS];

    /** A page of zeros is null. */
    private final @Nullable Page[] pages;

    private Pages(@Nullable Page[] pages) {
        this.pages = pages;
    }

    /** Copies these words; what is equal to the copy before is shared with it. */
    static Pages copyOf(int[] words, @Nullable Pages before) {
        @Nullable Page[] pages = new @Nullable Page[(words.length + WORDS - 1) / WORDS];
        for (int i = 0; i < pages.length; i++) {
            int from = i * WORDS;
            int to = Math.min(from + WORDS, words.length);
            Page old = before == null ? null : before.pages[i];
            if (old != null && Arrays.equals(words, from, to, old.words, 0, to - from)) {
                pages[i] = old;
            } else if (!Arrays.equals(words, from, to, ZEROS, 0, to - from)) {
                pages[i] = new Page(Arrays.copyOfRange(words, from, to));
            }
        }
        return new Pages(pages);
    }

    void copyTo(int[] words) {
        for (int i = 0; i < pages.length; i++) {
            int from = i * WORDS;
            Page page = pages[i];
            if (page == null) {
                Arrays.fill(words, from, Math.min(from + WORDS, words.length), 0);
            } else {
                System.arraycopy(page.words, 0, words, from, page.words.length);
            }
        }
    }

    /** Counts one more keeper of each page; returns the bytes of those that had none. */
    long keep() {
        long bytes = 0;
        for (Page page : pages) {
            if (page != null && page.keepers++ == 0) {
                bytes += BYTES;
            }
        }
        return bytes + 4L * pages.length;
    }

    /** Counts one keeper of each page less; returns the bytes of those that have none any more. */
    long letGo() {
        long bytes = 0;
        for (Page page : pages) {
            if (page != null && --page.keepers == 0) {
                bytes += BYTES;
            }
        }
        return bytes + 4L * pages.length;
    }

    private static final class Page {
        private final int[] words;
        private int keepers;

        private Page(int[] words) {
            this.words = words;
        }
    }
}
