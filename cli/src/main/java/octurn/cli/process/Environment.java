package octurn.cli.process;

import java.net.URISyntaxException;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What the user's account and the place of the program say.
 *
 * @param variables of the environment
 * @param system the operating system's name, as Java tells it
 * @param home the user's home folder
 * @param program the folder of the distribution; null if the program runs from elsewhere, as in tests
 */
public record Environment(
        Map<String, String> variables,
        String system,
        Path home,
        @Nullable Path program) {

    public Environment {
        variables = Map.copyOf(variables);
    }

    /** That of this process. */
    static Environment ofProcess() {
        return new Environment(
                System.getenv(),
                System.getProperty("os.name", ""),
                home(System.getenv(), Path.of(System.getProperty("user.home", "."))),
                distribution());
    }

    /** As the environment says, like every other program; Java looks the account up instead. */
    static Path home(Map<String, String> variables, Path ofAccount) {
        Path home = absolute(variables.get("HOME"));
        return home != null ? home : ofAccount;
    }

    /** The folder above {@code lib}, in which the program's own archive lies. */
    private static @Nullable Path distribution() {
        try {
            Path jar = Path.of(Environment.class
                    .getProtectionDomain()
                    .getCodeSource()
                    .getLocation()
                    .toURI());
            Path lib = jar.getParent();
            return jar.toString().endsWith(".jar") && lib != null ? lib.getParent() : null;
        } catch (URISyntaxException | RuntimeException e) {
            return null;
        }
    }

    /** A variable's value, or null if it is not set or empty. */
    public @Nullable String variable(String name) {
        String value = variables.get(name);
        return value == null || value.isEmpty() ? null : value;
    }

    /** Whether this is a Windows. */
    public boolean isWindows() {
        return system.startsWith("Windows");
    }

    /**
     * The folder in which a program keeps what it notes for this user: on Linux and the like as the XDG Base Directory
     * Specification 0.8 says, on macOS and Windows as is common practice there.
     */
    public Path dataFolder() {
        if (isWindows()) {
            Path roaming = absolute(variable("APPDATA"));
            return (roaming != null ? roaming : home.resolve("AppData").resolve("Roaming")).resolve("octurn");
        }
        if (system.toLowerCase(Locale.ROOT).startsWith("mac")) {
            return home.resolve("Library").resolve("Application Support").resolve("octurn");
        }
        // The specification has relative paths ignored.
        Path data = absolute(variable("XDG_DATA_HOME"));
        return (data != null ? data : home.resolve(".local").resolve("share")).resolve("octurn");
    }

    private static @Nullable Path absolute(@Nullable String value) {
        try {
            Path path = value == null ? null : Path.of(value);
            return path != null && path.isAbsolute() ? path : null;
        } catch (InvalidPathException e) {
            return null;
        }
    }

    /** The folder of the lessons that come with the program, or null if they are not there. */
    public @Nullable Path courseFolder() {
        return program == null ? null : program.resolve("lessons").resolve("course");
    }

    /**
     * The command that opens the user's editor, in words to which the file is added: that of {@code VISUAL} or else of
     * {@code EDITOR}; empty if neither is set.
     */
    public List<String> editor() {
        String command = variable("VISUAL") != null ? variable("VISUAL") : variable("EDITOR");
        return command == null || command.isBlank()
                ? List.of()
                : new ArrayList<>(Arrays.asList(command.strip().split("\\s+", -1)));
    }
}
