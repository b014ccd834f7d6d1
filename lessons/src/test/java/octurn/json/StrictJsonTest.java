package octurn.json;

import static octurn.json.Readings.design;
import static octurn.json.Readings.onlyProblem;
import static octurn.json.Readings.problems;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Random;
import java.util.stream.Stream;
import octurn.design.Design;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Files that are not what RFC 8259 calls JSON, or that try to do harm. One clear line each. */
class StrictJsonTest {

    static Stream<Arguments> notJson() {
        return Stream.of(
                of("{cores: 8}", 1, 2, "\"cores\" cannot stand here", "a field name in double quotes must stand here"),
                of("{\"cores\" 8}", 1, 10, "\"8\" cannot stand here", "a colon must follow the field name"),
                of("{\"cores\":}", 1, 10, "\"}\" cannot stand here", "a value must stand here"),
                of("{\"cores\": 8,}", 1, 13, "\"}\" cannot stand here", "a field name in double quotes"),
                of("{\"cores\": 8\n \"pins\": 3}", 2, 2, "\"\"\" cannot stand here", "a comma or } must stand here"),
                of("{\"a\": [1 2]}", 1, 10, "\"2\" cannot stand here", "a comma or ] must stand here"),
                of(
                        "{\"a\": [1, 2}",
                        1,
                        12,
                        "\"}\" cannot stand here",
                        "the innermost open bracket is of the other kind"),
                of("{\"a\": [1,]}", 1, 10, "\"]\" cannot stand here", "a value must stand here"),
                of("{}}", 1, 3, "\"}\" cannot stand here", "no bracket is open"),
                of("{\"cores\": 08}", 1, 12, "\"8\" cannot stand here", "a number has no leading 0"),
                of("{\"cores\": 8.}", 1, 12, "\".\" cannot stand here", "numbers are like 12, -3"),
                of("{\"cores\": +8}", 1, 12, "\"8\" cannot stand here", "numbers are like 12, -3"),
                of("{\"cores\": -}", 1, 12, "\"}\" cannot stand here", "numbers are like 12, -3"),
                of("{\"cores\": NaN}", 1, 11, "NaN is no number of JSON", "numbers are like 12, -3"),
                of("{\"cores\": -Infinity}", 1, 12, "Infinity is no number of JSON", "numbers are like 12, -3"),
                of("{\"cores\": eight}", 1, 11, "\"eight\" cannot stand here", "a value must stand here"),
                of("{\"name\": 'x'}", 1, 10, "\"'\" cannot stand here", "a value must stand here"),
                of(
                        "{\"name\": \"a\tb\"}",
                        1,
                        12,
                        "\"\t\" cannot stand here",
                        "a control character is written as an escape"),
                of("{\"name\": \"a\\qb\"}", 1, 13, "\"qb\" cannot stand here", "the escapes are"),
                of("// cores\n{}", 1, 1, "\"/\" cannot stand here", "JSON has no comments"),
                of("{ /* cores */ }", 1, 3, "\"/\" cannot stand here", "JSON has no comments"),
                of("{\"cores\": 8", 1, 12, "the file ends too early", "an object is not closed: } is missing"),
                of("{\"a\": [8", 1, 9, "the file ends too early", "an array is not closed: ] is missing"),
                of("{\"name\": \"x", 1, 12, "the file ends too early", "a string is not closed: \" is missing"),
                of("{\"name", 1, 7, "the file ends too early", "an object is not closed"));
    }

    private static Arguments of(String text, int line, int column, String message, String hint) {
        return Arguments.of(text, line, column, message, hint);
    }

    @ParameterizedTest
    @MethodSource("notJson")
    void notJson_isOneProblemAtItsPlace(String text, int line, int column, String message, String hint) {
        Diagnostic problem = onlyProblem(design(text));
        assertThat(problem.message()).startsWith("not JSON: ").contains(message).doesNotContain("Source");
        assertThat(problem.hint()).contains(hint);
        assertThat(problem.span().line()).isEqualTo(line);
        assertThat(problem.span().column()).isEqualTo(column);
    }

    @ParameterizedTest
    @ValueSource(strings = {"{} {}", "{}\n3", "{} []"})
    void trailingContent_isRefused(String text) {
        assertThat(onlyProblem(design(text)).message()).isEqualTo("something follows the end of the JSON value");
    }

