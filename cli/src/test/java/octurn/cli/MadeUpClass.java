package octurn.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import octurn.lessons.mark.Status;

/**
 * A class of students who hand in all that students hand in, and some things that only somebody with bad intentions would,
 * for the lesson that {@code octurn lesson new} makes. For each it is known what its mark must be.
 *
 * <p>To make a large one by hand: {@code java -cp .. octurn.cli.MadeUpClass FOLDER 300}, in a new folder.
 */
final class MadeUpClass {

    /** When work is due; files of those who are late are an hour and five minutes younger, all others an hour older. */
    static final Instant DUE = Instant.parse("2026-03-01T17:00:00Z");

    private static final int MANY_BYTES = 10 << 20;

    /**
     * One student.
     *
     * @param entry the name of the file or folder
     * @param student the name that must come of it
     * @param status what must come of the work
     * @param alike those with the same text here have the same structure, and nobody else has; empty for none
     */
    record Made(String entry, String student, Status status, boolean late, String alike) {}

    private final Path folder;
    private final Path outside;
    private final List<Made> made = new ArrayList<>();
    private final Random random = new Random(6);

    private MadeUpClass(Path folder) {
        this.folder = folder;
        this.outside = folder.resolveSibling("outside.turn");
    }

    /**
     * Writes a class.
     *
     * @param folder does not exist; a file beside it is what links lead to
     * @param students at least one of each kind are made, however few are asked for
     */
    static List<Made> write(Path folder, int students) throws IOException {
        MadeUpClass madeUp = new MadeUpClass(Files.createDirectories(folder));
        Files.writeString(madeUp.outside, right("r1", 0));
        int round = 0;
        do {
            madeUp.round(round++);
        } while (madeUp.made.size() < students);
        return madeUp.made;
    }

    public static void main(String[] args) throws IOException {
        List<Made> made = write(Path.of(args[0]), Integer.parseInt(args[1]));
        for (Made one : made) {
            System.out.printf("%s %s%n", one.status().text(), one.entry().replaceAll("\\p{Cntrl}", "?"));
        }
    }

    // ---- programs

    /** A right answer, unlike any other by its register and by instructions that do nothing. */
    private static String right(String register, int nops) {
        return """
                ; the sum of all beds
                beds = 5
                core 0
                        set   r4, beds
                %sround:  fetch %s, [soil]
                        add   r2, r2, %s
                        again r4, round
                        post  r2, [total]
                        halt
                shared
                soil:   word 40
                total:  word 0
                """.formatted("        nop\n".repeat(nops), register, register);
    }

    private static String start() {
        return right("r1", 0).replace("        post  r2, [total]\n", "");
    }

    private static String renamed(String program, int round) {
        return program.replace("round", "loop" + round)
                .replace("soil", "probe" + round)
                .replaceAll(" +", round % 2 == 0 ? "\t" : " ")
                .replace("; the sum of all beds", "; mine, nobody else's, " + round);
    }

    private static String body(String instructions) {
        return "beds = 5\ncore 0\n" + instructions + "\nshared\nsoil: word 40\ntotal: word 0\n";
    }

    // ---- students

    private void round(int n) throws IOException {
        String tail = n == 0 ? "" : " " + n;
        file("Anna Acker" + tail + ".turn", Status.PASSED, right("r5", n + 1));
        file("Ben Bauer" + tail + ".turn", Status.PASSED, renamed(right("r1", 0), n), "as the model");
        file("Chioma" + tail + ".turn", Status.PASSED, renamed(right("r1", 0), n + 1), "as the model");
        file("Dilek D." + tail + ".turn", Status.PASSED, right("r7", n + 1), "pair " + n);
        file("Emil" + tail + ".turn", Status.PASSED, renamed(right("r7", n + 1), n), "pair " + n);
        file("Femke" + tail + ".TURN", Status.FAILED, start().replace("halt", "nop\n halt" + "\n nop".repeat(n)));
        file("Gustav" + tail + ".turn", Status.UNCHANGED, start());
        file("Hanna" + tail + ".turn", Status.UNCHANGED, renamed(start(), n));
        file("Ines" + tail + ".turn", Status.FAILED, body("more: jump more" + "\nnop".repeat(n)));
        file("Jonas" + tail + ".turn", Status.FAILED, body("more: bump r1, [total]\njump more" + "\nnop".repeat(n)));
        file("Kwame" + tail + ".turn", Status.FAILED, body("div r1, r1, 0\nhalt" + "\nnop".repeat(n)));
        file("Lea" + tail + ".turn", Status.FAILED, body("set r1, -1\nfetch r2, [r1]\nhalt" + "\nnop".repeat(n)));
        file("Milan" + tail + ".turn", Status.FAILED, body("set r1, 1\nawait r1, 1\nhalt" + "\nnop".repeat(n)));
        file("Nora" + tail + ".turn", Status.EMPTY, "");
        file("Ole" + tail + ".turn", Status.EMPTY, "\n\n; nothing yet\n\t\n");
        bytes("Priya" + tail + ".turn", Status.TOO_LARGE, garbage(MANY_BYTES));
        file("Quentin" + tail + ".turn", Status.TOO_LARGE, "; words\n".repeat(MANY_BYTES / 8));
        bytes("Rosa" + tail + ".turn", Status.NO_TEXT, garbage(4000));
        bytes("Samir" + tail + ".turn", Status.NO_TEXT, "core 0\n halt\u0000".getBytes(StandardCharsets.UTF_8));
        file("Tove" + tail + ".turn", Status.ERRORS, body("fecth r1, [soil]\n" + "nop\n".repeat(n)));
        file("Umut" + tail + ".turn", Status.ERRORS, body("; </pre><script>alert(1)</script>\n\"<b>\" & <i>" + n));
        file("Vera" + tail + ".turn", Status.ERRORS, body("nop ; \u001b[2J\u202e" + "\nnop".repeat(n)));
        file("Willem" + tail + ".turn", Status.ERRORS, body("space 100000\n" + "nop\n".repeat(n)));
        file("Xenia" + tail + ".turn", Status.ERRORS, body("set r1, " + "(".repeat(900) + n));
        file("Yusuf" + tail + ".turn", Status.ERRORS, body("nop\n".repeat(20_000 + n)));
        file("Zoe" + tail + ".txt", Status.WRONG_NAME, right("r1", 0));
        hostileNames(n, tail);
        folders(n, tail);
        links(tail);
        late(n, tail);
    }

