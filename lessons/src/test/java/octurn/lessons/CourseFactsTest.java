package octurn.lessons;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import java.util.zip.CRC32;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.design.Design;
import octurn.design.NamedDesigns;
import octurn.design.Scenario;
import octurn.json.DesignReader;
import octurn.json.Reading;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What the lessons say of the world, held against what is published or follows from first principles. */
class CourseFactsTest {

    /** Runs a program of a lesson to its end and answers the report. */
    private static RunReport run(String lesson, String program, String design, Map<String, Long> set) {
        Folder folder = TheCourse.folder(lesson);
        Design chip = design(folder, design);
        byte[] source = folder.read(program);
        assertThat(source).as(program).isNotNull();
        Assembly assembly = Assembler.assemble(program, source, chip, set);
        assertThat(assembly).isInstanceOf(Assembly.Assembled.class);
        Run run = Run.of(((Assembly.Assembled) assembly).program(), Scenario.QUIET, 200_000);
        run.finish();
        return RunReports.of(run);
    }

    private static Design design(Folder folder, String name) {
        return NamedDesigns.of(name).orElseGet(() -> {
            byte[] utf8 = folder.read(name);
            Reading<Design> reading = DesignReader.read(name, utf8 == null ? new byte[0] : utf8);
            return ((Reading.Accepted<Design>) reading).value();
        });
    }

    private static int word(RunReport report, int address) {
        return report.shared().getOrDefault(address, 0);
    }

    // ---- published figures

    /** 168 primes below 1000, 25 below 100 (any table of primes; OEIS A000720). */
    @ParameterizedTest
    @CsvSource({
        "primes.turn, 1000, 168",
        "primes-dealt.turn, 1000, 168",
        "primes-model.turn, 1000, 168",
        "primes-model.turn, 100, 25"
    })
    void splitASum_primes_areAsManyAsThereAre(String program, long top, int primes) {
        assertThat(word(run("split-a-sum", program, "default", Map.of("top", top)), 0))
                .isEqualTo(primes);
    }

    /** CRC-32 of "123456789" is CBF43926, as the JDK has it, too. */
    @ParameterizedTest
    @ValueSource(strings = {"check.turn", "check-model.turn"})
    void bandwidth_check_isTheCrc32OfItsText(String program) {
        CRC32 crc = new CRC32();
        crc.update("123456789".getBytes(StandardCharsets.US_ASCII));
        assertThat(crc.getValue()).isEqualTo(0xCBF43926L);

        RunReport report = run("bandwidth", program, "default", Map.of());
        for (int core = 0; core < 4; core++) {
            assertThat(Integer.toUnsignedLong(word(report, core))).isEqualTo(crc.getValue());
        }
    }

    /** The greatest common divisor as the JDK finds it; 21 in 3 divisions for 1071 and 462 (the textbooks' example). */
    @ParameterizedTest
    @CsvSource({"notes.turn, 1071, 462", "notes-model.turn, 1071, 462", "notes-model.turn, 20295, 12543"})
    void byteCode_routine_findsTheGreatestCommonDivisor(String program, long a, long b) {
        RunReport report = run("byte-code", program, "default", Map.of("pipe_a", a, "pipe_b", b));

        assertThat(word(report, 0))
                .isEqualTo(BigInteger.valueOf(a).gcd(BigInteger.valueOf(b)).intValue());
        if (a == 1071) {
            assertThat(word(report, 1)).isEqualTo(3);
        }
    }

    /** The lamp's table is 127 times the sine of 0 to 90 degrees, rounded. */
    @Test
    void pulseWidth_lampsTable_isTheSine() {
        RunReport report = run("pulse-width", "breathe.turn", "default", Map.of());

        for (int step = 0; step <= 16; step++) {
            assertThat(word(report, step)).isEqualTo((int) Math.round(127 * Math.sin(Math.PI / 2 * step / 16)));
        }
    }

    // ---- waits

    /**
     * A request at every phase of the rotation: each wait from 0 to R - 1 comes once, the mean is (R - 1) / 2. Derived;
     * it is the worst case and the mean of time-division slots, for which see Kelter and others, "Bus-Aware Multicore
     * WCET Analysis through TDMA Offset Bounds", ECRTS 2011.
     */
    @Test
    void turn_requestsAtEveryPhase_waitEachNumberOfCyclesOnce() {
        List<Long> waits = new ArrayList<>();
        for (long idle = 1; idle <= 24; idle++) {
            RunReport report = run("a-turn", "later.turn", "default", Map.of("bed", 3L, "idle", idle));
            waits.add(report.cores().get(3).waits().max());
        }

        assertThat(waits)
                .containsExactlyInAnyOrderElementsOf(
                        IntStream.range(0, 24).mapToObj(Long::valueOf).toList());
        assertThat(waits.stream().mapToLong(Long::longValue).average()).hasValue(23 / 2.0);
    }

    // ---- check number

    /** CRC-8/SMBUS of "123456789" is F4 (polynomial 07, nothing reflected), as catalogues of CRCs print it. */
    @ParameterizedTest
    @ValueSource(strings = {"seal.turn", "seal-model.turn"})
    void seal_ofTheNineDigits_isThePublishedCheckNumber(String program) {
        int crc = 0;
        for (byte letter : "123456789".getBytes(StandardCharsets.US_ASCII)) {
            crc ^= letter;
            for (int bit = 0; bit < 8; bit++) {
                crc = (crc << 1) ^ ((crc & 0x80) == 0 ? 0 : 0x107);
            }
        }

        RunReport report = run("code-at-home", program, "default", Map.of());

        assertThat(crc).isEqualTo(0xF4);
        assertThat(report.shared()).containsValue(0xF4);
    }

