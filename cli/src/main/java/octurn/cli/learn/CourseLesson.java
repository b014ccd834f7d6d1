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
import octurn.lessons.Lesson;
import octurn.lessons.LessonFiles;
import octurn.lessons.Step;
import org.jspecify.annotations.Nullable;

/**
 * A lesson of a course.
 *
 * @param id its folder's name
 * @param lesson null if its files have mistakes
 * @param mistake the first of them, in one line; empty if there is none
 * @param files its files
 */
public record CourseLesson(String id, @Nullable Lesson lesson, String mistake, LessonFiles files) {

    String title() {
        return lesson == null ? id : lesson.title();
    }

    int steps() {
        return lesson == null ? 0 : lesson.steps().size();
    }

    /** Whether all of its questions are answered and all of its tasks passed; if it has none, whether it was read to its end. */
    boolean isDone(Standing standing) {
        if (lesson == null) {
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
        for (int i = 0; lesson != null && i < steps(); i++) {
            Step step = lesson.steps().get(i);
            if (step instanceof Step.Predict || step instanceof Step.Task) {
                asking.add(i + 1);
            }
        }
        return asking;
    }

    /** Its row in the list of lessons. */
    LearnScene.Row row(String standing, boolean isDone, UnaryOperator<String> titleOf) {
        List<Section> about = new ArrayList<>();
        if (lesson == null) {
            about.add(Section.of(Tone.BAD, "This lesson has mistakes in its files.", mistake));
        } else {
            about.add(Section.of(Tone.PLAIN, "", lesson.aim()));
            List<String> before = lesson.needs().stream()
                    .map(need -> titleOf.apply(need.text()))
                    .toList();
            if (!before.isEmpty()) {
                about.add(Section.of(Tone.PLAIN, "", "Comes after: %s.".formatted(String.join(", ", before))));
            }
        }
        return new LearnScene.Row(
                title(), lesson == null ? "" : Integer.toString(lesson.minutes()), standing, isDone, about);
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

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
