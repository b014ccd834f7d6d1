package octurn.lessons.mark;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;

/**
 * All that one student handed in: one file, or a folder.
 *
 * @param entry its name
 * @param kind what it is
 * @param items what lies in the folder, however deep; the file itself if it is one
 */
public record Handed(String entry, Item.Kind kind, List<Item> items) {

    private static final Pattern ENDING = Pattern.compile("(?i)(\\.design\\.json|\\.[a-z0-9]{1,5})$");

    /** How names are put in order: as people read them, then to the letter. */
    public static final Comparator<String> BY_NAME = Comparator.comparing(
                    (String name) -> name.toLowerCase(Locale.ROOT))
            .thenComparing(Comparator.naturalOrder());

    public Handed {
        items = List.copyOf(items);
    }

    /**
     * What is to be handed in for a task.
     *
     * @param step the task's step in the lesson, from 1
     * @param file the name of the file that the student begins with
     * @param ending of such files, as in {@code .turn}
     */
    public record Wanted(int step, String file, String ending) {}

    /** The file for a task, or why there is none. */
    public sealed interface Choice {}

    /** The file for a task. */
    public record Chosen(Item item) implements Choice {}

    /**
     * Why there is none.
     *
     * @param path what is there instead; empty if nothing is
     */
    public record Unfit(Status status, String path, String message) implements Choice {}

    /** The student's name as the entry tells it, in composed form (Unicode Standard Annex 15, NFC). */
    public String student() {
        String name = kind == Item.Kind.FOLDER ? entry : ENDING.matcher(entry).replaceFirst("");
        String composed = Normalizer.normalize(name, Normalizer.Form.NFC).strip();
        return composed.isEmpty() ? entry : composed;
    }

    /**
     * The file for a task: the one named as that which the student began with, or as the step; if one task alone is
     * marked, the only one with the right ending will do.
     *
     * @param alone whether no other task is marked
     */
    public Choice choose(Wanted wanted, boolean alone) {
        if (kind == Item.Kind.LINK) {
            return new Unfit(Status.NO_FILE, entry, "is a link; links are not followed, hand in the file itself");
        }
        if (kind == Item.Kind.OTHER) {
            return new Unfit(Status.NO_FILE, entry, "is neither a file nor a folder");
        }
        if (kind == Item.Kind.UNREADABLE) {
            return new Unfit(Status.UNREADABLE, entry, "cannot be read");
        }
        List<Item> fitting = items.stream()
                .filter(item -> lower(item.name()).endsWith(wanted.ending()))
                .toList();
        List<Item> named =
                nearest(fitting.stream().filter(item -> isNamed(item, wanted)).toList());
        if (named.isEmpty() && alone) {
            named = fitting.size() > 1 ? nearest(fitting) : fitting;
        }
        if (named.size() == 1) {
            return chosen(named.get(0));
        }
        return named.isEmpty() ? nothing(wanted, fitting, alone) : several(wanted, named);
    }

    private static boolean isNamed(Item item, Wanted wanted) {
        String name = lower(item.name());
        String bare = name.substring(0, name.length() - wanted.ending().length());
        return name.equals(lower(wanted.file())) || bare.matches("step[-_ ]?0*" + wanted.step());
    }

    private static List<Item> nearest(List<Item> items) {
        int least = items.stream().mapToInt(Item::depth).min().orElse(0);
        return items.stream().filter(item -> item.depth() == least).toList();
    }

    private static Choice chosen(Item item) {
        return switch (item.kind()) {
            case FILE -> new Chosen(item);
            case LINK ->
                new Unfit(Status.NO_FILE, item.path(), "is a link; links are not followed, hand in the file itself");
            case UNREADABLE -> new Unfit(Status.UNREADABLE, item.path(), "cannot be read");
            case FOLDER, OTHER -> new Unfit(Status.NO_FILE, item.path(), "is no file");
        };
    }

    private Choice nothing(Wanted wanted, List<Item> fitting, boolean alone) {
        String right = alone
                ? "a file named *%s".formatted(wanted.ending())
                : "a file named %s or step-%d%s".formatted(wanted.file(), wanted.step(), wanted.ending());
        if (items.isEmpty()) {
            return new Unfit(Status.MISSING, "", "the folder is empty; %s is wanted".formatted(right));
        }
        if (kind == Item.Kind.FILE && !fitting.isEmpty()) {
            return new Unfit(
                    Status.WRONG_NAME,
                    entry,
                    "one file for a lesson with several tasks: which it answers cannot be told; mark one with --step");
        }
        boolean otherTask = !alone && !fitting.isEmpty();
        return new Unfit(
                otherTask ? Status.MISSING : Status.WRONG_NAME,
                "",
                "%s is wanted, there is %s".formatted(right, listed(items)));
    }

    private static Choice several(Wanted wanted, List<Item> named) {
        return new Unfit(
                Status.WRONG_NAME,
                "",
                "which of these is the answer cannot be told: %s; name it %s".formatted(listed(named), wanted.file()));
    }

    private static String listed(List<Item> items) {
        final int most = 3;
        List<String> names = new ArrayList<>();
        items.stream().limit(most).forEach(item -> names.add(item.name()));
        String rest = items.size() > most ? " and %d more".formatted(items.size() - most) : "";
        return String.join(", ", names) + rest;
    }

    private static String lower(String text) {
        return text.toLowerCase(Locale.ROOT);
    }
}
