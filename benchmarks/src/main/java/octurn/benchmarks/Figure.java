package octurn.benchmarks;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * One row of the table of figures: what is measured, and what it should reach.
 *
 * @param name as the table calls it; unique
 * @param benchmark the class that measures it
 * @param method its method
 * @param parameters the benchmark's, where they are not its defaults
 * @param unit of the figure
 * @param aim what it should reach
 * @param inShort whether the short form has it
 */
record Figure(
        String name,
        Class<?> benchmark,
        String method,
        Map<String, String> parameters,
        Unit unit,
        Aim aim,
        boolean inShort) {

    /** What a figure counts, and which way is better. */
    enum Unit {
        MEGACYCLES("million cycles/s", true),
        MILLISECONDS("ms", false),
        WORST_MILLISECONDS("ms at worst", false);

        private final String text;
        private final boolean moreIsBetter;

        Unit(String text, boolean moreIsBetter) {
            this.text = text;
            this.moreIsBetter = moreIsBetter;
        }

        String text() {
            return text;
        }

        /** Whether a figure is as good as a limit or better. */
        boolean reaches(double figure, double limit) {
            return moreIsBetter ? figure >= limit : figure <= limit;
        }
    }

    /**
     * What a figure should reach.
     *
     * @param limit a number, or a share of another figure; 0 for none
     * @param of that other figure's name, or null
     */
    record Aim(double limit, @Nullable String of) {

        static final Aim NONE = new Aim(0, null);

        static Aim of(double limit) {
            return new Aim(limit, null);
        }

        static Aim half(String name) {
            return new Aim(0.5, name);
        }

        /** The limit as a number, or 0 if there is none or the other figure was not measured. */
        double in(Map<String, Double> figures) {
            return of == null ? limit : limit * figures.getOrDefault(of, 0.0);
        }
    }

    private static final String SHARED = "fetch, add, post; 8 cores, rotation";
    private static final String IRREGULAR = "the same after random work; 8 cores, rotation";

    /** All rows, in the order of the table; one that another's aim refers to comes before it. */
    static final List<Figure> ALL = List.of(
            engine("plain instructions; 8 cores, rotation", "PLAIN", "rotation", 8, Aim.of(150), true),
            engine(SHARED, "SHARED", "rotation", 8, Aim.of(1000), true),
            engine("asleep but for a few instructions a ms; 8 cores", "ASLEEP", "rotation", 8, Aim.of(10_000), true),
            shared("next-waiting"),
            shared("priority"),
            shared("first-come"),
            shared("lottery"),
            shared("own-port"),
            engine(IRREGULAR, "IRREGULAR", "rotation", 8, Aim.NONE, true),
            irregular("next-waiting"),
            irregular("priority"),
            irregular("first-come"),
            irregular("lottery"),
            irregular("own-port"),
            engine("plain instructions; 1 core", "PLAIN", "rotation", 1, Aim.NONE, false),
            engine("plain instructions; 32 cores", "PLAIN", "rotation", 32, Aim.NONE, false),
            engine("fetch, add, post; 1 core", "SHARED", "rotation", 1, Aim.NONE, false),
            engine("fetch, add, post; 32 cores", "SHARED", "rotation", 32, Aim.NONE, false),
            clear("clear engine: plain instructions", "PLAIN", true),
            clear("clear engine: fetch, add, post", "SHARED", true),
            clear("clear engine: asleep", "ASLEEP", false),
            new Figure(
                    "a step back anywhere in 100 million cycles, 256 MB",
                    StepBackBenchmark.class,
                    "stepBack",
                    Map.of("load", "SHARED"),
                    Unit.WORST_MILLISECONDS,
                    Aim.of(50),
                    false),
            new Figure(
                    "a jump to anywhere in 100 million cycles, 256 MB",
                    StepBackBenchmark.class,
                    "jump",
                    Map.of("load", "SHARED"),
                    Unit.WORST_MILLISECONDS,
                    Aim.NONE,
                    false),
            tool("assembling a source of 1 MiB", "assemble"),
            tool("saving and restoring a chip", "saveAndRestore"),
            tool("a run's report", "report"),
            tool("a point of a sweep, 100,000 cycles", "sweepPoint"));

    private static Figure engine(String name, String load, String policy, int cores, Aim aim, boolean inShort) {
        Map<String, String> parameters =
                Map.of("engine", "FAST", "load", load, "policy", policy, "cores", Integer.toString(cores));
        return new Figure(name, EngineBenchmark.class, "run", parameters, Unit.MEGACYCLES, aim, inShort);
    }

    private static Figure shared(String policy) {
        return engine("fetch, add, post; 8 cores, " + policy, "SHARED", policy, 8, Aim.half(SHARED), true);
    }

    private static Figure irregular(String policy) {
        String name = "the same after random work; 8 cores, " + policy;
        return engine(name, "IRREGULAR", policy, 8, Aim.half(IRREGULAR), false);
    }

    private static Figure clear(String name, String load, boolean inShort) {
        Map<String, String> parameters = Map.of("engine", "CLEAR", "load", load, "policy", "rotation");
        return new Figure(name, EngineBenchmark.class, "run", parameters, Unit.MEGACYCLES, Aim.NONE, inShort);
    }

    private static Figure tool(String name, String method) {
        return new Figure(name, ToolsBenchmark.class, method, Map.of(), Unit.MILLISECONDS, Aim.NONE, true);
    }
}
