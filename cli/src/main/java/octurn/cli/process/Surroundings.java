package octurn.cli.process;

import java.io.Console;
import java.io.FileDescriptor;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.function.LongSupplier;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Line;
import org.jspecify.annotations.Nullable;

/**
 * All that a command knows of the world around it: where output goes and what can be shown there, the time, and what is
 * to be tidied up if the user breaks off. The only class that asks the process about its terminal.
 *
 * @param in standard input
 * @param out standard output, unbuffered
 * @param err standard error, unbuffered
 * @param charset of both
 * @param outIsTerminal whether a person reads standard output as it comes
 * @param errIsTerminal the same for standard error
 * @param isScreen whether standard input and output are a terminal with a cursor that can be moved about
 * @param colour whether lines may be coloured
 * @param columns of the terminal, at least 80
 * @param nanoTime a clock that only moves on
 * @param cleanups done if the process is ended from outside
 * @param environment what the user's account and the place of the program say
 */
public record Surroundings(
        InputStream in,
        OutputStream out,
        OutputStream err,
        Charset charset,
        boolean outIsTerminal,
        boolean errIsTerminal,
        boolean isScreen,
        boolean colour,
        int columns,
        LongSupplier nanoTime,
        Cleanups cleanups,
        Environment environment) {

    /** What every view must fit into. */
    public static final int LEAST_COLUMNS = 80;

    /** Wider than this, lines are hard to follow with the eye. */
    private static final int MOST_COLUMNS = 160;

    /** The process's own streams, environment and clock. */
    public static Surroundings ofProcess() {
        Environment environment = Environment.ofProcess();
        Map<String, String> variables = environment.variables();
        boolean outIsTerminal = isTerminal(1);
        return new Surroundings(
                new FileInputStream(FileDescriptor.in),
                new FileOutputStream(FileDescriptor.out),
                new FileOutputStream(FileDescriptor.err),
                consoleCharset(),
                outIsTerminal,
                isTerminal(2),
                outIsTerminal && isTerminal(0) && hasCursor(variables),
                outIsTerminal && mayColour(variables),
                columns(variables.get("COLUMNS")),
                System::nanoTime,
                new Cleanups(),
                environment);
    }

    /** How text reaches this terminal. */
    public Glyphs glyphs() {
        return new Glyphs(charset);
    }

    /**
     * Writes lines to standard output.
     *
     * @throws IOException if it cannot be written to; a reader that has gone away is no reason
     */
    public void print(List<Line> lines) throws IOException {
        StringBuilder text = new StringBuilder();
        for (Line line : lines) {
            text.append(colour ? line.coloured() : line.plain()).append('\n');
        }
        writeOut(text.toString());
    }

    /** Writes text to standard output; see {@link #print}. */
    public void writeOut(String text) throws IOException {
        try {
            out.write(text.getBytes(charset));
            out.flush();
        } catch (IOException e) {
            if (!isReaderGone(e)) {
                throw e;
            }
        }
    }

    /** Standard output for text. */
    public PrintWriter outWriter() {
        return new PrintWriter(new OutputStreamWriter(out, charset), true);
    }

    /** Standard error for text. */
    public PrintWriter errWriter() {
        return new PrintWriter(new OutputStreamWriter(err, charset), true);
    }

    /** Whether this says that nobody reads any more what is written, as when the output goes to {@code head}. */
    public static boolean isReaderGone(IOException e) {
        String message = String.valueOf(e.getMessage());
        return message.contains("Broken pipe") || message.contains("pipe is being closed");
    }

    /** Writes lines to standard error; if that fails there is nobody left to tell. */
    public void complain(List<Line> lines) {
        StringBuilder text = new StringBuilder();
        for (Line line : lines) {
            text.append(colour && errIsTerminal ? line.coloured() : line.plain())
                    .append('\n');
        }
        complain(text.toString());
    }

    /** Writes text to standard error as it is. */
    public void complain(String text) {
        try {
            err.write(text.getBytes(charset));
            err.flush();
        } catch (IOException e) {
            // Nobody left to tell.
        }
    }

    // ---- what can be shown

    static int columns(@Nullable String columns) {
        if (columns == null || !columns.matches("[0-9]{1,5}")) {
            return LEAST_COLUMNS;
        }
        return Math.max(LEAST_COLUMNS, Math.min(MOST_COLUMNS, Integer.parseInt(columns)));
    }

    /** See no-color.org: any value but an empty one asks for no colour. */
    static boolean mayColour(Map<String, String> environment) {
        boolean refused = !environment.getOrDefault("NO_COLOR", "").isEmpty();
        return !refused && hasCursor(environment);
    }

    /** Whether the terminal is more than a typewriter; Windows has no name for its own. */
    static boolean hasCursor(Map<String, String> environment) {
        boolean windows = environment.getOrDefault("OS", "").startsWith("Windows");
        String terminal = environment.getOrDefault("TERM", windows ? "windows" : "");
        return !terminal.isEmpty() && !terminal.equals("dumb");
    }

    /** The character set of the locale; Java 17 to 25 tell it by different names. */
    private static Charset consoleCharset() {
        for (String property : List.of("stdout.encoding", "sun.stdout.encoding", "native.encoding")) {
            String name = System.getProperty(property);
            if (name != null && Charset.isSupported(name)) {
                return Charset.forName(name);
            }
        }
        return StandardCharsets.US_ASCII;
    }

    private static boolean isTerminal(int descriptor) {
        try {
            String target = Files.readSymbolicLink(Path.of("/proc/self/fd/" + descriptor))
                    .toString();
            return target.startsWith("/dev/pts/") || target.startsWith("/dev/tty") || target.equals("/dev/console");
        } catch (IOException | InvalidPathException | UnsupportedOperationException e) {
            return consoleIsTerminal();
        }
    }

    /** Where there is no /proc: whether input and output both are a terminal. */
    @SuppressWarnings("SystemConsoleNull") // that a later Java always has one is seen to below
    private static boolean consoleIsTerminal() {
        Console console = System.console();
        if (console == null) {
            return false;
        }
        try {
            // From Java 22 on there is a console even without a terminal, and it can be asked.
            return (boolean) Console.class.getMethod("isTerminal").invoke(console);
        } catch (ReflectiveOperationException e) {
            return true;
        }
    }
}
