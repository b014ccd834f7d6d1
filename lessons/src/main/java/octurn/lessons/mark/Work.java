package octurn.lessons.mark;

import java.util.List;

/**
 * One student's work on one task, marked.
 *
 * @param step the task's step in the lesson, from 1
 * @param status what became of it
 * @param file the file, as in {@code anna/start.turn}; empty if there is none
 * @param sha256 of the file, 64 hexadecimal digits; empty if it was not read
 * @param structure what makes it alike to others
 * @param asModel whether its structure is that of the lesson's model answer
 * @param message why there is nothing to check; empty where there is
 * @param remarks what the assembler has to say
 * @param checks all that were made, in the order of the task
 */
public record Work(
        int step,
        Status status,
        String file,
        String sha256,
        Structure structure,
        boolean asModel,
        String message,
        List<Remark> remarks,
        List<Checked> checks) {

    public Work {
        remarks = List.copyOf(remarks);
        checks = List.copyOf(checks);
    }

    /** Work that there is nothing to look into. */
    public static Work none(int step, Status status, String file, String message) {
        return new Work(step, status, file, "", Structure.NONE, false, message, List.of(), List.of());
    }

    /** How many checks passed. */
    public int passed() {
        return (int) checks.stream().filter(Checked::passed).count();
    }

    /** The first thing that is wrong, in one line; empty if nothing is. */
    public String firstTrouble() {
        if (!message.isEmpty()) {
            return message;
        }
        for (Remark remark : remarks) {
            if (remark.error()) {
                return remark.line() == 0 ? remark.message() : "line %d: %s".formatted(remark.line(), remark.message());
            }
        }
        for (Checked check : checks) {
            if (!check.passed()) {
                return check.message().isEmpty() ? check.check() : check.message();
            }
        }
        return "";
    }
}