    @ParameterizedTest
    @ValueSource(strings = {"[]", "3", "\"x\"", "null", "true"})
    void notAnObject_isRefused(String text) {
        assertThat(problems(design(text))).hasSize(1).first().asString().endsWith(" is not an object");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", " ", "\n\n\t"})
    void emptyFile_isOneProblemOfTheWholeFile(String text) {
        Diagnostic problem = onlyProblem(design(text));
        assertThat(problem.message()).isEqualTo("the file is empty");
        assertThat(problem.hint()).isEqualTo("a design is a JSON object, at the least {}");
        assertThat(problem.span()).isEqualTo(Span.file("d.json"));
    }

    @Test
    void byteOrderMark_isRefused() {
        Diagnostic problem = onlyProblem(design("\uFEFF{}"));
        assertThat(problem.message()).isEqualTo("starts with a byte order mark");
        assertThat(problem.span()).isEqualTo(new Span("d.json", 1, 1, 1));
    }

    @Test
    void invalidUtf8_isRefusedAtItsPlace() {
        byte[] bytes = "{\n \"name\": \"ä?\"}".getBytes(StandardCharsets.UTF_8);
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = bytes[i] == '?' ? (byte) 0xFF : bytes[i];
        }
        Diagnostic problem = onlyProblem(DesignReader.read("d.json", bytes));
        assertThat(problem.message()).isEqualTo("not UTF-8 text: the byte 0xFF cannot stand here");
        assertThat(problem.span()).isEqualTo(new Span("d.json", 2, 12, 1));
        assertThat(problem.sourceLine()).isEqualTo(" \"name\": \"ä\uFFFD\"}");
    }

    @Test
    void invalidUtf8_cutOffAtTheEnd_isRefused() {
        byte[] bytes = {'{', '}', (byte) 0xC3};
        assertThat(onlyProblem(DesignReader.read("d.json", bytes)).span().column())
                .isEqualTo(3);
    }

    @ParameterizedTest
    @ValueSource(strings = {"\\ud83c", "\\udf31", "\\ud83cx", "\\udf31\\ud83c"})
    void loneSurrogate_isRefused(String escape) {
        assertThat(onlyProblem(design("{\"name\": \"%s\"}".formatted(escape))).message())
                .startsWith("the escape \\ud")
                .endsWith("is half a character: its other half is missing");
        assertThat(onlyProblem(design("{\"%s\": 1}".formatted(escape))).message())
                .contains("half a character");
    }

    @Test
    void surrogatePair_asEscapes_isOneCharacter() {
        assertThat(Readings.accepted(design("{\"name\": \"\\ud83c\\udf31\"}")).name())
                .isEqualTo("\uD83C\uDF31");
    }

    @Test
    void nesting_likeABomb_isRefusedAtTheFirstLevelTooDeep() {
        for (String open : new String[] {"[", "{\"a\":"}) {
            Diagnostic problem = onlyProblem(design(open.repeat(100_000)));
            assertThat(problem.message()).isEqualTo("nested deeper than 32 levels");
            assertThat(problem.span().column()).isEqualTo(32 * open.length() + 1);
        }
    }

    @Test
    void file_above1MiB_isRefused() {
        assertThat(Readings.accepted(DesignReader.read("d.json", padded(1 << 20))))
                .isEqualTo(Design.DEFAULT);
        Diagnostic problem = onlyProblem(DesignReader.read("d.json", padded((1 << 20) + 1)));
        assertThat(problem.message()).isEqualTo("larger than 1 MiB (1,048,576 bytes), the most that is read");
    }

    private static byte[] padded(int length) {
        byte[] bytes = new byte[length];
        Arrays.fill(bytes, (byte) ' ');
        bytes[0] = '{';
        bytes[length - 1] = '}';
        return bytes;
    }

    @Test
    void string_of1MiB_isOneProblem() {
        String text = "{\"name\": \"" + "x".repeat(1_000_000) + "\"}";
        assertThat(problems(design(text))).containsExactly("1:10 name: 1000000 characters are not in 1..60");
        assertThat(onlyProblem(design("{\"%s\": 1}".formatted("x".repeat(1_000_000))))
                        .message())
                .isEqualTo("unknown field \"%s..\"".formatted("x".repeat(40)));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void randomBytes_areRefusedWithoutAnException(long seed) {
        Random random = new Random(seed);
        for (int round = 0; round < 500; round++) {
            byte[] bytes = new byte[1 + random.nextInt(60)];
            if (round % 2 == 0) {
                random.nextBytes(bytes);
            } else {
                String letters = "{}[]\",:0123456789.eE-+\\u truefalsn\n\t/*";
                for (int i = 0; i < bytes.length; i++) {
                    bytes[i] = (byte) letters.charAt(random.nextInt(letters.length()));
                }
            }
            Reading<Design> reading = DesignReader.read("seed-" + seed, bytes);
            if (reading instanceof Reading.Refused<Design> refused) {
                assertThat(refused.problems()).isNotEmpty();
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14})
    void damagedDesign_isReadOrRefusedWithoutAnException(long seed) {
        String text =
                "{\"name\":\"a\\u00e4\",\"cores\":8,\"admission\":{\"policy\":\"lottery\",\"weights\":[1,2,3,4,5,6,7,8]}}";
        Random random = new Random(seed);
        for (int round = 0; round < 2000; round++) {
            byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
            for (int slips = random.nextInt(3); slips >= 0; slips--) {
                bytes[random.nextInt(bytes.length)] = (byte) random.nextInt(128);
            }
            if (DesignReader.read("seed-" + seed, bytes) instanceof Reading.Refused<Design> refused) {
                assertThat(refused.problems()).isNotEmpty();
            }
        }
    }
}
