package octurn.json;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * The golden cases: programs with designs, scenarios, and the reports that two models of the chip, written independently
 * of each other and of this project, agree on.
 */
final class GoldenFiles {

    private static final Path FOLDER = Path.of("..", "core", "src", "test", "resources", "octurn", "cases");
    private static final int CASES = 58;

    private GoldenFiles() {}

    /** The numbers in their names. */
    static Stream<String> names() {
        return IntStream.rangeClosed(1, CASES).mapToObj("%02d"::formatted);
    }

    static byte[] bytes(String file) {
        try {
            return Files.readAllBytes(FOLDER.resolve(file));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static String text(String file) {
        return new String(bytes(file), StandardCharsets.UTF_8);
    }
}
