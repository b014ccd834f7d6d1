package octurn.lessons;

import static org.assertj.core.api.Assertions.fail;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import octurn.json.Reading;
import org.jspecify.annotations.Nullable;

/** Lessons of the tests: files in memory, read from a folder or written down in a test. */
public final class Folder implements LessonFiles {

    private final Map<String, byte[]> files = new HashMap<>();

    private Folder() {}

    /** The lesson that the tests share. */
    public static Folder twoBeds() {
        return of(Path.of("src", "test", "resources", "octurn", "lessons", "two-beds"));
    }

    /** What lies in a folder. */
    public static Folder of(Path path) {
        Folder folder = new Folder();
        try (Stream<Path> found = Files.list(path)) {
            for (Path file : found.toList()) {
                folder.files.put(file.getFileName().toString(), Files.readAllBytes(file));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return folder;
    }

    /** A lesson of this one file. */
    public static Folder lesson(String json) {
        return new Folder().with(LESSON, json);
    }

    /** The same with a file more, or another one of this name. */
    public Folder with(String name, String text) {
        return with(name, text.getBytes(StandardCharsets.UTF_8));
    }

    /** The same with a file more, or another one of this name. */
    public Folder with(String name, byte[] bytes) {
        Folder copy = new Folder();
        copy.files.putAll(files);
        copy.files.put(name, bytes);
        return copy;
    }

    /** The same with a file less. */
    public Folder without(String name) {
        Folder copy = new Folder();
        copy.files.putAll(files);
        copy.files.remove(name);
        return copy;
    }

    /** The same with another text in place of one that is there. */
    public Folder replacing(String name, String old, String replacement) {
        String text = new String(files.get(name), StandardCharsets.UTF_8);
        if (!text.contains(old)) {
            fail("%s has no %s", name, old);
        }
        return with(name, text.replace(old, replacement));
    }

    @Override
    public Set<String> names() {
        return files.keySet();
    }

    @Override
    public byte @Nullable [] read(String name) {
        return files.get(name);
    }

    /** The lesson that it is. */
    public Lesson accepted() {
        Reading<Lesson> reading = LessonReader.read(this);
        if (reading instanceof Reading.Accepted<Lesson> accepted) {
            return accepted.value();
        }
        return fail("refused: %s", ((Reading.Refused<Lesson>) reading).problems());
    }

    /** A sitting with the numbers of this student. */
    public Sitting sitting(String student) {
        Lesson lesson = accepted();
        return new Sitting(lesson, this, Variant.of(lesson, student));
    }
}
