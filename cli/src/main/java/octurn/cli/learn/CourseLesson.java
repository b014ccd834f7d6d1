package octurn.cli.learn;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.TreeSet;
import java.util.function.UnaryOperator;
import octurn.cli.view.LearnScene;
import octurn.cli.view.Section;
import octurn.cli.view.Section.Tone;
import octurn.diag.Diagnostic;
import octurn.json.Reading;
import octurn.lessons.Lesson;
import octurn.lessons.LessonFiles;
import octurn.lessons.LessonOutline;
import octurn.lessons.LessonReader;
import org.jspecify.annotations.Nullable;

/**
 * A lesson of a course. At first only what the list of lessons shows is read of it, and the rest when it is opened: a course
 * is long, and a student opens one lesson at a time.
 */
public final class CourseLesson {

    private final String id;
    private final LessonFiles files;
    private final @Nullable LessonOutline outline;
    private @Nullable Lesson lesson;
    private String mistake = "";

    /**
     * The lesson that these files are.
     *
     * @param id its folder's name
     */
    public CourseLesson(String id, LessonFiles files) {
        this.id = id;
        this.files = files;
        this.outline = LessonReader.outline(files) instanceof Reading.Accepted<LessonOutline> accepted
                ? accepted.value()
                : null;
        if (outline == null) {
            lesson();
        }
    }

    /** Its folder's name. */
    String id() {
        return id;
    }

    /** Its files. */
    LessonFiles files() {
        return files;
    }

    /** What it is called; its folder's name where its files do not say it. */
    public String title() {
        return outline == null ? id : outline.title();
    }

    /** The title and the name by which the lesson can be opened. */
    String titleAndId() {
        return outline == null ? id : "%s (%s)".formatted(outline.title(), id);
    }

    /** All of it; null if its files have mistakes. The first call reads it. */
    @Nullable
    Lesson lesson() {
        if (lesson == null && mistake.isEmpty()) {
            Reading<Lesson> reading = LessonReader.read(files);
            if (reading instanceof Reading.Accepted<Lesson> accepted) {
                lesson = accepted.value();
            } else {
                Diagnostic first = ((Reading.Refused<Lesson>) reading)
                        .problems().stream()
                                .filter(Diagnostic::isError)
                                .findFirst()
                                .orElseThrow();
                mistake =
                        "%s:%d: %s".formatted(first.span().file(), first.span().line(), first.message());
            }
        }
        return lesson;
    }

    /** The first mistake in its files, in one line; empty if none is known so far. */
    String mistake() {
        return mistake;
    }

    int steps() {
        return outline == null ? 0 : outline.asking().size();
    }

    /** Whether all of its questions are answered and all of its tasks passed; if it has none, whether it was read to its end. */
    boolean isDone(Standing standing) {
        if (!mistake.isEmpty()) {
            return false;
        }
        List<Integer> asking = asking();
        return asking.isEmpty()
                ? standing.step(steps()).done()
                : asking.stream().allMatch(number -> standing.step(number).done());
    }

    /** The numbers of the steps that are questions or tasks. */
    List<Integer> asking() {
        List<Integer> asking = new ArrayList<>();
        for (int i = 0; outline != null && i < steps(); i++) {
            if (outline.asking().get(i)) {
                asking.add(i + 1);
            }
        }
        return asking;
    }

    /** Its row in the list of lessons. */
    LearnScene.Row row(String standing, boolean isDone, UnaryOperator<String> titleOf) {
        List<Section> about = new ArrayList<>();
        if (!mistake.isEmpty()) {
            about.add(Section.of(Tone.BAD, "This lesson has mistakes in its files.", mistake));
        } else if (outline != null) {
            about.add(Section.of(Tone.PLAIN, "", outline.aim()));
            List<String> before = outline.needs().stream().map(titleOf).toList();
            String after = before.isEmpty() ? "" : " Comes after: %s.".formatted(String.join(", ", before));
            about.add(Section.of(Tone.PLAIN, "", "Its name is %s.%s".formatted(id, after)));
        }
        return new LearnScene.Row(
                title(), outline == null ? "" : Integer.toString(outline.minutes()), standing, isDone, about);
    }

    /** A fingerprint of all that the lesson is made of. */
    String fingerprint() {
        MessageDigest digest = sha256();
        for (String name : new TreeSet<>(files.names())) {
            byte[] contents = files.read(name);
            digest.update(
                    (name + "\n" + (contents == null ? 0 : contents.length) + "\n").getBytes(StandardCharsets.UTF_8));
            if (contents != null) {
                digest.update(contents);
            }
        }
        return HexFormat.of().formatHex(digest.digest());
    }

    /** A fingerprint of these bytes. */
    static String fingerprint(byte[] bytes) {
        return HexFormat.of().formatHex(sha256().digest(bytes));
    }

    @Override
    public String toString() {
        return id;
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
