package octurn.lessons;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.lessons.value.Expression;

/**
 * What a program runs on.
 *
 * @param designName as the lesson names the design: one that is at hand by its name, or a file
 * @param scenarioName the scenario's file; empty where the world is quiet
 * @param cycles the cycle at which the run ends at the latest
 * @param set values for constants of the program, by name
 */
public record RunSetup(
        String designName,
        Design design,
        String scenarioName,
        Scenario scenario,
        long cycles,
        Map<String, Expression> set) {
    public RunSetup {
        set = Collections.unmodifiableMap(new LinkedHashMap<>(set));
    }
}
