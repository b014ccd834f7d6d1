package octurn.lessons.value;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;

/** The functions of expressions. */
enum Function {
    MIN(1, Integer.MAX_VALUE, numbers -> Arrays.stream(numbers).min().orElseThrow()),
    MAX(1, Integer.MAX_VALUE, numbers -> Arrays.stream(numbers).max().orElseThrow()),
    ABS(1, 1, numbers -> Math.abs(numbers[0])),
    /** To the nearest whole number, halves away from 0. */
    ROUND(1, 1, numbers -> Math.signum(numbers[0]) * Math.floor(Math.abs(numbers[0]) + 0.5)),
    FLOOR(1, 1, numbers -> Math.floor(numbers[0])),
    CEIL(1, 1, numbers -> Math.ceil(numbers[0]));

    private final int least;
    private final int most;
    private final ToDoubleFunction<double[]> compute;

    Function(int least, int most, ToDoubleFunction<double[]> compute) {
        this.least = least;
        this.most = most;
        this.compute = compute;
    }

    /** As it is written. */
    String text() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** Whether it takes so many numbers. */
    boolean takes(int count) {
        return count >= least && count <= most;
    }

    /** How many numbers it takes, in words. */
    String takes() {
        return most == 1 ? "takes one number" : "takes one number or more";
    }

    double of(double... numbers) {
        return compute.applyAsDouble(numbers);
    }

    static List<String> names() {
        return Arrays.stream(values()).map(Function::text).toList();
    }
}
