package octurn.cli.stepper;

import static octurn.cli.stepper.Command.Group.CHANGE;
import static octurn.cli.stepper.Command.Group.LOOK;
import static octurn.cli.stepper.Command.Group.MOVE;
import static octurn.cli.stepper.Command.Group.SESSION;
import static octurn.cli.stepper.Command.Group.STOP;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.cli.stepper.Command.Action;
import octurn.cli.stepper.Command.Group;
import octurn.cli.stepper.Command.Offers;
import org.jspecify.annotations.Nullable;

/** The table of commands: keys, command line, scripts, lines of words and the help are made from it. */
public final class CommandTable {

    /** Commands that do not end the playing. */
    static final Set<String> KEEPS_PLAYING =
            Set.of("play", "faster", "slower", "core", "show", "base", "scroll", "look", "wave", "why", "select");

    /** Commands that leave a text on the screen. */
    static final Set<String> KEEPS_OVERLAY = Set.of("scroll", "close");

    /** Commands that go through what was done before. */
    static final Set<String> UNDOES = Set.of("undo", "redo");

    /** Commands that a recording leaves out. */
    static final Set<String> NOT_RECORDED = Set.of("record", "follow", "close", "help", "scroll", "play");

    private static final Offers NOTHING = (stepper, words) -> List.of();

    private final Map<String, Command> commands = new LinkedHashMap<>();
    private final Map<String, String> keys = new LinkedHashMap<>();

    CommandTable() {
        moves();
        looks();
        stops();
        changes();
        session();
    }

    // ---- the table ----

    private void moves() {
        add(MOVE, "step", "[N]", "a cycle, or N cycles, forward", NOTHING, Moves::step, key("right", "step"));
        add(MOVE, "back", "[N]", "a cycle, or N cycles, back", NOTHING, Moves::back, key("left", "back"));
        add(
                MOVE,
                "instruction",
                "[back] [N]",
                "to where the chosen core begins its next instruction, or its last one",
                Offer.words("back"),
                Moves::instruction,
                key("i", "instruction"),
                key("I", "instruction back"));
        add(
                MOVE,
                "slot",
                "[back] [N]",
                "to the beginning of the next slot; without a rotation, to the next admission",
                Offer.words("back"),
                Moves::slot,
                key("s", "slot"),
                key("S", "slot back"));
        add(
                MOVE,
                "rotation",
                "[back] [N]",
                "a whole rotation further",
                Offer.words("back"),
                Moves::rotation,
                key("r", "rotation"),
                key("R", "rotation back"));
        add(
                MOVE,
                "next",
                "WHAT [any | core N]",
                "to the next request, admission, pin change, clash, fault or end of a core; of the chosen core, or any",
                Offer.next(),
                Moves::next,
                key("w", "next request"),
                key("a", "next admission"),
                key("p", "next pin"),
                key("c", "next clash"),
                key("f", "next fault"));
        add(
                MOVE,
                "previous",
                "WHAT [any | core N]",
                "back to the last one before",
                Offer.next(),
                Moves::previous,
                key("W", "previous request"),
                key("A", "previous admission"),
                key("P", "previous pin"),
                key("C", "previous clash"),
                key("F", "previous fault"));
        add(
                MOVE,
                "line",
                "[back] [N]",
                "to where the chosen core begins line N, or the chosen line",
                Offer.words("back"),
                Moves::line,
                key("l", "line"));
        add(
                MOVE,
                "go",
                "CYCLE | +N | -N | TIMEus | MARK",
                "to a cycle, a time in microseconds, or a bookmark",
                Offer.marks(),
                Moves::go,
                key("g", "go "));
        add(MOVE, "begin", "", "to the start of the run", NOTHING, Moves::begin, key("home", "begin"));
        add(MOVE, "end", "", "to the end of the run", NOTHING, Moves::end, key("end", "end"));
        add(
                MOVE,
                "run",
                "[back]",
                "to the next stop, or to the end of the run",
                Offer.words("back"),
                Moves::run,
                key("enter", "run"),
                key("backspace", "run back"));
        add(
                MOVE,
                "play",
                "[N]",
                "go on by itself, N cycles a second; again: pause",
                NOTHING,
                Moves::play,
                key("space", "play"));
        add(MOVE, "faster", "", "play twice as fast", NOTHING, Moves::faster, key("+", "faster"));
        add(MOVE, "slower", "", "play half as fast", NOTHING, Moves::slower, key("-", "slower"));
    }

