package octurn.cli.command;

import java.nio.charset.StandardCharsets;
import java.util.zip.CRC32;

/** A student's name as the name of a folder, on any system: letters and digits without accents, and dashes. */
final class FolderName {

    private static final int LONGEST = 40;

    private FolderName() {}

    /** The folder's name; two students have the same one only if their names differ in capitals or blanks alone. */
    static String of(String student) {
        String plain = student.replaceAll("[^A-Za-z0-9]+", "-").replaceAll("^-|-$", "");
        String folder = plain.substring(0, Math.min(LONGEST, plain.length()));
        if (student.matches("[A-Za-z0-9]+( [A-Za-z0-9]+)*") && student.length() <= LONGEST) {
            return folder;
        }
        // What was left out or cut off tells names apart all the same.
        CRC32 sum = new CRC32();
        sum.update(student.getBytes(StandardCharsets.UTF_8));
        return "%s%s%08x".formatted(folder, folder.isEmpty() ? "" : "-", sum.getValue());
    }
}
