package octurn.cli.stepper;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.view.Frame;
import octurn.cli.view.Glyphs;
import octurn.cli.view.StepScreen;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.json.DesignReader;
import octurn.json.Reading;
import octurn.json.ScenarioReader;
import octurn.run.Progress;
import octurn.run.Timeline;

/** Steppers to try out. */
public final class Steppers {

    public static final Glyphs UNICODE = new Glyphs(StandardCharsets.UTF_8);
    public static final Glyphs ASCII = new Glyphs(StandardCharsets.US_ASCII);

    private static final Path PROGRAMS = Path.of("..", "lessons", "programs");
    private static final Path CASES = Path.of("..", "core", "src", "test", "resources", "octurn", "cases");
    private static final long LIMIT = 50_000_000;

    private Steppers() {}

    /** One on a program of the lessons, under the default design. */
    public static Stepper lesson(String name) {
        return of(name, read(PROGRAMS.resolve(name)), Design.DEFAULT, Scenario.QUIET, UNICODE);
    }

    /** The same where the terminal can show these. */
    public static Stepper lesson(String name, Glyphs glyphs) {
        return of(name, read(PROGRAMS.resolve(name)), Design.DEFAULT, Scenario.QUIET, glyphs);
    }

    /** One on a program of the lessons, under a design of the lessons. */
    public static Stepper lesson(String name, String design) {
        return of(name, read(PROGRAMS.resolve(name)), design(PROGRAMS.resolve(design)), Scenario.QUIET, UNICODE);
    }

    /** One on a program of the lessons with a scenario of theirs. */
    public static Stepper lessonWithScenario(String name, String scenario) {
        Reading<Scenario> reading = ScenarioReader.read(scenario, read(PROGRAMS.resolve(scenario)), Design.DEFAULT);
        return of(
                name,
                read(PROGRAMS.resolve(name)),
                Design.DEFAULT,
                ((Reading.Accepted<Scenario>) reading).value(),
                UNICODE);
    }

    /** One on a golden case. */
    public static Stepper goldenCase(int number) {
        String name = "%02d".formatted(number);
        Design design = design(CASES.resolve(name + ".design.json"));
        Path scenario = CASES.resolve(name + ".scenario.json");
        Reading<Scenario> reading = ScenarioReader.read(name, read(scenario), design);
        return of(
                name + ".turn",
                read(CASES.resolve(name + ".turn")),
                design,
                ((Reading.Accepted<Scenario>) reading).value(),
                UNICODE);
    }

    /** One on a text. */
    public static Stepper text(String text) {
        return of("test.turn", text.getBytes(StandardCharsets.UTF_8), Design.DEFAULT, Scenario.QUIET, UNICODE);
    }

    public static Stepper of(String name, byte[] text, Design design, Scenario scenario, Glyphs glyphs) {
        Assembly assembly = Assembler.assemble(name, text, design);
        if (!(assembly instanceof Assembly.Assembled assembled)) {
            throw new AssertionError(assembly);
        }
        Program program = assembled.program();
        Timeline timeline = Timeline.of(program, scenario, scenario.limit().orElse(LIMIT));
        return new Stepper(timeline, ScriptFiles.NONE, glyphs);
    }

    private static Design design(Path file) {
        return ((Reading.Accepted<Design>) DesignReader.read(file.toString(), read(file))).value();
    }

    private static byte[] read(Path file) {
        try {
            return Files.readAllBytes(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Does these commands, each of which must be fine. */
    public static Stepper doing(Stepper stepper, String... commands) {
        for (String command : commands) {
            Answer answer = stepper.run(command, Progress.NONE);
            if (answer.kind() == Answer.Kind.REFUSED) {
                throw new AssertionError(command + ": " + answer.line());
            }
        }
        return stepper;
    }

    /** The screen of a stepper. */
    public static Frame screen(Stepper stepper, int columns, int rows, Glyphs glyphs) {
        return StepScreen.render(stepper.scene(rows, columns, null), rows, columns, glyphs);
    }
}
