package octurn.json;

import static org.assertj.core.api.Assertions.fail;

import java.nio.charset.StandardCharsets;
import java.util.List;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;

/** Shorthand for the tests of the readers. */
final class Readings {

    private Readings() {}

    static Reading<Design> design(String json) {
        return DesignReader.read("d.json", json.getBytes(StandardCharsets.UTF_8));
    }

    static Reading<Scenario> scenario(String json) {
        return ScenarioReader.read("s.json", json.getBytes(StandardCharsets.UTF_8), Design.DEFAULT);
    }

    static <T> T accepted(Reading<T> reading) {
        if (reading instanceof Reading.Accepted<T> accepted) {
            return accepted.value();
        }
        return fail("refused: %s", problems(reading));
    }

    /** The problems as {@code line:column message}, with {@code warning} before a message that is one. */
    static List<String> problems(Reading<?> reading) {
        List<Diagnostic> problems = reading instanceof Reading.Accepted<?> accepted
                ? accepted.warnings()
                : ((Reading.Refused<?>) reading).problems();
        return problems.stream()
                .map(one -> "%d:%d %s%s"
                        .formatted(
                                one.span().line(), one.span().column(), one.isError() ? "" : "warning ", one.message()))
                .toList();
    }

    static Diagnostic onlyProblem(Reading<?> reading) {
        List<Diagnostic> problems = ((Reading.Refused<?>) reading).problems();
        if (problems.size() != 1) {
            return fail("not one problem: %s", problems(reading));
        }
        return problems.get(0);
    }
}
