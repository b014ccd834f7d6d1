package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.List;
import octurn.cli.view.Scene.Prompt;
import org.jspecify.annotations.Nullable;

/** The command line of the screen while it is being typed: text, cursor, history and completion. */
public final class CommandLineEditor {

    private static final int LONGEST = 200;
    private static final int MOST_HISTORY = 200;
    private static final int MOST_OFFERED = 12;

    private final Stepper stepper;
    private final List<String> history = new ArrayList<>();
    private final StringBuilder text = new StringBuilder();
    private int cursor;
    private boolean open;
    /** Place in the history; its size for the line being typed. */
    private int place;

    private String typed = "";

    /** A closed editor. */
    public CommandLineEditor(Stepper stepper) {
        this.stepper = stepper;
    }

    /** Whether a line is being typed. */
    public boolean isOpen() {
        return open;
    }

    /** Begins a line with this text. */
    public void open(String beginning) {
        open = true;
        place = history.size();
        replace(beginning);
    }

    private void replace(String newText) {
        text.setLength(0);
        text.append(newText);
        cursor = newText.length();
    }

    /** What the screen shows of it. */
    public Prompt prompt() {
        String line = text.toString();
        String before = line.substring(0, cursor);
        return new Prompt(line, cursor, stepper.table().sensible(line), offered(before));
    }

    private String offered(String before) {
        List<String> offers = stepper.table().offers(stepper, before);
        String word = before.substring(before.lastIndexOf(' ') + 1);
        boolean complete = offers.size() == 1 && offers.get(0).equals(word);
        if (offers.isEmpty() || complete) {
            Command command = before.isBlank()
                    ? null
                    : stepper.table().find(before.strip().split("\\s+", -1)[0]);
            return command == null ? "" : command.arguments();
        }
        List<String> few = offers.subList(0, Math.min(MOST_OFFERED, offers.size()));
        return String.join(" ", few) + (offers.size() > MOST_OFFERED ? " .." : "");
    }

    /**
     * Takes a key.
     *
     * @param key its name: one character, or a word like {@code left}
     * @return the finished line; null while there is none
     */
    public @Nullable String press(String key) {
        switch (key) {
            case "enter" -> {
                return finish();
            }
            case "esc", "ctrl-c" -> open = false;
            case "space" -> insert(" ");
            case "left" -> cursor = before(cursor);
            case "right" -> cursor = after(cursor);
            case "home", "ctrl-a" -> cursor = 0;
            case "end", "ctrl-e" -> cursor = text.length();
            case "backspace" -> erase(before(cursor), cursor);
            case "delete" -> erase(cursor, after(cursor));
            case "ctrl-u" -> erase(0, cursor);
            case "ctrl-k" -> erase(cursor, text.length());
            case "ctrl-w" -> erase(wordStart(), cursor);
            case "up" -> recall(-1);
            case "down" -> recall(1);
            case "tab" -> complete();
            default -> {
                if (key.codePointCount(0, key.length()) == 1) {
                    insert(key);
                }
            }
        }
        return null;
    }

    private String finish() {
        String line = text.toString().strip();
        open = false;
        if (!line.isEmpty()) {
            history.remove(line);
            history.add(line);
            if (history.size() > MOST_HISTORY) {
                history.remove(0);
            }
        }
        return line;
    }

    private void insert(String characters) {
        if (text.length() + characters.length() <= LONGEST) {
            text.insert(cursor, characters);
            cursor += characters.length();
        }
    }

    private void erase(int from, int to) {
        text.delete(from, to);
        cursor = from;
    }

    private int before(int index) {
        return index == 0 ? 0 : text.offsetByCodePoints(index, -1);
    }

    private int after(int index) {
        return index == text.length() ? index : text.offsetByCodePoints(index, 1);
    }

    private int wordStart() {
        int start = cursor;
        while (start > 0 && text.charAt(start - 1) == ' ') {
            start--;
        }
        while (start > 0 && text.charAt(start - 1) != ' ') {
            start--;
        }
        return start;
    }

    private void recall(int step) {
        if (place == history.size()) {
            typed = text.toString();
        }
        place = Math.max(0, Math.min(history.size(), place + step));
        replace(place == history.size() ? typed : history.get(place));
    }

    /** As much as all offers have in common; a blank behind it if there is only one. */
    private void complete() {
        List<String> offers = stepper.table().offers(stepper, text.substring(0, cursor));
        if (offers.isEmpty()) {
            return;
        }
        String common = offers.get(0);
        for (String offer : offers) {
            int same = 0;
            while (same < common.length() && same < offer.length() && common.charAt(same) == offer.charAt(same)) {
                same++;
            }
            common = common.substring(0, same);
        }
        int start = text.substring(0, cursor).lastIndexOf(' ') + 1;
        erase(start, cursor);
        insert(common + (offers.size() == 1 ? " " : ""));
    }
}
