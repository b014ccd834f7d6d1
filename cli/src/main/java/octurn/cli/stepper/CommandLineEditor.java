package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.List;
import octurn.cli.view.Scene.Prompt;
import org.jspecify.annotations.Nullable;

/** The command line of the screen while it is being typed: history and completion. */
public final class CommandLineEditor {

    private static final int MOST_HISTORY = 200;
    private static final int MOST_OFFERED = 12;

    private final Stepper stepper;
    private final List<String> history = new ArrayList<>();
    private final Typing typing = new Typing();
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
        typing.set(beginning);
    }

    /** What the screen shows of it. */
    public Prompt prompt() {
        String line = typing.text();
        return new Prompt(line, typing.cursor(), stepper.table().sensible(line), offered(typing.beforeCursor()));
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
            case "up" -> recall(-1);
            case "down" -> recall(1);
            case "tab" -> complete();
            default -> typing.press(key);
        }
        return null;
    }

    private String finish() {
        String line = typing.text().strip();
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

    private void recall(int step) {
        if (place == history.size()) {
            typed = typing.text();
        }
        place = Math.max(0, Math.min(history.size(), place + step));
        typing.set(place == history.size() ? typed : history.get(place));
    }

    /** As much as all offers have in common; a blank behind it if there is only one. */
    private void complete() {
        String before = typing.beforeCursor();
        List<String> offers = stepper.table().offers(stepper, before);
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
        typing.replaceBefore(before.lastIndexOf(' ') + 1, common + (offers.size() == 1 ? " " : ""));
    }
}
