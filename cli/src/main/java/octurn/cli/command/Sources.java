package octurn.cli.command;

import java.util.ArrayList;
import java.util.List;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.process.InputFiles;
import octurn.cli.process.Surroundings;
import octurn.cli.view.DiagnosticView;
import octurn.cli.view.Line;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.json.DesignReader;
import octurn.json.Reading;
import octurn.json.ScenarioReader;
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

    /** The design of this file, the default one without a file; null if the file has errors. */
    @Nullable
    Design design(@Nullable String file) {
        return file == null ? Design.DEFAULT : value(DesignReader.read(file, InputFiles.read(file)));
    }

    /** The scenario of this file, a quiet one without a file; null if the file has errors. */
    @Nullable
    Scenario scenario(@Nullable String file, Design design) {
        return file == null ? Scenario.QUIET : value(ScenarioReader.read(file, InputFiles.read(file), design));
    }

    private <T> @Nullable T value(Reading<T> reading) {
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
        Assembly assembly = Assembler.assemble(file, InputFiles.read(file), design);
        if (assembly instanceof Assembly.Assembled assembled) {
            told.addAll(assembled.warnings());
            return assembled.program();
        }
        told.addAll(((Assembly.Rejected) assembly).errors());
        wrong = true;
        return null;
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
