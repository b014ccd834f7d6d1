package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The session itself: undo, bookmarks, scripts, help. */
final class Session {

    private static final int MOST_MARKS = 100;
    private static final int LONGEST_NAME = 20;

    private Session() {}

    static Answer undo(Stepper stepper, Words words) {
        words.end();
        return stepper.undo();
    }

    static Answer redo(Stepper stepper, Words words) {
        words.end();
        return stepper.redo();
    }

    static Answer mark(Stepper stepper, Words words) {
        Map<String, Long> marks = new LinkedHashMap<>(stepper.marks());
        String name = words.isEnd() ? freeName(marks) : words.next("a name");
        words.end();
        if (!name.matches("[A-Za-z_][A-Za-z0-9_]*") || name.length() > LONGEST_NAME) {
            throw new Mistake(
                    "a bookmark's name is a letter, then letters and digits, up to %d".formatted(LONGEST_NAME));
        }
        if (marks.size() == MOST_MARKS) {
            throw new Mistake("%d bookmarks are enough; unmark some".formatted(MOST_MARKS));
        }
        marks.put(name, stepper.cycle());
        stepper.set(stepper.state().withMarks(marks));
        return Answer.done("bookmark %s at cycle %d; go %s comes back".formatted(name, stepper.cycle(), name));
    }

    private static String freeName(Map<String, Long> marks) {
        int number = 1;
        while (marks.containsKey("m" + number)) {
            number++;
        }
        return "m" + number;
    }

    static Answer marks(Stepper stepper, Words words) {
        words.end();
        List<String> lines = new ArrayList<>();
        stepper.marks().forEach((name, cycle) -> lines.add("%s: cycle %d".formatted(name, cycle)));
        return stepper.text("bookmarks", lines.isEmpty() ? List.of("there are no bookmarks") : lines);
    }

    static Answer unmark(Stepper stepper, Words words) {
        Map<String, Long> marks = new LinkedHashMap<>(stepper.marks());
        if (marks.isEmpty()) {
            throw new Mistake("there are no bookmarks");
        }
        String name = words.oneOf("the bookmark", List.copyOf(marks.keySet()));
        words.end();
        marks.remove(name);
        stepper.set(stepper.state().withMarks(marks));
        return Answer.done("bookmarks left: " + marks.size());
    }

    static Answer record(Stepper stepper, Words words) {
        String file = words.rest();
        if (file.isEmpty()) {
            throw new Mistake("a file's name is missing, or end");
        }
        return file.equals("end") ? stepper.endRecording() : stepper.startRecording(file);
    }

    static Answer follow(Stepper stepper, Words words) {
        String file = words.rest();
        if (file.isEmpty()) {
            throw new Mistake("a file's name is missing");
        }
        return stepper.follow(file);
    }

    static Answer help(Stepper stepper, Words words) {
        if (words.isEnd()) {
            return stepper.text("help", stepper.table().help());
        }
        String name = words.oneOf("the command", stepper.table().names());
        words.end();
        Command command = stepper.table().find(name);
        if (command == null) {
            throw new IllegalStateException("no command " + name);
        }
        return stepper.text("help on " + name, stepper.table().help(command));
    }

    static Answer quit(Stepper stepper, Words words) {
        words.end();
        return Answer.quit();
    }
}
