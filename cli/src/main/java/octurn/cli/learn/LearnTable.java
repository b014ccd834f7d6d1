package octurn.cli.learn;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** The table of commands of a course: keys, lines of words and the help are made from it. */
public final class LearnTable {

    /**
     * A command.
     *
     * @param name one word
     * @param arguments what may follow, for people; empty for nothing
     * @param help what it does, in one line
     * @param keys the keys that give it, and the command line of each
     */
    record Command(String name, String arguments, String help, Map<String, String> keys, Action action) {

        /** As lines of words give it. */
        String usage() {
            return arguments.isEmpty() ? name : name + " " + arguments;
        }
    }

    /** What a command does. */
    @FunctionalInterface
    interface Action {
        /**
         * Does it; {@code rest} is what follows the command's name.
         *
         * @throws Refused if it makes no sense, or cannot be done; then nothing was
         */
        Reply run(Learner learner, String rest);
    }

    private final Map<String, Command> commands = new LinkedHashMap<>();
    private final Map<String, String> keys = new LinkedHashMap<>();

    LearnTable() {
        add(
                "next",
                "",
                "go on: to the next page, the next step, the next moment of a walk; open the chosen lesson",
                (learner, rest) -> learner.next(none(rest)),
                keys("enter", "next", "space", "next"));
        add(
                "skip",
                "",
                "to the next step, with this one left open",
                (learner, rest) -> learner.skip(none(rest)),
                keys("right", "skip"));
        add(
                "back",
                "",
                "to the step before",
                (learner, rest) -> learner.back(none(rest)),
                keys("left", "back", "backspace", "back"));
        add(
                "lessons",
                "",
                "to the list of lessons",
                (learner, rest) -> learner.lessons(none(rest)),
                keys("esc", "lessons"));
        add(
                "choose",
                "N | up | down",
                "choose a lesson of the list",
                Learner::choose,
                keys("up", "choose up", "down", "choose down"));
        add("open", "N | LESSON", "open a lesson", Learner::open, keys());
        add("answer", "ANSWER", "answer the question; the answer alone does as well", Learner::answer, keys());
        add(
                "watch",
                "",
                "see the run in question in the stepper",
                (learner, rest) -> learner.watch(none(rest)),
                keys("tab", "watch", "w", "watch"));
        add(
                "edit",
                "",
                "open your file in your editor; it is written first if it is not there",
                (learner, rest) -> learner.edit(none(rest)),
                keys("e", "edit"));
        add("check", "", "check your file now", (learner, rest) -> learner.check(none(rest)), keys("c", "check"));
        add("hint", "", "one hint more", (learner, rest) -> learner.hint(none(rest)), keys("h", "hint"));
        add(
                "new",
                "",
                "begin anew, in a file of another name",
                (learner, rest) -> learner.startAnew(none(rest)),
                keys("n", "new"));
        add("use", "", "work on the file that is there", (learner, rest) -> learner.use(none(rest)), keys("u", "use"));
        add("tell", "", "say the page again", (learner, rest) -> learner.tell(none(rest)), keys());
        add("help", "", "keys and commands", (learner, rest) -> learner.help(none(rest)), keys("?", "help"));
        add(
                "quit",
                "",
                "leave; what you have done is noted",
                (learner, rest) -> learner.quit(none(rest)),
                keys("q", "quit", "ctrl-c", "quit", "ctrl-d", "quit"));
    }

    private static Map<String, String> keys(String... keysAndLines) {
        Map<String, String> keys = new LinkedHashMap<>();
        for (int i = 0; i < keysAndLines.length; i += 2) {
            keys.put(keysAndLines[i], keysAndLines[i + 1]);
        }
        return keys;
    }

    private static String none(String rest) {
        if (!rest.isEmpty()) {
            throw new Refused("\"%s\" is too much: nothing follows this command".formatted(rest));
        }
        return rest;
    }

    private void add(String name, String arguments, String help, Action action, Map<String, String> bindings) {
        commands.put(name, new Command(name, arguments, help, bindings, action));
        bindings.forEach((key, line) -> {
            if (keys.put(key, line) != null) {
                throw new IllegalStateException("two commands for the key " + key);
            }
        });
    }

    /** The command of this name, or the only one that begins so; or null. */
    @Nullable
    Command find(String name) {
        Command exact = commands.get(name);
        if (exact != null || name.isEmpty()) {
            return exact;
        }
        List<Command> begin = commands.values().stream()
                .filter(command -> command.name().startsWith(name))
                .toList();
        return begin.size() == 1 ? begin.get(0) : null;
    }

    /** The names of all commands, in the order of the table. */
    public List<String> names() {
        return List.copyOf(commands.keySet());
    }

    /** The command line that a key stands for, or nothing. */
    public String line(String key) {
        return keys.getOrDefault(key, "");
    }

    /** The names of all keys: one character, or a word like {@code left}. */
    public Set<String> keyNames() {
        return Set.copyOf(keys.keySet());
    }

    /** A row for each command: its keys, how it is written, and what it does. */
    public List<List<String>> rows() {
        List<List<String>> rows = new ArrayList<>();
        for (Command command : commands.values()) {
            rows.add(List.of(String.join(" ", command.keys().keySet()), command.usage(), command.help()));
        }
        return rows;
    }
}
