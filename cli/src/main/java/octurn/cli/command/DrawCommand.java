package octurn.cli.command;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import octurn.asm.Program;
import octurn.cli.draw.Drawing;
import octurn.cli.draw.Palette;
import octurn.cli.draw.Size;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.ExcerptView;
import octurn.cli.view.ExcerptWords;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Line;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.excerpt.Excerpt;
import octurn.excerpt.Recorder;
import octurn.machine.End;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.TypeConversionException;

/** {@code octurn draw}: draws a stretch of a run as a timeline. */
@Command(
        name = "draw",
        customSynopsis = {
            "octurn draw PROGRAM [--output FILE.svg|FILE.png|FILE.txt]",
            "                   [--from CYCLE] [--to CYCLE] [--cores LIST]",
            "                   [--pins LIST] [--no-labels] [--size slide|page]",
            "                   [--colours light|dark|grey] [--width COLUMNS]",
            "                   [--design FILE] [--scenario FILE] [--cycles N]",
            "                   [--set NAME=VALUE].."
        },
        description = "Draws a stretch of a run as a timeline: a lane for each core over the cycles, with its turns,"
                + " waits, accesses and instructions, the pins, and the words that go from core to core. As a picture"
                + " for a slide or a printed page, or as text. Without --to it draws as many cycles as are"
                + " easy to read; long stretches are drawn with several cycles in a column.",
        exitCodeList = {"0:drawn", "1:an internal error", "2:bad usage, a file with errors, or no such cycles"})
final class DrawCommand implements Callable<Integer> {

    /** Cycles that make a readable picture: this many, or two rotations, but not above the second. */
    private static final long READABLE = 72;