    // ---- lost updates

    /** With P cores and K drips each, anything from 2 to P * K can come out, and nothing else (derived). */
    @ParameterizedTest
    @CsvSource({"default, 0", "default, 7", "next-waiting, 3", "first-come, 5", "lottery, 2", "priority, 4"})
    void drips_underAnyArbiter_areFrom2ToAllOfThem(String design, long delay) {
        for (long drops : List.of(2L, 5L, 20L)) {
            for (long last : List.of(1L, 4L, 7L)) {
                RunReport report = run(
                        "lost-updates",
                        "count.turn",
                        design,
                        Map.of("first", delay % (last + 1), "last", last, "drops", drops));
                long counting = last - delay % (last + 1) + 1;
                if (counting > 1) {
                    assertThat((long) word(report, 0)).isBetween(2L, counting * drops);
                }
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {3, 5, 20, 40})
    void drips_withTheTwoHoldUps_areTwo(long drops) {
        assertThat(word(run("lost-updates", "worst.turn", "default", Map.of("drops", drops)), 0))
                .isEqualTo(2);
    }

    // ---- locks

    /** With a lock, exactly P * K. */
    @ParameterizedTest
    @ValueSource(strings = {"default", "next-waiting", "first-come", "lottery"})
    void book_withALock_isExact(String design) {
        for (String program : List.of("no-lock-model.turn", "rest-model.turn")) {
            RunReport report = run("locks", program, design, Map.of("fills", 6L, "litres", 5L));
            assertThat(word(report, 1)).isEqualTo(8 * 6 * 5);
            assertThat(word(report, 2)).isEqualTo(8 * 6);
        }
    }

    /** Peterson, "Myths about the mutual exclusion problem", Information Processing Letters 12(3), 1981: never both in. */
    @ParameterizedTest
    @ValueSource(strings = {"default", "next-waiting", "lottery", "lopsided.design.json", "lopsided-0.design.json"})
    void peterson_fromEveryBeginning_losesNothing(String design) {
        assertThat(wrongBeginnings("peterson.turn", design)).isEmpty();
    }

    /** What the lesson says of the program with two lines swapped, on chips whose cores have equally many turns. */
    @ParameterizedTest
    @ValueSource(strings = {"default", "next-waiting"})
    void turnWrittenFirst_onEvenChips_goesWellFrom150Beginnings(String design) {
        assertThat(wrongBeginnings("turn-first.turn", design)).isEmpty();
    }

    /** The control: with `turn` written before `wants`, both can be in, so the check above can fail. */
    @ParameterizedTest
    @ValueSource(strings = {"lopsided.design.json", "lopsided-0.design.json"})
    void turnWrittenFirst_onLopsidedChips_goesWrongFromSomeBeginnings(String design) {
        assertThat(wrongBeginnings("turn-first.turn", design)).isNotEmpty();
    }

    private static List<Long> wrongBeginnings(String program, String design) {
        List<Long> wrong = new ArrayList<>();
        for (long later = 1; later <= 150; later++) {
            RunReport report = run("peterson", program, design, Map.of("fills", 4L, "later", later));
            if (word(report, 3) != 8) {
                wrong.add(later);
            }
        }
        return wrong;
    }

    // ---- ring and barrier

    @ParameterizedTest
    @ValueSource(longs = {9, 36, 48})
    void ring_ofReadings_handsOverEachOnceInOrder(long readings) {
        long sum =
                IntStream.range(0, (int) readings).mapToLong(i -> 300 + 3L * i).sum();
        for (String program : List.of("ring.turn", "too-soon-model.turn")) {
            RunReport report = run("ring-buffer", program, "lottery", Map.of("readings", readings));
            assertThat((long) word(report, 10)).isEqualTo(sum);
        }
    }

    /** The same rounds reckoned one after the other. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 6, 9, 20})
    void beds_afterRounds_areThoseOfTheSameReckoningInOneThread(int rounds) {
        int[] beds = {800, 0, 0, 320, 0, 0, 0, 160};
        int[] before = beds.clone();
        for (int round = 0; round < rounds; round++) {
            before = beds.clone();
            for (int bed = 1; bed < 7; bed++) {
                beds[bed] = (before[bed - 1] + before[bed + 1]) >> 1;
            }
        }
        for (String design : List.of("default", "next-waiting", "lottery")) {
            RunReport report = run("barrier", "even-out-model.turn", design, Map.of("rounds", (long) rounds));
            Map<String, List<Integer>> words = new LinkedHashMap<>();
            words.put("now", at(report, 0));
            words.put("then", at(report, 8));

            assertThat(words)
                    .containsEntry(rounds % 2 == 0 ? "now" : "then", boxed(beds))
                    .containsEntry(rounds % 2 == 0 ? "then" : "now", boxed(before));
        }
    }

    private static List<Integer> at(RunReport report, int address) {
        return IntStream.range(address, address + 8)
                .mapToObj(i -> word(report, i))
                .toList();
    }

    private static List<Integer> boxed(int[] numbers) {
        return Arrays.stream(numbers).boxed().toList();
    }

    /** The programs of the course fit the page and hold no tabs, like those of {@code lessons/programs}. */
    @Test
    void programs_ofTheCourse_fitThePage() {
        for (String id : TheCourse.ids()) {
            Folder folder = TheCourse.folder(id);
            for (String name : folder.names()) {
                byte[] bytes = folder.read(name);
                if (name.endsWith(".turn") && bytes != null) {
                    assertThat(new String(bytes, StandardCharsets.UTF_8).lines())
                            .as("%s", Path.of(id, name))
                            .allMatch(line -> line.length() <= 80)
                            .noneMatch(line -> line.contains("\t"));
                }
            }
        }
    }
}
