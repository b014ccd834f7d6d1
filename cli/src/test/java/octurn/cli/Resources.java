package octurn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/** Programs and golden screens of the tests. */
public final class Resources {

    private static final Path FOLDER = Path.of("src", "test", "resources", "octurn", "cli");

    /** Set to write the golden screens anew; the differences are then looked at before they are kept. */
    private static final boolean REWRITE = Boolean.getBoolean("octurn.rewrite");

    private Resources() {}

    /** A program, design or scenario. */
    public static String program(String name) {
        return FOLDER.resolve("programs").resolve(name).toString();
    }

    /** Holds a screen against the golden one. */
    public static void assertGolden(String name, String screen) {
        Path file = FOLDER.resolve("screens").resolve(name + ".txt");
        try {
            if (REWRITE) {
                Files.createDirectories(file.getParent());
                Files.writeString(file, screen, StandardCharsets.UTF_8);
            }
            assertThat(screen).isEqualTo(Files.readString(file, StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
