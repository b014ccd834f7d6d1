package octurn.lessons.mark;

import java.time.Instant;

/**
 * Something that a student handed in.
 *
 * @param path its place, as in {@code anna/start.turn}, with {@code /} between names
 * @param kind what it is
 * @param bytes how large it is
 * @param modified when it was last changed
 */
public record Item(String path, Kind kind, long bytes, Instant modified) {

    /** What can lie in a folder. */
    public enum Kind {
        FILE,
        FOLDER,
        LINK,
        /** A device, a pipe, a socket. */
        OTHER,
        UNREADABLE
    }

    /** Its own name. */
    public String name() {
        return path.substring(path.lastIndexOf('/') + 1);
    }

    /** How many folders it lies in. */
    public int depth() {
        return (int) path.chars().filter(c -> c == '/').count();
    }
}
