package octurn.cli.learn;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import octurn.cli.view.Frame;
import octurn.cli.view.Glyphs;
import octurn.json.Reading;
import octurn.lessons.Course;
import octurn.lessons.CourseReader;
import octurn.lessons.LessonFiles;
import octurn.run.Progress;
import org.jspecify.annotations.Nullable;

/** Students for tests, with files and progress in memory. */
public final class Learners {

    public static final Glyphs UNICODE = new Glyphs(StandardCharsets.UTF_8);
    public static final Glyphs ASCII = new Glyphs(StandardCharsets.US_ASCII);

    private static final Path COURSE = Path.of("src", "test", "resources", "octurn", "cli", "course");

    private Learners() {}

    /** Files in memory; some may be changed. */
    static final class LessonInMemory implements LessonFiles {
        final Map<String, byte[]> files = new TreeMap<>();

        @Override
        public Set<String> names() {
            return new TreeSet<>(files.keySet());
        }

        @Override
        public byte @Nullable [] read(String name) {
            return files.get(name);
        }

        void put(String name, String text) {
            files.put(name, text.getBytes(StandardCharsets.UTF_8));
        }

        String text(String name) {
            return new String(files.get(name), StandardCharsets.UTF_8);
        }
    }

    /** Progress that is kept nowhere else. */
    static final class Memory implements Keeper {
        private final ProgressBook book = ProgressBook.empty();
        String trouble = "";

        @Override
        public ProgressBook book() {
            return book;
        }

        @Override
        public void note(List<Change> changes) {
            changes.forEach(book::note);
        }

        @Override
        public String takeTrouble() {
            String now = trouble;
            trouble = "";
            return now;
        }
    }

    /** A desk in memory. */
    static final class Drawer implements Desk {
        final Map<String, byte[]> files = new TreeMap<>();
        final List<String> editor = new ArrayList<>();
        private long saved;

        @Override
        public String file(String name) {
            return "desk/" + name;
        }

        @Override
        public String shortName(String file) {
            return file.substring(file.lastIndexOf('/') + 1);
        }

        @Override
        public boolean exists(String file) {
            return files.containsKey(file);
        }

        @Override
        public void write(String file, byte[] contents) {
            if (exists(file)) {
                throw new Refused(file + " is there already");
            }
            save(file, new String(contents, StandardCharsets.UTF_8));
        }

        void save(String file, String text) {
            saved++;
            files.put(file, text.getBytes(StandardCharsets.UTF_8));
        }

        String text(String file) {
            return new String(files.get(file), StandardCharsets.UTF_8);
        }

        @Override
        public byte[] read(String file) {
            return files.get(file);
        }

        @Override
        public @Nullable String stamp(String file) {
            return exists(file) ? file + saved : null;
        }

        @Override
        public List<String> editor() {
            return editor;
        }

        @Override
        public void edit(String file) {
            save(file, model());
        }

        /** An answer to the task of the test course that is right. */
        static String model() {
            try {
                return Files.readString(COURSE.resolve("count").resolve("count-model.turn"));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    /** All that a student has to do with. */
    static final class Room {
        final Memory memory = new Memory();
        final Drawer desk = new Drawer();
        final Map<String, LessonInMemory> lessons = new TreeMap<>();
        String student = "";
        Glyphs glyphs = UNICODE;

        Room() {
            for (String id : List.of("drip", "count")) {
                lessons.put(id, folder(COURSE.resolve(id)));
            }
        }

        /** A student who comes in now. */
        Learner learner() {
            byte[] course = folder(COURSE).read("course.json");
            Course read = ((Reading.Accepted<Course>) CourseReader.read("course.json", course)).value();
            List<CourseLesson> all = new ArrayList<>();
            for (String id : read.lessons()) {
                all.add(new CourseLesson(id, lessons.get(id)));
            }
            return new Learner(read.title(), all, student, memory, desk, glyphs);
        }
    }

    /** The lessons of the course that comes with the program, each alone in a course of its own. */
    static List<CourseLesson> courseLessons() {
        Path folder = Path.of("..", "lessons", "course");
        byte[] course = folder(folder).read("course.json");
        Course read = ((Reading.Accepted<Course>) CourseReader.read("course.json", course)).value();
        List<CourseLesson> lessons = new ArrayList<>();
        for (String id : read.lessons()) {
            lessons.add(new CourseLesson(id, folder(folder.resolve(id))));
        }
        return lessons;
    }

    private static LessonInMemory folder(Path folder) {
        LessonInMemory files = new LessonInMemory();
        try (var paths = Files.list(folder)) {
            for (Path path : paths.filter(Files::isRegularFile).toList()) {
                files.files.put(path.getFileName().toString(), Files.readAllBytes(path));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return files;
    }

    /** Does these commands, each of which must be possible. */
    static Learner doing(Learner learner, String... commands) {
        for (String command : commands) {
            Reply reply = learner.run(command, Progress.NONE);
            if (reply.kind() == Reply.Kind.REFUSED) {
                throw new AssertionError(command + ": " + reply.line());
            }
        }
        return learner;
    }

    /** Why this command is not possible. */
    static String refusal(Learner learner, String command) {
        Reply reply = learner.run(command, Progress.NONE);
        if (reply.kind() != Reply.Kind.REFUSED) {
            throw new AssertionError(command + " was possible: " + reply);
        }
        return reply.line();
    }

    /** Presses these keys on a screen. */
    static LearnShow pressing(LearnShow show, String... keys) {
        for (String key : keys) {
            show.press(key, Progress.NONE);
        }
        return show;
    }

    /** The text of a screen. */
    static String screen(LearnShow show, int columns, int rows) {
        Frame frame = show.frame(rows, columns);
        return frame.plain();
    }
}
