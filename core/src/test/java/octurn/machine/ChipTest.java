package octurn.machine;

import java.util.List;
import java.util.OptionalLong;
import octurn.design.Input;
import octurn.design.Scenario;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * A test of the chip's rules: small programs are run to their end and asked what happened. All of it is done with
 * every engine.
 */
@ParameterizedClass
@EnumSource
public abstract class ChipTest {

    private static final long LIMIT = 1_000_000;

    @Parameter
    Engines engine;

    /** Runs a program on the default design. */
    protected Trial run(String text) {
        return run(TestDesign.design(), text);
    }

    /** Runs a program with nothing happening outside. */
    protected Trial run(TestDesign design, String text) {
        return run(design, Scenario.QUIET, text);
    }

    /** Runs a program; the scenario's limit holds if it has one. */
    protected Trial run(TestDesign design, Scenario scenario, String text) {
        return Trial.of(engine, design.build(), scenario, scenario.limit().orElse(LIMIT), text);
    }

    /** Nothing but a cycle limit. */
    protected static Scenario limit(long cycles) {
        return new Scenario(OptionalLong.of(cycles), List.of());
    }

    /** What the world gives the pins. */
    protected static Scenario inputs(Input... inputs) {
        return new Scenario(OptionalLong.empty(), List.of(inputs));
    }

    /**
     * One pin's levels from outside.
     *
     * @param changes cycle, level, cycle, level ..
     */
    protected static Input input(int pin, long... changes) {
        Input.Change[] list = new Input.Change[changes.length / 2];
        for (int i = 0; i < list.length; i++) {
            list[i] = new Input.Change(changes[2 * i], (int) changes[2 * i + 1]);
        }
        return new Input.Changes(pin, List.of(list));
    }
}
