package octurn.cli.learn;

import java.util.List;

/** Keeps the progress. What goes wrong is told once, and the lesson goes on. */
public interface Keeper {

    /** The progress as far as it is known: what is in the file, and what this session has added. */
    ProgressBook book();

    /** Notes changes, in the file as well if that can be written. */
    void note(List<Change> changes);

    /** What there is to tell about the file since this was asked last; empty for nothing. */
    String takeTrouble();
}
