package octurn.cli.command;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import octurn.asm.Program;
import octurn.cli.process.Failure;
import octurn.cli.process.Surroundings;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.run.Run;
import octurn.sweep.Axis;
import octurn.sweep.Grid;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The options of every command that runs a program under designs, besides the program and the designs themselves. */
final class RunInputs {

    @Option(
            names = "--scenario",
            paramLabel = "FILE",
            description = "what the world does to the pins, *.scenario.json; without it nothing")
    private @Nullable String scenarioFile;

    @Option(
            names = "--cycles",
            paramLabel = "N",
            converter = RunCommand.Cycles.class,
            description = "stop after so many cycles; without it at the scenario's limit, or else at 50,000,000")
    private @Nullable Long cycles;

    @Option(
            names = "--set",
            paramLabel = "NAME=VALUE",
            description = "give a constant of the program, or a field of the design, this value; may be given again")
    private List<String> settings = List.of();

    /** The scenario; null if its file has errors. */
    @Nullable
    Scenario scenario(Sources sources, Design design) {
        return sources.scenario(scenarioFile, design);
    }

    /** The same for several designs. */
    @Nullable
    Scenario scenario(Sources sources) {
        return sources.scenario(scenarioFile);
    }

    @Nullable
    String scenarioFile() {
        return scenarioFile;
    }

    /** The cycle at which a run ends at the latest. */
    long limit(Scenario scenario) {
        return cycles != null ? cycles : scenario.limit().orElse(Run.DEFAULT_LIMIT);
    }

    /** What is said of a run that the limit ended, if nobody had chosen the limit. */
    boolean defaultLimit(Scenario scenario) {
        return cycles == null && scenario.limit().isEmpty();
    }

    /**
     * What {@code --set} says.
     *
     * @throws Failure if that cannot be
     */
    List<Axis> settings() {
        return axes("--set", settings);
    }

    /** What an option says that takes names with values. */
    static List<Axis> axes(String option, List<String> texts) {
        List<Axis> axes = new ArrayList<>();
        for (String text : texts) {
            try {
                axes.add(Axis.parse(text));
            } catch (IllegalArgumentException e) {
                throw new Failure("%s %s".formatted(option, e.getMessage()));
            }
        }
        return axes;
    }

    /**
     * This design, and the constants of the program, as {@code --set} says.
     *
     * @throws Failure if that cannot be
     */
    Setting set(Design design) {
        if (settings.isEmpty()) {
            return new Setting(design, Map.of());
        }
        try {
            Grid grid = new Grid(design, settings(), List.of());
            return new Setting(grid.design(0), grid.constants(0));
        } catch (IllegalArgumentException e) {
            throw new Failure("--set " + e.getMessage());
        }
    }

    /**
     * Reads all files of one run, and tells what is wrong with them; null if anything is.
     *
     * @param designFile null for the default design
     */
    @Nullable
    Prepared prepare(Surroundings surroundings, String programFile, @Nullable String designFile) {
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        Setting setting = design == null ? null : set(design);
        Scenario scenario = setting == null ? null : scenario(sources, setting.design());
        Program program = setting == null ? null : sources.program(programFile, setting.design(), setting.constants());
        sources.tell();
        return program == null || scenario == null ? null : new Prepared(program, scenario);
    }

    /** A program, assembled for its design, and what the world does to its pins. */
    record Prepared(Program program, Scenario scenario) {}

    /** What is run: a design, and the constants of the program with a value of their own. */
    record Setting(Design design, Map<String, Long> constants) {}

    /** Those that are not null. */
    static List<String> given(@Nullable String... files) {
        return Arrays.stream(files)
                .filter(Objects::nonNull)
                .map(Objects::requireNonNull)
                .toList();
    }
}
