package octurn.lessons.check;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;
import java.util.concurrent.CancellationException;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import octurn.json.DesignReader;
import octurn.json.Passage;
import octurn.json.Reading;
import octurn.lessons.Check;
import octurn.lessons.RunSetup;
import octurn.lessons.Sitting;
import octurn.lessons.Step;
import octurn.lessons.value.Measured;
import octurn.lessons.value.Unresolved;

/** Checks a student's work against its task: each check on each run. */
public final class TaskCheck {

    private final Sitting sitting;
    private final Step.Task task;
    private final Limits limits;
    private final Set<Diagnostic> diagnostics = new LinkedHashSet<>();

    private TaskCheck(Sitting sitting, Step.Task task, Limits limits) {
        this.sitting = sitting;
        this.task = task;
        this.limits = limits;
    }

    /**
     * Checks a piece of work.
     *
     * @param file what the student calls it, for messages
     * @param source its bytes; they may be anything
     * @throws Unresolved if the lesson itself has a mistake
     */
    public static CheckResult check(Sitting sitting, Step.Task task, String file, byte[] source, Limits limits)
            throws Unresolved {
        try {
            return new TaskCheck(sitting, task, limits).check(file, source);
        } catch (CancellationException e) {
            return new CheckResult.Stopped();
        }
    }

    private CheckResult check(String file, byte[] source) throws Unresolved {
        List<Program> programs = new ArrayList<>();
        for (RunSetup setup : task.on()) {
            Assembly assembly = task.isDesign() ? onDesign(file, source, setup) : onSource(file, source, setup);
            if (assembly instanceof Assembly.Assembled assembled) {
                diagnostics.addAll(assembled.warnings());
                programs.add(assembled.program());
            } else {
                diagnostics.addAll(((Assembly.Rejected) assembly).errors());
            }
        }
        if (programs.size() < task.on().size()) {
            return new CheckResult.Broken(List.copyOf(diagnostics));
        }
        List<Outcome> outcomes = new ArrayList<>();
        for (int i = 0; i < programs.size(); i++) {
            RunSetup setup = task.on().get(i);
            Measured run = Measured.run(
                    programs.get(i), setup.scenario(), Math.min(setup.cycles(), limits.cycles()), limits.stop());
            CheckedRun checked = new CheckedRun(sitting, run, on(setup));
            for (Check check : task.checks()) {
                outcomes.add(checked.outcome(check));
            }
        }
        return new CheckResult.Checked(List.copyOf(diagnostics), outcomes);
    }

    private Assembly onSource(String file, byte[] source, RunSetup setup) throws Unresolved {
        return Assembler.assemble(file, source, setup.design(), sitting.constants(setup));
    }

    private Assembly onDesign(String file, byte[] source, RunSetup setup) throws Unresolved {
        Reading<Design> reading = DesignReader.read(file, source);
        if (reading instanceof Reading.Refused<Design> refused) {
            return new Assembly.Rejected(refused.problems());
        }
        Reading.Accepted<Design> accepted = (Reading.Accepted<Design>) reading;
        diagnostics.addAll(accepted.warnings());
        OptionalInt beyond = setup.scenario().pinBeyond(accepted.value());
        if (beyond.isPresent()) {
            String message = "the design has no pin %d, to which the task's %s gives a level"
                    .formatted(beyond.getAsInt(), setup.scenarioName());
            return new Assembly.Rejected(
                    List.of(Diagnostic.error(Span.file(file), message, "give it more pins", null)));
        }
        Passage load = task.load();
        if (load == null) {
            throw new IllegalStateException("a task about a design has a program");
        }
        return Assembler.assemble(load.text(), sitting.bytes(load), accepted.value(), sitting.constants(setup));
    }

    /** Which run it is, in words; empty if there is only one. */
    private String on(RunSetup setup) throws Unresolved {
        if (task.on().size() == 1) {
            return "";
        }
        List<String> parts = new ArrayList<>();
        if (!task.isDesign()) {
            parts.add("on " + setup.designName().replaceAll("\\.design\\.json$", ""));
        }
        if (!setup.scenarioName().isEmpty()) {
            parts.add("with " + setup.scenarioName().replaceAll("\\.scenario\\.json$", ""));
        }
        sitting.constants(setup).forEach((name, value) -> parts.add("%s = %d".formatted(name, value)));
        return String.join(", ", parts);
    }
}
