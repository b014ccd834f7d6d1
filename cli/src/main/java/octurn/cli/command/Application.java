package octurn.cli.command;

import java.io.IOException;
import java.util.List;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Ink;
import octurn.cli.view.Line;
import picocli.CommandLine;

/** Runs one command line. Every exception ends here, as one line and an exit code. */
public final class Application {

    private final Surroundings surroundings;

    /** An application in these surroundings. */
    public Application(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    /** Runs the command and returns its exit code. */
    public int run(String... args) {
        try {
            CommandLine line = Commands.commandLine(surroundings, args);
            line.setParameterExceptionHandler((e, given) -> fail(Usage.message(e, given)));
            line.setExecutionExceptionHandler((e, command, result) -> failed(e));
            return line.execute(args);
        } catch (RuntimeException | Error e) {
            return failed(e);
        }
    }

    private int failed(Throwable e) {
        if (e instanceof Failure failure) {
            return fail(failure.line());
        }
        if (e instanceof IOException failure) {
            return fail("standard output: " + InputFiles.reason(failure));
        }
        if (e instanceof OutOfMemoryError) {
            complain("not enough memory; give Java more with OCTURN_JAVA_OPTS=-Xmx..");
            return Exit.INTERNAL_ERROR;
        }
        complain("internal error, a mistake of ours: " + e + where(e));
        return Exit.INTERNAL_ERROR;
    }

    private static String where(Throwable e) {
        StackTraceElement[] trace = e.getStackTrace();
        return trace.length == 0 ? "" : " at " + trace[0];
    }

    private int fail(String message) {
        complain(message);
        return Exit.USAGE;
    }

    private void complain(String message) {
        surroundings.complain(List.of(
                Line.of(Ink.ALARM, "octurn:").and(" " + surroundings.glyphs().visible(message))));
    }
}
