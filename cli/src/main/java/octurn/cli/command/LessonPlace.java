package octurn.cli.command;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.LessonFolder;
import octurn.cli.process.Surroundings;
import octurn.diag.Diagnostic;
import octurn.diag.Nearest;
import octurn.json.Reading;
import octurn.lessons.LessonFiles;
import octurn.lessons.pack.LessonZip;
import octurn.lessons.pack.ZipReader;
import org.jspecify.annotations.Nullable;

/** Finds the lesson that a command line names: a folder, a packed lesson, or one of a course by its id. */
final class LessonPlace {

    private static final Pattern ID = Pattern.compile("[a-z0-9][a-z0-9.-]{0,63}");

    private LessonPlace() {}

    /**
     * The files of a lesson.
     *
     * @param name as the user gave it
     * @param course the folder of the course in which an id is looked up; null for the one that comes with the program
     * @throws Failure if there is no such lesson
     */
    static LessonFiles find(String name, @Nullable String course, Surroundings surroundings) {
        Path path = InputFiles.path(name);
        if (Files.isDirectory(path)) {
            return files(LessonFolder.open(name));
        }
        if (Files.isRegularFile(path)) {
            return files(zip(name));
        }
        if (!ID.matcher(name).matches()) {
            throw new Failure("%s: there is no such folder".formatted(name));
        }
        LessonFolder folder = course(course, surroundings);
        if (!folder.folders().contains(name)) {
            String nearest = Nearest.of(name, folder.folders());
            throw new Failure("%s: there is neither such a folder nor a lesson of this id%s"
                    .formatted(
                            name,
                            nearest == null ? "; octurn learn lists them" : " (did you mean %s?)".formatted(nearest)));
        }
        return files(folder.folder(name));
    }

    /** The folder of this name, or null if the lesson is packed or named by its id. */
    static @Nullable LessonFolder folder(String name) {
        return Files.isDirectory(InputFiles.path(name)) ? LessonFolder.open(name) : null;
    }

    private static LessonFolder course(@Nullable String course, Surroundings surroundings) {
        if (course != null) {
            return LessonFolder.open(course);
        }
        Path own = surroundings.environment().courseFolder();
        if (own == null || !Files.isDirectory(own)) {
            throw new Failure("the course that comes with Octurn is not there; name its folder with --course");
        }
        return LessonFolder.open(own.toString());
    }

    /**
     * A packed lesson.
     *
     * @throws Failure if it cannot be read, or is not to be trusted
     */
    static LessonZip zip(String name) {
        Reading<LessonZip> reading = ZipReader.read(name, InputFiles.read(name, LessonZip.MOST_ZIP_BYTES + 1));
        if (reading instanceof Reading.Accepted<LessonZip> accepted) {
            return accepted.value();
        }
        Diagnostic first = ((Reading.Refused<LessonZip>) reading).problems().get(0);
        throw new Failure("%s: %s%s"
                .formatted(name, first.message(), first.hint() == null ? "" : " (%s)".formatted(first.hint())));
    }

    /** The files of a folder. */
    static LessonFiles files(LessonFolder folder) {
        return new LessonFiles() {
            @Override
            public Set<String> names() {
                return folder.names();
            }

            @Override
            public byte @Nullable [] read(String name) {
                return folder.read(name);
            }
        };
    }

    /** The files of a packed lesson. */
    static LessonFiles files(LessonZip zip) {
        return new LessonFiles() {
            @Override
            public Set<String> names() {
                return zip.files().keySet();
            }

            @Override
            public byte @Nullable [] read(String name) {
                return zip.files().get(name);
            }
        };
    }

    /** Everything that is in a lesson, by name: what it is known by. */
    static List<byte[]> contents(LessonFiles files) {
        List<byte[]> contents = new ArrayList<>();
        for (String name : files.names()) {
            byte[] bytes = files.read(name);
            if (bytes != null) {
                contents.add(name.getBytes(StandardCharsets.UTF_8));
                contents.add(bytes);
            }
        }
        return contents;
    }
}
