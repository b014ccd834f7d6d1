package octurn.lessons;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import octurn.json.Reading;
import octurn.json.Schemas;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The published schemas of lessons and courses say the same as the readers, as far as a schema can. */
class LessonSchemaTest {

    private static final Path COURSE = Path.of("..", "lessons", "course");

    static List<Path> lessons() throws IOException {
        List<Path> lessons =
                new ArrayList<>(List.of(Path.of("src", "test", "resources", "octurn", "lessons", "two-beds")));
        if (Files.isDirectory(COURSE)) {
            try (Stream<Path> found = Files.list(COURSE)) {
                found.filter(Files::isDirectory).sorted().forEach(lessons::add);
            }
        }
        return lessons;
    }

    @ParameterizedTest
    @MethodSource("lessons")
    void lesson_everyOneThatThereIs_satisfiesTheSchema(Path folder) throws IOException {
        String json = Files.readString(folder.resolve(LessonFiles.LESSON));
        assertThat(Schemas.complaints("lesson", json)).isEmpty();
    }

    @ParameterizedTest
    @MethodSource("lessons")
    void lesson_everyOneThatThereIs_isAccepted(Path folder) {
        assertThat(Folder.of(folder).accepted().id())
                .isEqualTo(folder.getFileName().toString());
    }

    @Test
    void course_ifThereIsOne_satisfiesTheSchema() throws IOException {
        String json = Files.isDirectory(COURSE)
                ? Files.readString(COURSE.resolve("course.json"))
                : "{\"octurn\": \"course 1\", \"title\": \"A course\", \"concepts\": {}, \"lessons\": [\"a\"]}";
        assertThat(Schemas.complaints("course", json)).isEmpty();
        assertThat(CourseReader.read("course.json", json.getBytes(StandardCharsets.UTF_8)))
                .isInstanceOf(Reading.Accepted.class);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{}",
                "{\"octurn\": \"course 2\", \"title\": \"A\", \"concepts\": {}, \"lessons\": [\"a\"]}",
                "{\"octurn\": \"course 1\", \"title\": \"\", \"concepts\": {}, \"lessons\": [\"a\"]}",
                "{\"octurn\": \"course 1\", \"title\": \"A\", \"concepts\": [], \"lessons\": [\"a\"]}",
                "{\"octurn\": \"course 1\", \"title\": \"A\", \"concepts\": {\"Slot\": \"x\"}, \"lessons\": [\"a\"]}",
                "{\"octurn\": \"course 1\", \"title\": \"A\", \"concepts\": {}, \"lessons\": []}",
                "{\"octurn\": \"course 1\", \"title\": \"A\", \"concepts\": {}, \"lessons\": [\"../a\"]}",
                "{\"octurn\": \"course 1\", \"title\": \"A\", \"concepts\": {}, \"lessons\": [\"a\", \"a\"]}",
                "{\"octurn\": \"course 1\", \"title\": \"A\", \"concepts\": {}, \"lessons\": [\"a\"], \"more\": 1}"
            })
    void course_refusedByTheReader_isRefusedByTheSchema(String json) {
        assertThat(CourseReader.read("course.json", json.getBytes(StandardCharsets.UTF_8)))
                .isInstanceOf(Reading.Refused.class);
        assertThat(Schemas.complaints("course", json)).isNotEmpty();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "\"octurn\": \"lesson 1\" -> \"octurn\": \"lesson 2\"",
                "\"id\": \"two-beds\" -> \"id\": \"../two\"",
                "\"minutes\": 10 -> \"minutes\": 0",
                "\"title\" -> \"titel\"",
                "\"introduces\": [\"wait\"] -> \"introduces\": [\"Wait!\"]",
                "\"from\": 3, -> ",
                "\"from\": 3 -> \"from\": 3.5",
                "\"one-of\": [4, 8, 12] -> \"one-of\": []",
                "\"program\": \"read.turn\" -> \"program\": \"read.txt\"",
                "\"cycles\": 5000 -> \"cycles\": 50000001",
                "{ \"tell\": \"@tell.md\" } -> { }",
                "{ \"tell\": \"@tell.md\" } -> { \"tell\": 5 }",
                "\"right\": \"least\" -> \"right\": \"best\"",
                "\"right\": \"least\", -> ",
                "\"unit\": \"cycles\", -> \"unit\": \"\",",
                "\"issue-cycle\" -> \"issue\"",
                "\"choice\": 3 -> \"choice\": 0",
                "\"no\": \"fault\" -> \"no\": \"mistake\"",
                "\"ends\": \"idle\" -> \"ends\": \"well\"",
                "{ \"no\": \"fault\" } -> { \"no\": \"fault\", \"core\": 1 }",
                "{ \"no\": \"fault\" } -> { \"register\": \"r16\", \"core\": 0, \"is\": 1 }",
                "{ \"no\": \"fault\" } -> { \"register\": \"r1\", \"is\": 1 }",
                "{ \"no\": \"fault\" } -> { \"private\": \"x\", \"is\": 1 }",
                "{ \"no\": \"fault\" } -> { \"shared\": \"x\" }",
                "{ \"no\": \"fault\" } -> { \"shared\": \"x\", \"is\": 1, \"words\": [1] }",
                "{ \"no\": \"fault\" } -> { \"waits\": {} }",
                "{ \"no\": \"fault\" } -> { \"cycles\": { \"most\": 1, \"core\": 0 } }",
                "{ \"no\": \"fault\" } -> { \"measure\": \"run.cycles\" }",
                "{ \"no\": \"fault\" } -> { \"pulse\": { \"pin\": 1 } }",
                "{ \"no\": \"fault\" } -> { \"level\": { \"pin\": 1, \"at\": 5, \"is\": 2 } }",
                "{ \"no\": \"fault\" } -> { \"serial\": { \"pin\": 32, \"baud\": 5, \"text\": \"\" } }",
                "{ \"no\": \"fault\" } -> { \"say\": \"look\" }",
                "\"model\": \"count-model.turn\" -> \"model\": \"four.design.json\"",
                "\"start\": \"count-start.turn\" -> \"start\": \"four.design.json\"",
                "\"model\": \"count-model.turn\", -> \"model\": \"count-model.turn\", \"program\": \"read.turn\","
            })
    void lesson_refusedByTheReader_isRefusedByTheSchema(String change) throws IOException {
        String[] sides = change.split(" -> ", 2);
        Folder folder = Folder.twoBeds().replacing(LessonFiles.LESSON, sides[0], sides[1]);
        assertThat(LessonReader.read(folder)).isInstanceOf(Reading.Refused.class);
        byte[] json = folder.read(LessonFiles.LESSON);
        assertThat(Schemas.complaints("lesson", new String(json, StandardCharsets.UTF_8)))
                .isNotEmpty();
    }
}
