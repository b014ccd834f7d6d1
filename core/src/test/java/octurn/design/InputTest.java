package octurn.design;

import static octurn.design.Input.NEVER;
import static octurn.design.Input.NOTHING;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.Random;
import java.util.stream.LongStream;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What the outside gives a pin, cycle by cycle: {@code .} for nothing. */
class InputTest {

    private static String wave(Input input, int cycles) {
        StringBuilder wave = new StringBuilder();
        for (int cycle = 0; cycle < cycles; cycle++) {
            int level = input.at(cycle);
            wave.append(level == NOTHING ? "." : String.valueOf(level));
        }
        return wave.toString();
    }

    private static Input changes(long... pairs) {
        List<Input.Change> list = new ArrayList<>();
        for (int i = 0; i < pairs.length; i += 2) {
            list.add(new Input.Change(pairs[i], (int) pairs[i + 1]));
        }
        return new Input.Changes(2, list);
    }

    // ---- changes ----

    @Test
    void changes_beforeTheFirst_giveNothing() {
        assertThat(wave(changes(3, 1, 5, 0, 8, 1), 10)).isEqualTo("...11000" + "11");
    }

    @Test
    void changes_atCycle0_giveALevelFromTheStart() {
        assertThat(wave(changes(0, 0, 1, 1), 3)).isEqualTo("011");
    }

    @Test
    void changes_ofNone_neverGiveAnything() {
        assertThat(wave(changes(), 3)).isEqualTo("...");
        assertThat(changes().nextChange(0)).isEqualTo(NEVER);
    }

    @Test
    void changes_toTheSameLevel_areNoChange() {
        assertThat(changes(3, 1, 5, 1, 9, 0).nextChange(3)).isEqualTo(9);
    }