    private static final long MOST_READABLE = 120;

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = {"-o", "--output"},
            paramLabel = "FILE",
            description = "draw to FILE.svg (text stays text), FILE.png or FILE.txt, whole or not at all;"
                    + " without it, as text on standard output")
    private @Nullable String file;

    @Option(
            names = "--from",
            paramLabel = "CYCLE",
            converter = CycleNumber.class,
            description = "the first cycle drawn; without it 0")
    private @Nullable Long from;

    @Option(
            names = "--to",
            paramLabel = "CYCLE",
            converter = CycleNumber.class,
            description = "the cycle that ends the drawing, itself not drawn; without it as far on as is easy to read")
    private @Nullable Long to;

    @Option(
            names = "--cores",
            paramLabel = "LIST",
            description = "whose lanes, as 0, 2 or 1..3 or all; without it all that are not idle all the time")
    private @Nullable String coreList;

    @Option(
            names = "--pins",
            paramLabel = "LIST",
            description = "which pins, likewise, or none; without it those on which anything changes")
    private @Nullable String pinList;

    @Option(names = "--no-labels", description = "do not write the instructions below the lanes")
    private boolean noLabels;

    @Option(
            names = "--size",
            paramLabel = "slide|page",
            converter = SizeWord.class,
            completionCandidates = SizeWord.class,
            description = "a picture for a slide, 16 to 9 where the lanes allow it, or for a printed page, 180 mm wide;"
                    + " without it for a slide")
    private @Nullable Size size;

    @Option(
            names = "--colours",
            paramLabel = "light|dark|grey",
            converter = PaletteWord.class,
            completionCandidates = PaletteWord.class,
            description = "a picture on white, on near black, or without colours; without it on white")
    private @Nullable Palette palette;

    @Option(
            names = "--width",
            paramLabel = "COLUMNS",
            converter = Columns.class,
            description = "how wide text may get, 40..500; without it 80, or as wide as the terminal")
    private @Nullable Integer width;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the chip's design, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final RunInputs inputs = new RunInputs();

    DrawCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    // ---- words of the command line

    /** A width of text. */
    static final class Columns implements ITypeConverter<Integer> {
        @Override
        public Integer convert(String value) {
            if (value.matches("[0-9]{1,4}")) {
                int columns = Integer.parseInt(value);
                if (columns >= 40 && columns <= 500) {
                    return columns;
                }
            }
            throw new TypeConversionException("--width: %s is not a whole number in 40..500".formatted(value));
        }
    }

    /** A word for a size. */
    static final class SizeWord implements ITypeConverter<Size>, Iterable<String> {
        @Override
        public Size convert(String value) {
            return Arrays.stream(Size.values())
                    .filter(one -> one.word().equals(value))
                    .findFirst()
                    .orElseThrow(
                            () -> new TypeConversionException("--size: %s is not one of slide, page".formatted(value)));
        }

        @Override
        public Iterator<String> iterator() {
            return Arrays.stream(Size.values()).map(Size::word).iterator();
        }
    }

    /** A word for a palette. */
    static final class PaletteWord implements ITypeConverter<Palette>, Iterable<String> {
        @Override
        public Palette convert(String value) {
            return Arrays.stream(Palette.values())
                    .filter(one -> one.word().equals(value))
                    .findFirst()
                    .orElseThrow(() -> new TypeConversionException(
                            "--colours: %s is not one of light, dark, grey".formatted(value)));
        }

        @Override
        public Iterator<String> iterator() {
            return Arrays.stream(Palette.values()).map(Palette::word).iterator();
        }
    }

    /**
     * The numbers of a list as it stands in a program's {@code core} line: {@code 0}, {@code 0, 2}, {@code 1..3, 6},
     * {@code all}.
     *
     * @param what they number, as in "core"
     * @param count they are below this
     */
    static List<Integer> numbers(String option, String what, String list, int count) {
        TreeSet<Integer> numbers = new TreeSet<>();
        for (String part : list.split(",", -1)) {
            String stripped = part.strip();
            if (stripped.equals("all")) {
                for (int i = 0; i < count; i++) {
                    numbers.add(i);
                }
                continue;
            }
            if (!stripped.matches("[0-9]{1,4}(\\s*\\.\\.\\s*[0-9]{1,4})?")) {
                throw new Failure("%s: %s is not a list of %ss, as 0, 2 or 1..3 or all"
                        .formatted(option, stripped.isEmpty() ? "'" + list + "'" : stripped, what));
            }
            String[] ends = stripped.split("\\.\\.", -1);
            int first = Integer.parseInt(ends[0].strip());
            int last = Integer.parseInt(ends[ends.length - 1].strip());
            if (last >= count) {
                throw new Failure(
                        count == 0
                                ? "%s: this chip has no %ss".formatted(option, what)
                                : "%s: there is no %s %d, but 0..%d".formatted(option, what, last, count - 1));
            }
            if (first > last) {
                throw new Failure("%s: %s runs backwards".formatted(option, stripped));
            }
            for (int i = first; i <= last; i++) {
                numbers.add(i);
            }
        }
        return new ArrayList<>(numbers);
    }

    // ---- drawing

    private enum Kind {
        SVG,
        PNG,
        TEXT
    }

    private Kind kind() {
        if (file == null || file.equals("-")) {
            return Kind.TEXT;
        }
        String name = file.toLowerCase(Locale.ROOT);
        if (name.endsWith(".svg")) {
            return Kind.SVG;
        }
        if (name.endsWith(".png")) {
            return Kind.PNG;
        }
        if (name.endsWith(".txt")) {
            return Kind.TEXT;
        }
        throw new Failure("--output: %s is neither *.svg nor *.png nor *.txt".formatted(file));
    }

    @Override
    public Integer call() throws IOException {
        Kind kind = kind();
        if (kind == Kind.TEXT && (size != null || palette != null)) {
            throw new Failure("%s is for pictures: give -o FILE.svg or -o FILE.png"
                    .formatted(size != null ? "--size" : "--colours"));
        }
        if (kind != Kind.TEXT && width != null) {
            throw new Failure("--width is for text; a picture has a --size");
        }
        if (from != null && to != null && to <= from) {
            throw new Failure("--from %d --to %d: there is no cycle between them".formatted(from, to));
        }
        if (to != null && to == 0) {
            throw new Failure("--to 0: there is no cycle before it");
        }
        RunInputs.Prepared prepared = inputs.prepare(surroundings, programFile, designFile);
        if (prepared == null) {
            return Exit.USAGE;
        }
        Program program = prepared.program();
        Scenario scenario = prepared.scenario();
        draw(kind, program, scenario);
        return Exit.OK;
    }

    private void draw(Kind kind, Program program, Scenario scenario) throws IOException {
        Design design = program.design();
        List<Integer> cores = coreList == null ? null : numbers("--cores", "core", coreList, design.cores());
        List<Integer> pins = pinList == null
                ? null
                : pinList.equals("none") ? List.of() : numbers("--pins", "pin", pinList, design.pins());
        int columns = width != null
                ? width
                : surroundings.outIsTerminal() && file == null ? surroundings.columns() : Surroundings.LEAST_COLUMNS;
        Size chosen = size == null ? Size.SLIDE : size;
        long exact = kind == Kind.TEXT ? ExcerptView.exactCycles(columns) : Drawing.exactCycles(chosen);
        int merged = kind == Kind.TEXT ? ExcerptView.mergedColumns(columns) : Drawing.mergedColumns(chosen);

        OutputFile output = file == null
                ? null
                : OutputFile.open(file, surroundings, RunInputs.given(programFile, designFile, inputs.scenarioFile()));
        try (output) {
            Excerpt excerpt = excerpt(program, scenario, readable(design, exact), exact, merged);
            List<Integer> drawnCores = cores == null ? ExcerptWords.busyCores(excerpt) : cores;
            List<Integer> drawnPins = pins == null ? ExcerptWords.busyPins(excerpt) : pins;
            if (kind == Kind.TEXT) {
                Glyphs glyphs = output == null || output.isStandardOutput()
                        ? surroundings.glyphs()
                        : new Glyphs(StandardCharsets.UTF_8);
                List<Line> lines = ExcerptView.lines(excerpt, drawnCores, drawnPins, !noLabels, glyphs, columns);
                if (output == null || output.isStandardOutput()) {
                    surroundings.print(lines);
                } else {
                    output.write(out -> {
                        for (Line line : lines) {
                            out.write((line.plain() + "\n").getBytes(StandardCharsets.UTF_8));
                        }
                    });
                }
            } else if (output != null) {
                Drawing.Wish wish = new Drawing.Wish(
                        drawnCores, drawnPins, !noLabels, chosen, palette == null ? Palette.LIGHT : palette);
                Drawing.Format format = kind == Kind.SVG ? Drawing.Format.SVG : Drawing.Format.PNG;
                output.write(out -> Drawing.write(excerpt, wish, format, out));
            }
        }
    }

    /** How many cycles to draw where nobody says. */
    private static long readable(Design design, long exact) {
        long rotations = design.admission() instanceof Admission.Rotation ? 2L * design.rotationCycles() : 0;
        return Math.min(exact, Math.min(MOST_READABLE, Math.max(READABLE, rotations)));
    }

    private Excerpt excerpt(Program program, Scenario scenario, long readable, long exact, int merged) {
        long limit = inputs.limit(scenario);
        long first = from != null ? from : 0;
        long last = to != null ? to : Math.min(Input.MAX_CYCLE, first + readable);
        ProgressLine progress = new ProgressLine(surroundings);
        Recorder.Mover mover = (run, cycle) -> progress.runTo(run, cycle, () -> false);
        long span = last - first;
        Excerpt excerpt =
                Recorder.take(program, scenario, limit, first, last, cyclesAColumn(span, exact, merged), mover);
        if (excerpt.cycles() == 0) {
            End ended = excerpt.ended();
            String why = ended == End.LIMIT && inputs.defaultLimit(scenario)
                    ? " at its limit; --cycles gives another"
                    : " (" + (ended == null ? "limit" : ended.text()) + ")";
            throw new Failure("--from %,d: the run ends at cycle %,d%s".formatted(first, excerpt.to(), why));
        }
        // A run that ends early leaves room: what is there may be drawn finer.
        long finer = cyclesAColumn(excerpt.cycles(), exact, merged);
        return finer == excerpt.cyclesAColumn()
                ? excerpt
                : Recorder.take(program, scenario, limit, first, excerpt.to(), finer, mover);
    }

    /** 1 if the cycles can be drawn one by one; else the least round number with which the columns suffice. */
    private static long cyclesAColumn(long cycles, long exact, int columns) {
        if (cycles <= exact) {
            return 1;
        }
        for (long power = 1; ; power *= 10) {
            for (long factor : new long[] {1, 2, 3, 4, 5, 6, 8}) {
                if (factor * power > 1 && (cycles + factor * power - 1) / (factor * power) <= columns) {
                    return factor * power;
                }
            }
        }
    }
}
