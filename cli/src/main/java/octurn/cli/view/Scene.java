package octurn.cli.view;

import java.util.List;
import java.util.Set;
import octurn.report.Reasons;
import octurn.report.Sentences;
import octurn.run.Moment;
import octurn.trace.Event;
import org.jspecify.annotations.Nullable;

/**
 * All that the stepper's screen shows, at one moment.
 *
 * @param moment the present cycle with what lies around it: at least {@link StepScreen#past} and
 *     {@link StepScreen#coming} cycles for the screen's size
 * @param pinEvents the pins over the last {@link StepScreen#pinCycles} cycles; the first tells their levels at the
 *     beginning of that stretch
 * @param sentences the run in words
 * @param reasons why cores wait
 * @param look what is looked at
 * @param stopLines lines with a stop
 * @param flags what else must be said all the time, as "altered" and "playing"; short words
 * @param message the answer to the last command, one line; empty for none
 * @param isError whether that answer is a complaint
 * @param hint what could be done next; shown when there is no answer
 * @param prompt the command line, or null while none is being typed
 * @param overlayTitle the title of the overlay
 * @param overlayText its lines: paragraphs that are wrapped to fit
 * @param note what is said beside the run, or null
 */
public record Scene(
        Moment moment,
        List<Event> pinEvents,
        Sentences sentences,
        Reasons reasons,
        Look look,
        Set<Integer> stopLines,
        List<String> flags,
        String message,
        boolean isError,
        String hint,
        @Nullable Prompt prompt,
        String overlayTitle,
        List<String> overlayText,
        @Nullable Note note) {

    /**
     * A command line being typed.
     *
     * @param text so far
     * @param cursor place in the text, 0 .. its length
     * @param firstBad where it ceases to make sense; its length if it is fine so far
     * @param offers what could come next, shown behind it
     */
    public record Prompt(String text, int cursor, int firstBad, String offers) {}
}
