package octurn.lessons.value;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.function.DoubleSupplier;
import java.util.stream.LongStream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.json.Passage;
import octurn.json.Reading;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class ExpressionTest {

    private static final String PROGRAM = """
            laps = 3

            core 0
                    fetch r1, [soil]
            back:   fetch r2, [soil + 1]
                    set   r3, -7
                    store r3, [mine + 1]
                    halt
            mine:   word 5, 0

            core 1
                    set   r1, laps
            next:   post  r1, [soil + 2]
                    again r1, next
                    halt

            core 2
                    set   r1, 16
                    write out, r1
                    write drive, r1
                    pause 10
                    set   r2, 0
                    write out, r2
                    pause 20
                    write out, r1
                    pause 10
                    write out, r2
                    pause 5
                    halt

            shared
            soil:   word 11, 22
            last:   word 99
            """;

    private static final Measured RUN = Measured.run(program(), Scenario.QUIET, 10_000, () -> false);

    private static Program program() {
        Assembly assembly = Assembler.assemble("beds.turn", PROGRAM, Design.DEFAULT);
        return ((Assembly.Assembled) assembly).program();
    }

    private static final Names NAMES = new Names() {
        private final Map<String, Double> numbers = Map.of("one", 1.0, "half", 0.5, "big", 9007199254740991.0);

        @Override
        public @Nullable Double number(String name) {
            return numbers.get(name);
        }

        @Override
        public @Nullable Measured run(String name) {
            return name.equals("a") ? RUN : null;
        }
    };

    private static Passage passage(String text) {
        Reading<Passage> reading = Passage.file("x", text.getBytes(StandardCharsets.UTF_8));
        return ((Reading.Accepted<Passage>) reading).value();
    }

    private static double value(String text) throws Unresolved {
        List<Diagnostic> problems = new ArrayList<>();
        Expression expression = Expression.parse(passage(text), problems::add);
        assertThat(problems).isEmpty();
        return expression.value(NAMES);
    }

    private static String problem(String text) {
        List<Diagnostic> problems = new ArrayList<>();
        assertThat(Expression.parse(passage(text), problems::add)).isNull();
        assertThat(problems).hasSize(1);
        return at(problems.get(0));
    }

    private static String at(Diagnostic diagnostic) {
        return "%d+%d %s"
                .formatted(diagnostic.span().column(), diagnostic.span().length(), diagnostic.message());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "1 + 2 * 3 | 7",
                "(1 + 2) * 3 | 9",
                "10 - 4 - 3 | 3",
                "7 / 2 | 3.5",
                "7 % 3 | 1",
                "-7 % 3 | -1",
                "2 - -3 | 5",
                "--3 | 3",
                "0x2A + 0b10_10 + 1_000 | 1052",
                "0.5 * 3 | 1.5",
                "min(3, 1, 2) + max(3, 1, 2) | 4",
                "round(2.5) + round(-2.5) | 0",
                "floor(-0.5) + ceil(-0.5) | -1",
                "abs(-half) | 0.5",
                "big + 0 - big + one | 1"
            })
    void expression_ofNumbers_isArithmetic(String text, double value) throws Unresolved {
        assertThat(value(text)).isEqualTo(value);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                // The two accesses of the worked example in docs/chip.md: waits of 23 and 20 cycles.
                "a.core(0).waits.min | 20",
                "a.core(0).waits.max | 23",
                "a.core(0).waits | 43",
                "a.core(0).waits.mean | 21.5",
                "a.core(0).waits.count | 2",
                "a.core(0).accesses | 2",
                "a.core(0).line(back).max | 20",
                "a.core(0).line(back - 1).max | 23",
                "a.line(5).max | 20",
                "a.line(back).number | 5",
                "a.core(0).slot | 6",
                "a.core(0).wait | 43",
                "a.core(0).register(r2) | 22",
                "a.core(0).register(2) | 22",
                "a.shared(soil + one) | 22",
                "a.shared(last) | 1",
                "a.shared(1) | 22",
                "a.address(last) | 2",
                "a.private(0, mine + 1) | -7",
                "a.private(0, mine) | 5",
                "a.constant(laps) | 3",
                "a.cost(multiply) | 4",
                "a.cores | 8",
                "a.slot | 3",
                "a.rotation | 24",
                "a.clock | 48000000",
                "a.when(request, 0, 1) | 1",
                "a.when(admit, 0, 1) | 24",
                "a.when(begin, 0, 2) | 27",
                "a.when(finish, 0, 1) | 27",
                "a.when(request, 0, 2) | 28",
                "a.when(admit, 0, back, 1) | 48",
                "a.when(admit, 1, next, 3) | 51",
                "a.owner(0) | 0",
                "a.owner(25) | 0",
                "a.owner(7 * 3 + 2) | 7",
                "a.clashes | 0",
                "a.core(1).turns.used | 3",
                "a.pin(4).rises | 2",
                "a.pin(4).falls | 2",
                // From the end of the write to drive at 3 to the end of the next write to out: 10 + 1 + 1.
                "a.pin(4).high.min | 11",
                "a.pin(4).high.max | 12",
                "a.pin(4).low.min | 21",
                "a.pin(4).period | 33",
                "a.pin(4).level(3) | 1",
                "a.pin(4).level(15) | 0"
            })
    void expression_ofARun_isWhatTheRunShows(String text, double value) throws Unresolved {
        assertThat(value(text)).isEqualTo(value);
    }

    @Test
    void waits_ofAllCores_areThoseOfEach() throws Unresolved {
        assertThat(value("a.waits")).isEqualTo(value("a.core(0).waits + a.core(1).waits"));
        assertThat(value("a.instructions"))
                .isEqualTo(value("a.core(0).instructions + a.core(1).instructions + a.core(2).instructions"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "'' | 1+1 an empty expression",
                "1 + | 4+1 the expression ends too early",
                "1 + * 2 | 5+1 \"*\" cannot stand here",
                "(1 + 2 | 7+1 the expression ends too early",
                "1 2 | 3+1 \"2\" cannot stand here",
                "1 + 3x | 5+2 \"3x\" is no number",
                "1e3 | 1+3 \"1e3\" is no number",
                "1d | 1+2 \"1d\" is no number",
                "sqrt(2) | 1+4 there is no function sqrt",
                "abs(1, 2) | 1+9 abs: 2 numbers given",
                "a.cycle | 3+5 there is no measure cycle here",
                "a.cycles.max | 10+3 there is no measure max here",
                "a.core.wait | 3+4 core: 0 given in brackets",
                "a.core(1) | 3+7 core alone is no number",
                "a.core(1).turns | 11+5 turns alone is no number",
                "a.shared() | 10+1 \")\" cannot stand here",
                "1 + \u00e9 | 5+1 \"\u00e9\" cannot stand here"
            })
    void mistake_inAnExpression_hasItsPlace(String text, String problem) {
        assertThat(problem(text)).isEqualTo(problem);
    }

    @Test
    void measure_mistyped_isSuggested() {
        List<Diagnostic> problems = new ArrayList<>();
        Expression.parse(passage("a.cycels"), problems::add);
        assertThat(problems.get(0).hint()).startsWith("did you mean cycles?");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "1 / (one - 1) | 6+7 a division by 0",
                "1 % 0 | 5+1 a division by 0",
                "two + 1 | 1+3 there is no value two",
                "1 + b.cycles | 5+1 there is no run b",
                "a.core(8).wait | 8+1 8 is not in 0..7",
                "a.core(half).wait | 8+4 0.5 is no whole number",
                "a.core(2).waits.max | 17+3 there is nothing to measure here: no access was made, or no whole pulse",
                "a.shared(sail) | 10+4 there is no label sail in the shared memory of beds.turn",
                "a.shared(soil - 1) | 10+8 that is address -1, not in 0..16383",
                "a.private(1, mine) | 14+4 there is no label mine in core 1's section of beds.turn",
                "a.core(0).line(next).max | 16+4 no line of beds.turn is so far from the label next",
                "a.line(nowhere).max | 8+7 there is no label nowhere in beds.turn",
                "a.when(sometimes, 0, 1) | 3+21 one of these must stand here: request, admit, begin, finish",
                "a.when(admit, 0, 3) | 3+17 that does not happen in this run",
                "a.when(admit, 0, 0) | 18+1 0 is not in 1..1000000000",
                "a.constant(turns) | 12+5 beds.turn has no such constant",
                "a.core(0).register(16) | 20+2 16 is not in 0..15",
                "a.pin(16).rises | 7+2 16 is not in 0..15",
                "a.pin(4).level(1000000) | 16+7 1000000 is not in 0..55"
            })
    void value_thatCannotBe_hasItsPlace(String text, String problem) {
        assertThatThrownBy(() -> value(text))
                .isInstanceOfSatisfying(
                        Unresolved.class,
                        e -> assertThat(at(e.diagnostics().get(0))).isEqualTo(problem));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"((((((((((((((((((((((((((((((((((((((((((((1", "--------------------------------------------1"
            })
    void expression_nestedWithoutEnd_isRefused(String text) {
        assertThat(problem(text)).contains("nested deeper than 40 levels");
    }

    @Test
    void expression_tooLong_isRefused() {
        assertThat(problem("1" + " + 1".repeat(125))).isEqualTo("1+501 an expression of 501 characters");
    }

    /** The page that says what can be measured leaves nothing out. */
    @ParameterizedTest
    @ValueSource(
            strings = {"a.x", "a.core(0).x", "a.waits.x", "a.line(5).x", "a.core(0).turns.x", "a.pin(4).x", "x(1)"})
    void names_inExpressions_areAllInTheManual(String text) throws IOException {
        List<Diagnostic> problems = new ArrayList<>();
        Expression.parse(passage(text), problems::add);
        String hint = Objects.requireNonNull(problems.get(0).hint());
        String manual = Files.readString(Path.of("..", "docs", "lesson-form.md"));
        for (String name : hint.substring(hint.indexOf("there are ") + 10).split(", ", -1)) {
            assertThat(manual).containsPattern("[` .]%s[`( .]".formatted(name));
        }
    }

    // ---- random expressions against another way to compute them

    static LongStream seeds() {
        return LongStream.range(1, 400);
    }

    /** An expression as text, and what it is, computed while it is made. */
    private record Made(String text, double value) {}

    @ParameterizedTest
    @MethodSource("seeds")
    void expression_atRandom_isWhatJavaComputes(long seed) throws Unresolved {
        Made made = sum(new Random(seed), 2);
        double value = made.value();
        if (Double.isNaN(value) || Double.isInfinite(value)) {
            assertThatThrownBy(() -> value(made.text())).isInstanceOf(Unresolved.class);
        } else {
            assertThat(value(made.text())).as(made.text()).isCloseTo(value, within(Math.abs(value) * 1e-12));
        }
    }

    private static Made sum(Random random, int depth) {
        Made left = product(random, depth);
        for (int i = random.nextInt(2); i > 0; i--) {
            Made right = product(random, depth);
            boolean plus = random.nextBoolean();
            left = new Made(
                    left.text() + (plus ? " + " : " - ") + right.text(),
                    plus ? left.value() + right.value() : left.value() - right.value());
        }
        return left;
    }

    private static Made product(Random random, int depth) {
        Made left = primary(random, depth);
        for (int i = random.nextInt(2); i > 0; i--) {
            Made right = primary(random, depth);
            left = switch (random.nextInt(3)) {
                case 0 -> new Made(left.text() + "*" + right.text(), left.value() * right.value());
                case 1 -> new Made(left.text() + " / " + right.text(), nanFor0(right, left.value() / right.value()));
                default -> new Made(left.text() + " % " + right.text(), nanFor0(right, left.value() % right.value()));
            };
        }
        return left;
    }

    private static double nanFor0(Made divisor, double quotient) {
        return divisor.value() == 0 ? Double.NaN : quotient;
    }

    private static Made primary(Random random, int depth) {
        if (depth == 0) {
            int number = random.nextInt(1000);
            return new Made(Integer.toString(number), number);
        }
        Made inner = sum(random, depth - 1);
        return switch (random.nextInt(5)) {
            case 0 -> new Made("(" + inner.text() + ")", inner.value());
            case 1 -> new Made("-(" + inner.text() + ")", -inner.value());
            case 2 -> new Made("abs(" + inner.text() + ")", Math.abs(inner.value()));
            case 3 -> new Made("floor(" + inner.text() + ")", Math.floor(inner.value()));
            default -> {
                Made other = primary(random, 0);
                DoubleSupplier least = () -> Math.min(inner.value(), other.value());
                yield new Made("min(" + inner.text() + ", " + other.text() + ")", least.getAsDouble());
            }
        };
    }
}