    @Test
    void changes_notAscending_areRefused() {
        assertThatThrownBy(() -> changes(3, 1, 3, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("changes: the cycles do not ascend");
        assertThatThrownBy(() -> changes(3, 1, 2, 0)).isInstanceOf(IllegalArgumentException.class);
    }

    // ---- square ----

    @Test
    void square_isHighAtTheBeginningOfEachPeriod() {
        assertThat(wave(new Input.Square(0, 2, 4, 1, NEVER), 12)).isEqualTo(".." + "1000" + "1000" + "10");
    }

    @Test
    void square_fromUntilOn_is0() {
        assertThat(wave(new Input.Square(0, 0, 4, 3, 6), 10)).isEqualTo("1110" + "11" + "0000");
    }

    @Test
    void square_ofHigh0_isLow_andOfHighAsLongAsThePeriod_isHigh() {
        assertThat(wave(new Input.Square(0, 1, 4, 0, NEVER), 8)).isEqualTo(".0000000");
        assertThat(wave(new Input.Square(0, 1, 4, 4, NEVER), 8)).isEqualTo(".1111111");
        assertThat(wave(new Input.Square(0, 1, 4, 9, 6), 8)).isEqualTo(".1111100");
    }

    @Test
    void square_nextChange_isItsNextEdge() {
        Input square = new Input.Square(0, 100, 10, 4, 124);

        assertThat(LongStream.of(0, 99, 100, 103, 104, 109, 110, 120, 123, 124).map(square::nextChange))
                .containsExactly(100L, 100L, 104L, 104L, 110L, 110L, 114L, 124L, 124L, NEVER);
    }

    @Test
    void square_thatEndsWhileLow_doesNotChangeAtItsEnd() {
        assertThat(new Input.Square(0, 0, 10, 4, 9).nextChange(4)).isEqualTo(NEVER);
    }

    @Test
    void square_untilNotAboveFrom_isRefused() {
        assertThatThrownBy(() -> new Input.Square(0, 5, 10, 4, 5))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("until: 5, not above from: 5");
        new Input.Square(0, 5, 10, 4, 6);
    }

    @Test
    void square_atTheGreatestNumbers_isExact() {
        long max = Input.MAX_CYCLE;
        Input square = new Input.Square(0, max, max, max, NEVER);

        assertThat(square.at(max - 1)).isEqualTo(NOTHING);
        assertThat(square.at(max)).isEqualTo(1);
        assertThat(square.nextChange(0)).isEqualTo(max);
        assertThat(square.nextChange(max)).isEqualTo(NEVER);
        // Ends its first period just beyond: 2^53 - 2 high cycles from there.
        assertThat(new Input.Square(0, max, max, max - 1, NEVER).nextChange(max))
                .isEqualTo(2 * max - 1);
    }

    // ---- serial ----

    @Test
    void serial_isHighAtRest_andSendsTheLowestBitFirst() {
        // 'A' is 0x41: start 0, then 1000 0010, stop 1.
        assertThat(wave(new Input.Serial(0, 3, 1, "A"), 16)).isEqualTo("111" + "0" + "10000010" + "1" + "111");
    }

    @Test
    void serial_eachBitLastsItsCycles() {
        assertThat(wave(new Input.Serial(0, 0, 3, "A"), 33))
                .isEqualTo("000" + "111" + "000".repeat(5) + "111" + "000" + "111" + "111");
    }

    @Test
    void serial_severalBytes_followWithoutAGap() {
        assertThat(wave(new Input.Serial(0, 0, 1, "A\0"), 22)).isEqualTo("0100000101" + "0000000001" + "11");
    }

    @Test
    void serial_text_isSentAsUtf8() {
        // U+00E9 is C3 A9 in UTF-8 (RFC 3629): 11000011 and 10101001, lowest bit first.
        assertThat(wave(new Input.Serial(0, 0, 1, "\u00e9"), 20))
                .isEqualTo("0" + "11000011" + "1" + "0" + "10010101" + "1");
    }

    @Test
    void serial_ofNoText_staysHigh() {
        Input line = new Input.Serial(0, 3, 1, "");

        assertThat(wave(line, 6)).isEqualTo("111111");
        assertThat(line.nextChange(0)).isEqualTo(NEVER);
    }

    // ---- ranges ----

    @Test
    void numbersOutOfRange_areRefusedWithNameValueAndRange() {
        long over = Input.MAX_CYCLE + 1;
        assertThat(over).isEqualTo(9007199254740992L);
        refused("pin: -1, not 0..31", () -> new Input.Changes(-1, List.of()));
        refused("pin: 32, not 0..31", () -> new Input.Changes(32, List.of()));
        refused("pin: 32, not 0..31", () -> new Input.Square(32, 0, 1, 0, NEVER));
        refused("pin: 32, not 0..31", () -> new Input.Serial(32, 0, 1, ""));
        refused("at: -1, not 0..9007199254740991", () -> new Input.Change(-1, 0));
        refused("at: 9007199254740992, not 0..9007199254740991", () -> new Input.Change(over, 0));
        refused("level: 2, not 0..1", () -> new Input.Change(0, 2));
        refused("level: -1, not 0..1", () -> new Input.Change(0, -1));
        refused("from: -1, not 0..9007199254740991", () -> new Input.Square(0, -1, 1, 0, NEVER));
        refused("period: 0, not 1..9007199254740991", () -> new Input.Square(0, 0, 0, 0, NEVER));
        refused("period: 9007199254740992, not 1..9007199254740991", () -> new Input.Square(0, 0, over, 0, NEVER));
        refused("high: -1, not 0..9007199254740991", () -> new Input.Square(0, 0, 1, -1, NEVER));
        refused("from: -1, not 0..9007199254740991", () -> new Input.Serial(0, -1, 1, ""));
        refused("cyclesPerBit: 0, not 1..1000000000", () -> new Input.Serial(0, 0, 0, ""));
        refused("cyclesPerBit: 1000000001, not 1..1000000000", () -> new Input.Serial(0, 0, 1_000_000_001, ""));
    }

    private static void refused(String message, ThrowingCallable make) {
        assertThatThrownBy(make).isInstanceOf(IllegalArgumentException.class).hasMessage(message);
    }

    // ---- nextChange against brute force ----

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 200);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void nextChange_isTheFirstLaterCycleThatDiffersFromTheOneBefore(long seed) {
        Random random = new Random(seed);
        Input input = random(random);
        int horizon = 700;

        long expected = NEVER;
        // Beyond this cycle nothing changes but endless waves, whose period is far shorter than the margin.
        for (int cycle = horizon + 200; cycle >= 0; cycle--) {
            if (cycle <= horizon) {
                assertThat(input.nextChange(cycle))
                        .as("%s after %d", input, cycle)
                        .isEqualTo(expected);
            }
            int before = cycle == 0 ? NOTHING : input.at(cycle - 1);
            if (input.at(cycle) != before) {
                expected = cycle;
            }
        }
    }

    private static Input random(Random random) {
        return switch (random.nextInt(3)) {
            case 0 -> {
                List<Input.Change> list = new ArrayList<>();
                long at = random.nextInt(4);
                for (int i = random.nextInt(12); i > 0; i--) {
                    list.add(new Input.Change(at, random.nextInt(2)));
                    at += 1 + random.nextInt(random.nextBoolean() ? 2 : 50);
                }
                yield new Input.Changes(0, list);
            }
            case 1 -> {
                long from = random.nextInt(100);
                long period = 1L + random.nextInt(random.nextBoolean() ? 4 : 60);
                long until = random.nextBoolean() ? NEVER : from + 1 + random.nextInt(500);
                yield new Input.Square(0, from, period, random.nextInt((int) period + 3), until);
            }
            default -> {
                String text = "Uo\0~\u00e9\uD83C\uDF31".substring(0, random.nextInt(6));
                yield new Input.Serial(0, random.nextInt(100), 1 + random.nextInt(6), text);
            }
        };
    }

    // ---- scenarios ----

    @Test
    void scenario_pinTwice_isRefused() {
        assertThatThrownBy(() ->
                        new Scenario(OptionalLong.empty(), List.of(changes(1, 1), new Input.Serial(2, 0, 1, "x"))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("pin: 2 is given twice");
    }

    @Test
    void scenario_limit_isFrom1To2To53Less1() {
        new Scenario(OptionalLong.of(1), List.of());
        new Scenario(OptionalLong.of(9007199254740991L), List.of());
        for (long limit : new long[] {0, -1, 9007199254740992L}) {
            assertThatThrownBy(() -> new Scenario(OptionalLong.of(limit), List.of()))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("limit: %d, not 1..9007199254740991", limit);
        }
    }

    @Test
    void quietScenario_givesNothing() {
        assertThat(Scenario.QUIET.inputs()).isEmpty();
        assertThat(Scenario.QUIET.limit()).isEmpty();
    }
}
