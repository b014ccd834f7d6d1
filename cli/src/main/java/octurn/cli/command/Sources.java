package octurn.cli.command;

import java.nio.file.Files;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.Surroundings;
import octurn.cli.view.DiagnosticView;
import octurn.cli.view.Line;
import octurn.design.Design;
import octurn.design.Field;
import octurn.design.NamedDesigns;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.diag.Nearest;
import octurn.json.DesignReader;
import octurn.json.Reading;
import octurn.json.ScenarioReader;
import octurn.sweep.Axis;
import org.jspecify.annotations.Nullable;

/**
 * The files that a command works on: reads them, and tells on standard error what is wrong with them, of all of them at
 * once.
 */
final class Sources {

    /** A file of garbage has a mistake in each of its lines; nobody reads on so far. */
    private static final int MOST_TOLD = 1000;

    private final Surroundings surroundings;
    private final List<Diagnostic> told = new ArrayList<>();
    private boolean wrong;

    Sources(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    /**
     * The design of this file, or the one that is at hand by this name; the default one without a file; null if the file
     * has errors.
     */
    @Nullable
    Design design(@Nullable String file) {
        if (file == null) {
            return Design.DEFAULT;
        }
        Optional<Design> named = NamedDesigns.of(file);
        if (named.isPresent()) {
            return named.get();
        }
        boolean looksLikeAName = file.matches("[a-z-]+");
        if (looksLikeAName && !Files.exists(InputFiles.path(file))) {
            List<String> names =
                    NamedDesigns.all().stream().map(NamedDesigns.Named::name).toList();
            throw new Failure("%s: there is neither such a file nor a design of that name; there are %s"
                    .formatted(file, String.join(", ", names)));
        }
        return value(DesignReader.read(file, InputFiles.read(file)));
    }

    /** The scenario of this file, a quiet one without a file; null if the file has errors. */
    @Nullable
    Scenario scenario(@Nullable String file, Design design) {
        return file == null ? Scenario.QUIET : value(ScenarioReader.read(file, InputFiles.read(file), design));
    }

    /** The same for a scenario that is to be held against several designs: any pin may be in it. */
    @Nullable
    Scenario scenario(@Nullable String file) {
        return scenario(file, Field.PINS.with(Design.DEFAULT, Field.PINS.max()));
    }

    /** What a file says that was read elsewhere; null if it has errors, which are noted. */
    <T> @Nullable T value(Reading<T> reading) {
        if (reading instanceof Reading.Accepted<T> accepted) {
            told.addAll(accepted.warnings());
            return accepted.value();
        }
        told.addAll(((Reading.Refused<T>) reading).problems());
        wrong = true;
        return null;
    }

    /** The program of this file; null if it has errors. */
    @Nullable
    Program program(String file, Design design) {
        return program(file, design, Map.of());
    }

    /** The same with other values for some of its constants. */
    @Nullable
    Program program(String file, Design design, Map<String, Long> constants) {
        byte[] text = InputFiles.read(file);
        checkConstants(file, text, design, constants.keySet());
        Assembly assembly = Assembler.assemble(file, text, design, constants);
        if (assembly instanceof Assembly.Assembled assembled) {
            told.addAll(assembled.warnings());
            return assembled.program();
        }
        told.addAll(((Assembly.Rejected) assembly).errors());
        wrong = true;
        return null;
    }

    /**
     * Checks that these names, which are no fields of a design, are constants of a program.
     *
     * @throws Failure with the nearest that there is, if one is not
     */
    static void checkConstants(String file, byte[] text, Design design, Collection<String> names) {
        if (names.isEmpty() || !(Assembler.assemble(file, text, design) instanceof Assembly.Assembled assembled)) {
            return;
        }
        Set<String> constants = assembled.program().constants().keySet();
        for (String name : names) {
            if (!constants.contains(name)) {
                List<String> known = new ArrayList<>(constants);
                known.addAll(Axis.fields());
                String nearest = Nearest.of(name, known);
                throw new Failure("%s is neither a constant of %s nor a field of a design%s"
                        .formatted(
                                name,
                                assembled.program().name(),
                                nearest == null ? "" : " (did you mean %s?)".formatted(nearest)));
            }
        }
    }

    /** Notes the errors of a file that was read elsewhere. */
    void refuse(List<Diagnostic> errors) {
        told.addAll(errors);
        wrong = true;
    }

    /** Notes what else there is to say about a file. */
    void add(List<Diagnostic> diagnostics) {
        told.addAll(diagnostics);
        wrong |= diagnostics.stream().anyMatch(Diagnostic::isError);
    }

    /** Whether any file has errors. */
    boolean wrong() {
        return wrong;
    }

    /** All that there is to say about the files, in order. */
    List<Diagnostic> told() {
        return List.copyOf(told);
    }

    /** Says it on standard error. */
    void tell() {
        List<Line> lines = new ArrayList<>();
        for (Diagnostic diagnostic : told.subList(0, Math.min(MOST_TOLD, told.size()))) {
            lines.addAll(DiagnosticView.lines(diagnostic, surroundings.glyphs(), surroundings.columns()));
        }
        if (told.size() > MOST_TOLD) {
            lines.add(Line.of("and %d more".formatted(told.size() - MOST_TOLD)));
        }
        if (!lines.isEmpty()) {
            surroundings.complain(lines);
        }
    }
}