    private void hostileNames(int n, String tail) throws IOException {
        String[] names = {
            "<script>alert(1)<\u2215script>",
            "<img src=x onerror=alert(1)>",
            "\"><b>&amp;'",
            "=cmd|' \u2215C calc'!A0",
            "+1-1",
            "-2",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            "a,b\"c",
            "two\nlines",
            "\u001b[31mred\u001b]0;title\u0007",
            "\u202egnat\u202c \u2066x\u2069",
            "zero\u200bwidth\ufeff",
            "\u05d3\u05e0\u05d4 \u05dc\u05d5\u05d9",
            "\u738b\u5c0f\u660e",
            "CON"
        };
        for (int i = 0; i < names.length; i++) {
            file(names[i] + tail + ".turn", Status.PASSED, right("r" + (8 + n % 5), n * names.length + i + 1));
        }
    }

    private void folders(int n, String tail) throws IOException {
        in("folder start" + tail, Status.PASSED, "start.turn", right("r6", 4 * n + 1), "old.turn", "core");
        in("folder step" + tail, Status.PASSED, "step-4.turn", right("r6", 4 * n + 2), "notes.txt", "x");
        in("folder any" + tail, Status.PASSED, "my program.turn", right("r6", 4 * n + 3), ".DS_Store", "x");
        in("folder deep" + tail, Status.PASSED, "a/b/start.turn", right("r6", 4 * n + 4), "c.txt", "x");
        in("folder two" + tail, Status.WRONG_NAME, "a.turn", right("r1", 0), "b.turn", right("r1", 0));
        in("folder none" + tail, Status.WRONG_NAME, "notes.txt", "x", "b.docx", "x");
        Files.createDirectories(folder.resolve("folder empty" + tail));
        add("folder empty" + tail, Status.MISSING, false, "");
    }

    private void links(String tail) throws IOException {
        Files.createSymbolicLink(folder.resolve("link file" + tail + ".turn"), outside);
        add("link file" + tail + ".turn", Status.NO_FILE, false, "");
        Files.createSymbolicLink(folder.resolve("link up" + tail), Path.of(".."));
        add("link up" + tail, Status.NO_FILE, false, "");
        Files.createSymbolicLink(folder.resolve("link nowhere" + tail + ".turn"), Path.of("not there"));
        add("link nowhere" + tail + ".turn", Status.NO_FILE, false, "");
        Path inner = Files.createDirectories(folder.resolve("link in folder" + tail));
        Files.createSymbolicLink(inner.resolve("start.turn"), outside);
        add("link in folder" + tail, Status.NO_FILE, false, "");
        Files.createSymbolicLink(inner.resolve("loop"), Path.of("..", ".."));
    }

    private void late(int n, String tail) throws IOException {
        String name = "Late Larissa" + tail + ".turn";
        Path file = Files.writeString(folder.resolve(name), right("r14", n + 1));
        Files.setLastModifiedTime(file, FileTime.from(DUE.plusSeconds(3900)));
        add(name, Status.PASSED, true, "");
    }

    // ---- writing

    private byte[] garbage(int size) {
        byte[] bytes = new byte[size];
        random.nextBytes(bytes);
        return bytes;
    }

    private void file(String name, Status status, String text) throws IOException {
        file(name, status, text, "");
    }

    private void file(String name, Status status, String text, String alike) throws IOException {
        write(folder.resolve(name), text.getBytes(StandardCharsets.UTF_8));
        add(name, status, false, alike);
    }

    private void bytes(String name, Status status, byte[] bytes) throws IOException {
        write(folder.resolve(name), bytes);
        add(name, status, false, "");
    }

    private void in(String name, Status status, String... filesAndTexts) throws IOException {
        for (int i = 0; i < filesAndTexts.length; i += 2) {
            Path file = folder.resolve(name).resolve(filesAndTexts[i]);
            Files.createDirectories(file.getParent());
            write(file, filesAndTexts[i + 1].getBytes(StandardCharsets.UTF_8));
        }
        add(name, status, false, "");
    }

    private static void write(Path file, byte[] bytes) throws IOException {
        Files.write(file, bytes);
        Files.setLastModifiedTime(file, FileTime.from(DUE.minusSeconds(3600)));
    }

    private void add(String entry, Status status, boolean late, String alike) {
        String bare = entry.replaceAll("(?i)\\.(turn|txt)$", "");
        made.add(new Made(entry, bare.strip(), status, late, alike));
    }
}
