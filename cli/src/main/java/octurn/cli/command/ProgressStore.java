package octurn.cli.command;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import octurn.cli.json.PlainJson;
import octurn.cli.learn.Change;
import octurn.cli.learn.Keeper;
import octurn.cli.learn.ProgressBook;
import octurn.cli.process.Failure;
import octurn.cli.process.SharedFile;
import octurn.cli.process.Surroundings;
import org.jspecify.annotations.Nullable;

/**
 * The progress in its file. Each change is made to what is in the file at that moment, under a lock, so that sessions at
 * the same time lose nothing to each other. Changes that could not be written are tried again with the next one.
 */
final class ProgressStore implements Keeper {

    private static final String FILE = "progress.json";

    private final SharedFile file;
    private final List<Change> unwritten = new ArrayList<>();
    private ProgressBook book;
    private String trouble = "";
    private String told = "";

    /** The progress in this folder, read at once. */
    ProgressStore(Path folder, Surroundings surroundings) {
        this.file = new SharedFile(folder.resolve(FILE), surroundings);
        this.book = ProgressBook.empty();
        try {
            byte[] bytes = file.read();
            ProgressBook found = bytes == null ? null : parse(bytes);
            if (found == null && bytes != null) {
                // Found broken: looked at once more while nobody else writes, and set aside.
                file.change(this::sound);
            } else if (found != null) {
                take(found);
            }
        } catch (Failure e) {
            tell("what was learnt before cannot be read: " + e.line());
        }
    }

    /** The book in these bytes, or null if they are none. */
    private static @Nullable ProgressBook parse(byte[] bytes) {
        try {
            return ProgressBook.of(PlainJson.read(bytes));
        } catch (PlainJson.NoJson | ProgressBook.Broken e) {
            return null;
        }
    }

    private void take(ProgressBook found) {
        if (found.isLater()) {
            tell(
                    "%s was written by a later version of Octurn: it is left as it is, and nothing is noted; update Octurn, or choose another folder with --data"
                            .formatted(file.path()));
        } else {
            book = found;
        }
    }

    /** Sets the file aside if it is broken, and writes nothing. */
    private byte @Nullable [] sound(byte @Nullable [] before) {
        current(before);
        return null;
    }

    /** The book in the file, or an empty one if there is none; a broken file is set aside. */
    private ProgressBook current(byte @Nullable [] before) {
        if (before == null) {
            return ProgressBook.empty();
        }
        ProgressBook found = parse(before);
        if (found != null) {
            return found;
        }
        tell("%s is no file of progress; it is now %s, and a new one is begun".formatted(file.path(), file.setAside()));
        return ProgressBook.empty();
    }

    @Override
    public ProgressBook book() {
        return book;
    }

    @Override
    public void note(List<Change> changes) {
        changes.forEach(book::note);
        unwritten.addAll(changes);
        try {
            file.change(this::add);
            unwritten.clear();
        } catch (Failure e) {
            tell("what is learnt cannot be noted: " + e.line());
        }
    }

    private byte @Nullable [] add(byte @Nullable [] before) {
        ProgressBook there = current(before);
        if (there.isLater()) {
            take(there);
            return null;
        }
        unwritten.forEach(there::note);
        byte[] after = PlainJson.write(there.values());
        book = there;
        // If the writing itself fails, the same changes are in the book, and noted again with the next one.
        return after;
    }

    private void tell(String newTrouble) {
        if (!newTrouble.equals(told)) {
            trouble = newTrouble;
            told = newTrouble;
        }
    }

    @Override
    public String takeTrouble() {
        String now = trouble;
        trouble = "";
        return now;
    }
}
