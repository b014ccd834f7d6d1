package octurn.cli;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.OutputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicLong;
import octurn.cli.command.Application;
import octurn.cli.process.Cleanups;
import octurn.cli.process.Environment;
import octurn.cli.process.Surroundings;

/** Runs commands in this process, in surroundings as a test wants them. */
public final class Shell {

    private Charset charset = StandardCharsets.UTF_8;
    private boolean terminal;
    private boolean colour;
    private int columns = 80;
    private long nanosBetweenLooks;
    private String in = "";
    private Path home = Path.of("no such home");
    private final Map<String, String> environment = new TreeMap<>();

    /** What came of a command. */
    public record Outcome(int exit, String out, String err) {}

    /** Output in this character set. */
    public Shell charset(Charset newCharset) {
        charset = newCharset;
        return this;
    }

    /** Output to a terminal so wide. */
    public Shell terminal(int newColumns) {
        terminal = true;
        columns = newColumns;
        return this;
    }

    /** A terminal that shows colours. */
    public Shell colour() {
        terminal = true;
        colour = true;
        return this;
    }

    /** Standard input. */
    public Shell in(String lines) {
        in = lines;
        return this;
    }

    /** The user's home folder. */
    public Shell home(Path folder) {
        home = folder;
        return this;
    }

    /** A variable of the environment. */
    public Shell variable(String name, String value) {
        environment.put(name, value);
        return this;
    }

    /** A clock that goes on by so much whenever it is looked at. */
    public Shell slowly(long nanos) {
        nanosBetweenLooks = nanos;
        return this;
    }

    /** Surroundings whose output nobody reads. */
    public Surroundings surroundings() {
        return surroundings(new ByteArrayOutputStream(), new ByteArrayOutputStream());
    }

    private Surroundings surroundings(OutputStream out, OutputStream err) {
        AtomicLong time = new AtomicLong();
        return new Surroundings(
                new ByteArrayInputStream(in.getBytes(charset)),
                out,
                err,
                charset,
                terminal,
                terminal,
                false,
                colour,
                columns,
                () -> time.addAndGet(nanosBetweenLooks),
                new Cleanups(),
                new Environment(environment, "Linux", home, null));
    }

    /** Runs one command. */
    public Outcome run(String... args) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        int exit = new Application(surroundings(out, err)).run(args);
        return new Outcome(exit, out.toString(charset), err.toString(charset));
    }
}
