package octurn.cli.command;

import org.jspecify.annotations.Nullable;

/** What the command says of itself when no command is given; a test holds it against the commands. */
public final class Help {

    /** The answer to {@code octurn --help}. */
    public static final String TEXT = """
        Usage: octurn COMMAND [OPTIONS] ..

        Octurn simulates a small teaching chip, cycle by cycle: several cores share one
        memory, and each is admitted for a slot of its own in strict rotation.

        Commands:
          run PROGRAM         run a program and report where every cycle went
          step PROGRAM        look at a run cycle by cycle, forwards and backwards
          stalls PROGRAM      explain the waits by line; time loops and regions
          draw PROGRAM        draw a stretch of a run as a timeline
          compare PROGRAM     run a program under several designs, side by side
          sweep PROGRAM       run it under every combination of given values
          merge FILE..        join the shares of a sweep
          predict [PROGRAM]   what theory says, by itself or beside a run
          workload            write a program with a given think time
          page PROGRAM        record a run as a page for a browser
          pins PROGRAM        show what the pins do: waves, pulses, a serial line
          waves PROGRAM       write the signals of a run for a waveform viewer
          check PROGRAM       look for errors in a program, and run nothing
          list PROGRAM        list a program: addresses, words, times, what they say
          design [FILE]       show a chip's design and what follows from it
          learn [LESSON]      take a course: read, predict, watch, change, check
          clock               clock arithmetic: baud rates, frequencies, pulses
          mark FOLDER         mark what a class handed in for a lesson
          lesson new|check|.. write, check, pack and unpack lessons
          completion SHELL    print a completion script for bash or zsh
          help [COMMAND]      say how a command is used

        Options:
          -h, --help          this help; after a command, the help of that command
          -V, --version       the version

        Exit status: 0 fine, 1 internal error, 2 bad usage or a file with errors,
        3 a core is in fault, 4 the run is stuck.
        """;

    private Help() {}

    /** What is said to a command line of this one word alone, or null if it is none of those that ask for help. */
    public static @Nullable String answer(String word) {
        return switch (word) {
            case "--version", "-V" -> version() + "\n";
            case "--help", "-h", "help" -> TEXT;
            default -> null;
        };
    }

    /** The answer to {@code octurn --version}. */
    public static String version() {
        String version = Help.class.getPackage().getImplementationVersion();
        return "octurn " + (version == null ? "(not packaged)" : version);
    }
}
