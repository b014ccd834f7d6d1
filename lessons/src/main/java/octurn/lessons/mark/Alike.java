package octurn.lessons.mark;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Students whose work on a task has the same structure; see {@link Structure}. That is no proof of anything: short tasks
 * have few answers.
 *
 * @param step the task's step in the lesson
 * @param rows their places in the list of rows, ascending; at least two
 * @param identical whether even the files are the same, byte for byte
 * @param asModel whether it is the structure of the lesson's model answer
 * @param own how many instructions of it are not in the starting program
 */
public record Alike(int step, List<Integer> rows, boolean identical, boolean asModel, int own) {

    public Alike {
        rows = List.copyOf(rows);
    }

    /** All groups, by task and first student. Starting programs handed in as they were make none. */
    public static List<Alike> among(List<Row> rows) {
        Map<String, List<Integer>> byPrint = new LinkedHashMap<>();
        int tasks = rows.isEmpty() ? 0 : rows.get(0).works().size();
        for (int task = 0; task < tasks; task++) {
            for (int row = 0; row < rows.size(); row++) {
                Work work = rows.get(row).works().get(task);
                if (work.structure().isThere() && work.status() != Status.UNCHANGED) {
                    byPrint.computeIfAbsent(task + " " + work.structure().print(), print -> new ArrayList<>())
                            .add(row);
                }
            }
        }
        List<Alike> groups = new ArrayList<>();
        byPrint.forEach((print, members) -> {
            if (members.size() > 1) {
                groups.add(group(rows, members, Integer.parseInt(print.substring(0, print.indexOf(' ')))));
            }
        });
        return groups;
    }

    private static Alike group(List<Row> rows, List<Integer> members, int task) {
        List<Work> works =
                members.stream().map(row -> rows.get(row).works().get(task)).toList();
        Work first = works.get(0);
        boolean identical = works.stream().allMatch(work -> work.sha256().equals(first.sha256()));
        return new Alike(
                first.step(),
                members,
                identical,
                first.asModel(),
                first.structure().own());
    }
}
