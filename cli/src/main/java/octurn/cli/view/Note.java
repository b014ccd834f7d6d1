package octurn.cli.view;

import java.util.List;

/**
 * What is said beside a run while somebody is led through it; it stands under the run and leaves the lanes in sight.
 *
 * @param title a few words
 * @param paragraphs the text; each is wrapped to fit
 * @param hint how to go on, in place of the stepper's own hint
 */
public record Note(String title, List<String> paragraphs, String hint) {

    public Note {
        paragraphs = List.copyOf(paragraphs);
    }
}
