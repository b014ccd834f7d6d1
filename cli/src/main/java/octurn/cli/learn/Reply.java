package octurn.cli.learn;

import java.util.List;
import octurn.cli.view.Section;

/**
 * What a command came to.
 *
 * @param kind which sort of reply
 * @param line what there is to say in one line; empty for nothing
 * @param news what has been added to the page, for those who hear it line by line
 */
record Reply(Kind kind, String line, List<Section> news) {

    /** The sorts of reply. */
    enum Kind {
        /** Another page is to be read. */
        MOVED,
        /** Something was done. */
        DONE,
        /** Nothing was done, and the line says why. */
        REFUSED,
        /** The student's editor is to be opened, with the terminal given back meanwhile. */
        EDIT,
        /** The student wants to leave. */
        QUIT
    }

    Reply {
        news = List.copyOf(news);
    }

    static Reply moved() {
        return new Reply(Kind.MOVED, "", List.of());
    }

    static Reply moved(String line) {
        return new Reply(Kind.MOVED, line, List.of());
    }

    static Reply done(String line) {
        return new Reply(Kind.DONE, line, List.of());
    }

    static Reply done(String line, List<Section> news) {
        return new Reply(Kind.DONE, line, news);
    }

    static Reply refused(String line) {
        return new Reply(Kind.REFUSED, line, List.of());
    }
}