    private void looks() {
        List<Command.Key> cores = new ArrayList<>(List.of(key("up", "core previous"), key("down", "core next")));
        for (int digit = 0; digit <= 9; digit++) {
            cores.add(key(Integer.toString(digit), "core " + digit));
        }
        add(
                LOOK,
                "core",
                "N | next | previous",
                "choose a core to look at",
                Offer.cores(),
                Looks::core,
                cores.toArray(Command.Key[]::new));
        add(
                LOOK,
                "why",
                "",
                "why the chosen core waits, and what would make it wait less",
                NOTHING,
                Looks::why,
                key("y", "why"));
        add(
                LOOK,
                "show",
                "PANEL | next | previous",
                "registers, shared, private, pins, tallies or turns beside the source",
                Offer.panels(),
                Looks::show,
                key("tab", "show next"),
                key("shift-tab", "show previous"));
        add(
                LOOK,
                "base",
                "dec | hex | bin | next",
                "how words are written",
                Offer.words("dec", "hex", "bin", "next"),
                Looks::base,
                key("x", "base next"));
        add(
                LOOK,
                "look",
                "ADDRESS | LABEL | follow",
                "which words the panel of a memory shows first",
                Offer.look(),
                Looks::look,
                key("m", "look "));
        add(
                LOOK,
                "scroll",
                "up | down [N]",
                "move the panel or the text being read",
                Offer.words("up", "down"),
                Looks::scroll,
                key("pageup", "scroll up 6"),
                key("pagedown", "scroll down 6"));
        add(
                LOOK,
                "select",
                "LINE | up | down [N] | none",
                "choose a line of the source",
                Offer.words("up", "down", "none"),
                Looks::select,
                key("[", "select up"),
                key("]", "select down"));
        add(
                LOOK,
                "find",
                "TEXT | next | previous",
                "look for text in the source",
                Offer.words("next", "previous"),
                Looks::find,
                key("/", "find "),
                key("n", "find next"),
                key("N", "find previous"));
        add(
                LOOK,
                "wave",
                "CYCLES | next",
                "cycles that a column of the pins' waves stands for",
                Offer.words("1", "10", "100", "1000", "10000", "next"),
                Looks::wave,
                key("v", "wave next"));
        add(
                LOOK,
                "pulses",
                "PIN",
                "widths, frequency and rise to rise of a pin's pulses up to here",
                NOTHING,
                Instruments::pulses);
        add(
                LOOK,
                "serial",
                "PIN [BAUD]",
                "a pin read as a serial line up to here, 8N1; without BAUD as the scenario sends, or found",
                NOTHING,
                Instruments::serial);
        add(
                LOOK,
                "tell",
                "[WHAT]",
                "the present cycle in words; or cores, registers, shared, private, pins, tallies, turns, source, screen",
                Offer.words(Looks.TOLD.toArray(String[]::new)),
                Looks::tell,
                key("t", "tell cores"));
        add(LOOK, "close", "", "put away a text, a chosen line", NOTHING, Looks::close, key("esc", "close"));
    }

    private void stops() {
        add(
                STOP,
                "stop",
                "WHERE",
                "come to rest: line [N], at [shared] ADDRESS, when WORD OP NUMBER, change WORD, pin N [rises|falls], fault",
                Offer.stop(),
                Stops::stop,
                key("o", "stop line"),
                key("O", "stop "));
        add(STOP, "stops", "", "the list of stops", NOTHING, Stops::list);
        add(STOP, "drop", "N | all", "take a stop away", Offer.stops(), Stops::drop);
    }

    private void changes() {
        add(
                CHANGE,
                "set",
                "WORD VALUE | pin N 0|1|free",
                "change r0..r15, private[..], shared[..] or what the outside gives a pin, from this cycle on",
                Offer.set(),
                Changes::set,
                key("e", "set "));
        add(CHANGE, "alterations", "", "the list of changes made by hand", NOTHING, Changes::list);
        add(CHANGE, "restore", "N | all", "take a change back", Offer.alterations(), Changes::restore);
    }

    private void session() {
        add(SESSION, "undo", "", "take the last command back", NOTHING, Session::undo, key("u", "undo"));
        add(SESSION, "redo", "", "do it again", NOTHING, Session::redo, key("U", "redo"));
        add(SESSION, "mark", "[NAME]", "put a bookmark at this cycle", NOTHING, Session::mark, key("b", "mark"));
        add(SESSION, "marks", "", "the list of bookmarks", NOTHING, Session::marks, key("B", "marks"));
        add(SESSION, "unmark", "NAME", "take a bookmark away", Offer.marks(), Session::unmark);
        add(
                SESSION,
                "record",
                "FILE | end",
                "write the commands from here on to a script file",
                Offer.words("end"),
                Session::record);
        add(SESSION, "follow", "FILE", "do the commands of a script file", NOTHING, Session::follow);
        add(SESSION, "help", "[COMMAND]", "keys and commands", Offer.commands(), Session::help, key("?", "help"));
        add(SESSION, "quit", "", "leave", NOTHING, Session::quit, key("q", "quit"), key("ctrl-c", "quit"));
    }

    private static Command.Key key(String name, String line) {
        return new Command.Key(name, line);
    }

    private void add(
            Group group,
            String name,
            String arguments,
            String help,
            Offers offers,
            Action action,
            Command.Key... bindings) {
        commands.put(name, new Command(name, arguments, group, help, List.of(bindings), offers, action));
        for (Command.Key binding : bindings) {
            if (keys.put(binding.key(), binding.line()) != null) {
                throw new IllegalStateException("two commands for the key " + binding.key());
            }
        }
    }

    // ---- what it answers ----

    /** The command of this name, or the only one that begins so; or null. */
    @Nullable
    Command find(String name) {
        Command exact = commands.get(name);
        if (exact != null) {
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

    /** All commands, in the order of the table. */
    List<Command> all() {
        return List.copyOf(commands.values());
    }

    /** The command line that a key stands for, or nothing; one that ends with a blank is for the user to go on with. */
    public String line(String key) {
        return keys.getOrDefault(key, "");
    }

    /** The names of all keys: one character, or a word like {@code left}. */
    public Set<String> keyNames() {
        return keys.keySet();
    }

    /**
     * What may come next on a command line.
     *
     * @param text the command line up to the cursor
     * @return whole words that may stand in the place of the last one, perhaps none
     */
    public List<String> offers(Stepper stepper, String text) {
        List<String> words = Arrays.asList(text.stripLeading().split("\\s+", -1));
        String last = words.get(words.size() - 1);
        List<String> known;
        if (words.size() == 1) {
            known = names();
        } else {
            Command command = find(words.get(0));
            known = command == null ? List.of() : command.offers().after(stepper, words.subList(1, words.size() - 1));
        }
        return known.stream().filter(word -> word.startsWith(last)).toList();
    }

    /** How much of the beginning of a command line makes sense: its length if nothing is known to be wrong. */
    public int sensible(String text) {
        int start = text.length() - text.stripLeading().length();
        int end = start;
        List<String> words = new ArrayList<>();
        while (end < text.length()) {
            while (end < text.length() && !Character.isWhitespace(text.charAt(end))) {
                end++;
            }
            boolean typing = end == text.length();
            String word = text.substring(start, end);
            if (!fits(words, word, typing)) {
                return start;
            }
            words.add(word);
            while (end < text.length() && Character.isWhitespace(text.charAt(end))) {
                end++;
            }
            start = end;
        }
        return text.length();
    }

    /** Only the name of a command is known to be wrong; what follows is for the command itself to judge. */
    private boolean fits(List<String> before, String word, boolean typing) {
        if (!before.isEmpty()) {
            return true;
        }
        return typing ? names().stream().anyMatch(name -> name.startsWith(word)) : find(word) != null;
    }

    // ---- help ----

    /** The help: how to read the screen, and all commands with their keys. */
    public List<String> help() {
        List<String> lines = new ArrayList<>(READING);
        Group group = null;
        for (Command command : commands.values()) {
            if (command.group() != group) {
                group = command.group();
                lines.add("");
                lines.add(group.title());
            }
            lines.add("  %-15s %s".formatted(keyText(command), usage(command)));
            lines.add(" ".repeat(20) + command.help());
        }
        return lines;
    }

    /** The help on one command. */
    List<String> help(Command command) {
        List<String> lines = new ArrayList<>();
        lines.add(usage(command));
        lines.add("  " + command.help());
        for (Command.Key key : command.keys()) {
            lines.add("  %-10s %s".formatted(key.key(), key.line().endsWith(" ") ? key.line() + ".." : key.line()));
        }
        return lines;
    }

    /** A command with its arguments. */
    static String usage(Command command) {
        return command.arguments().isEmpty() ? command.name() : command.name() + " " + command.arguments();
    }

    /** The keys of a command; ten digits in one. */
    static String keyText(Command command) {
        List<String> names = new ArrayList<>();
        boolean digits = false;
        for (Command.Key key : command.keys()) {
            boolean digit =
                    key.key().length() == 1 && Character.isDigit(key.key().charAt(0));
            if (digit && !digits) {
                names.add("0..9");
            } else if (!digit) {
                names.add(key.key());
            }
            digits |= digit;
        }
        return String.join(" ", names);
    }

    private static final List<String> READING = List.of(
            "Time runs to the right, one column a cycle; the bar stands where the present cycle begins. Left of it is"
                    + " what happened, right of it what is going to happen.",
            "Above the lanes, turn says whose slot it is, and held which core holds the shared memory. A core that needs"
                    + " the memory waits until a slot of its own opens.",
            "Beside each lane: the core's state, for how many cycles it has been in it, how many are left, and its"
                    + " instruction. Capital letters go back.");
}
