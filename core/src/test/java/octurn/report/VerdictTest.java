package octurn.report;

import static octurn.report.Runs.design;
import static octurn.report.Runs.report;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.report.Verdict.Limit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class VerdictTest {

    private static Verdict verdict(String text) {
        return Verdict.of(report(text));
    }

    private static Verdict verdict(String text, Design design, long limit) {
        return Verdict.of(report(text, design, limit));
    }

    @Test
    void nothing_noCoreHasASection_isSaid() {
        assertThat(verdict("shared\n word 1\n"))
                .isEqualTo(new Verdict(
                        Limit.NOTHING_RAN, "Nothing ran: no core has a section with an instruction to do."));
    }

    @Test
    void work_oneCoreOfPlainInstructions_isItsWork() {
        Verdict verdict = verdict("core 0\n set r1, 500\nmore: add r2, r2, 1\n again r1, more\n halt\n");
        assertThat(verdict.limit()).isEqualTo(Limit.WORK);
        assertThat(verdict.sentence())
                .isEqualTo("Work limits this program: core 0 spent 100 % of its 1,501 cycles at work.");
    }

    @Test
    void turns_oneCoreInRotation_saysHowMuchWorkFitsForFree() {
        Verdict verdict = verdict("core 0\n set r1, 500\nmore: fetch r2, [0]\n again r1, more\n halt\n");
        assertThat(verdict.limit()).isEqualTo(Limit.TURNS);
        assertThat(verdict.sentence())
                .startsWith("Waiting for turns limits this program: core 0 spent 75 % of its ")
                .endsWith(
                        "; the memory was busy in 12 % of all cycles, and line 3 always waited at least 18, so up to 18"
                                + " cycles of other work fit before it at no cost.");
    }

    /** What the sentence promises is kept: so much more work changes nothing, one cycle more changes all. */
    @Test
    void turns_advice_holdsWhenItIsFollowed() {
        String loop = "core 0\n set r1, 500\nmore: %s fetch r2, [0]\n again r1, more\n halt\n";
        long before = report(loop.formatted("")).cycles();
        long asAdvised = report(loop.formatted("pause 18\n")).cycles();
        long oneMore = report(loop.formatted("pause 19\n")).cycles();
        assertThat(asAdvised).isEqualTo(before);
        assertThat(oneMore).isGreaterThan(before + 490 * 24);
    }

    @Test
    void memory_onDemand_isTheLimitOnlyWhileItIsFull() {
        Design design = design(3, 8, new Admission.NextWaiting());
        String text = """
                core all
                        set   r1, 99
                more:   fetch r2, [0]
                        pause 6
                        again r1, more
                        halt
                """;
        Verdict verdict = verdict(text, design, 100_000);
        assertThat(verdict.limit()).isEqualTo(Limit.MEMORY);
        Verdict lighter = verdict(text.replace("pause 6", "pause 16"), design, 100_000);
        assertThat(lighter.limit()).isEqualTo(Limit.SLEEP);
        assertThat(lighter.sentence()).doesNotContain("at no cost");
    }

    @Test
    void slots_ownPortAndLongSlots_areTheAccessesThemselves() {
        Design design = design(2, 20, new Admission.OwnPort());
        Verdict verdict =
                verdict("core 0\n set r1, 99\nmore: fetch r2, [0]\n again r1, more\n halt\n", design, 100_000);
        assertThat(verdict.limit()).isEqualTo(Limit.SLOTS);
        assertThat(verdict.sentence())
                .startsWith("The accesses themselves limit this program: core 0 spent 87 % of its");
    }

    @ParameterizedTest
    @CsvSource({"rotation", "next-waiting"})
    void memory_allCoresAlwaysAsking_isFull(String policy) {
        Admission admission =
                policy.equals("rotation") ? new Admission.Rotation(Design.plainOrder(4)) : new Admission.NextWaiting();
        String text = "core all\n set r1, 200\nmore: fetch r2, [0]\n again r1, more\n halt\n";
        Verdict verdict = verdict(text, design(4, 3, admission), 100_000);
        assertThat(verdict.limit()).isEqualTo(Limit.MEMORY);
        assertThat(verdict.sentence())
                .startsWith("The shared memory itself limits this program: the 4 cores spent ")
                .endsWith("% of all cycles, so only fewer accesses or shorter slots would help.");
    }

    @Test
    void code_runFromSharedMemory_isTheFetchingOfCode() {
        String text =
                "core 0\n far code\nshared at 10\ncode:\n set r1, 200\nmore: add r2, r2, 1\n again r1, more\n halt\n";
        Verdict verdict = verdict(text);
        assertThat(verdict.limit()).isEqualTo(Limit.CODE);
        assertThat(verdict.sentence()).contains("% of its 9,6").contains("fetching code from shared memory");
    }

    @Test
    void loading_bigImage_isTheLoading() {
        String text = "core 0\n set r1, -1\n set r2, child\n start r1, r2, r0\n halt\nimage child\n halt\n space 300\n";
        Verdict verdict = verdict(text);
        assertThat(verdict.limit()).isEqualTo(Limit.LOADING);
        assertThat(verdict.sentence()).contains("core 1, which ran longest, spent 100 % of its");
    }

    @Test
    void sleep_aloneInUntil_isTheSleep() {
        Verdict verdict = verdict("core 0\n set r1, 100000\n until r1\n halt\n");
        assertThat(verdict.limit()).isEqualTo(Limit.SLEEP);
        assertThat(verdict.sentence())
                .isEqualTo("Sleep sets the pace of this program: core 0 spent 100 % of its 100,001 cycles asleep.");
    }

    /** A core that only waits for the end of the others' work does not set the pace. */
    @Test
    void sleep_besideWork_isPassedOver() {
        String text = """
                core 0
                        set   r1, 10000
                        until r1
                        halt
                core 1
                        set   r1, 2500
                more:   nop
                        again r1, more
                        halt
                """;
        Verdict verdict = verdict(text);
        assertThat(verdict.limit()).isEqualTo(Limit.WORK);
        assertThat(verdict.sentence()).contains("core 1");
    }

    @Test
    void polling_spinLock_countsTheTriesInVain() {
        String text = """
                core all
                        set   r1, 10
                fill:   set   r2, 1
                take:   swap  r2, [lock]
                        jump  take if r2 != 0
                        fetch r3, [book]
                        add   r3, r3, 5
                        post  r3, [book]
                        post  r0, [lock]
                        again r1, fill
                        halt
                shared
                lock:   word  0
                book:   word  0
                """;
        Verdict verdict = verdict(text);
        assertThat(verdict.limit()).isEqualTo(Limit.POLLING);
        assertThat(verdict.sentence())
                .startsWith("Asking again and again limits this program: ")
                .matches(".*; [0-9,]+ of [0-9,]+ accesses in line 4 only found that the word had not changed yet\\.");
    }

    /** The tries in vain of that lock, counted by the program itself. */
    @Test
    void polling_tries_areThoseThatTheProgramCounts() {
        String text = """
                core all
                        set   r1, 10
                        set   r4, 0
                fill:   set   r2, 1
                take:   swap  r2, [lock]
                        add   r4, r4, 1
                        jump  take if r2 != 0
                        fetch r3, [book]
                        post  r3, [book]
                        post  r0, [lock]
                        again r1, fill
                        halt
                shared
                lock:   word  0
                book:   word  0
                """;
        RunReport report = report(text);
        long swaps = report.cores().stream()
                .mapToLong(core -> core.registers().get(4))
                .sum();
        String sentence = Verdict.of(report).sentence();
        assertThat(sentence).contains("%,d of %,d accesses in line 5".formatted(swaps - 80, swaps));
    }

    /** A loop over a table has the shape of a poll but for what follows it, which is not known. */
    @Test
    void polling_loopOverATable_isNone() {
        String text = """
                core 0
                        set   r1, 0
                next:   fetch r2, [r1]
                        add   r1, r1, 1
                        jump  next if r1 != 100
                        jump  over
                over:   halt
                """;
        assertThat(verdict(text).limit()).isEqualTo(Limit.TURNS);
    }

    @Test
    void limit_reached_isSaidFirst() {
        Verdict verdict = verdict("core 0\nmore: jump more\n", Design.DEFAULT, 50_000);
        assertThat(verdict)
                .isEqualTo(new Verdict(
                        Limit.WORK,
                        "The limit of 50,000 cycles ended the run; up to there core 0 spent 100 % of its 50,000 cycles at"
                                + " work."));
    }

    @Test
    void fault_one_namesCoreCycleLineAndWhat() {
        Verdict verdict = verdict("core 3\n nop\n div r1, r1, r0\n halt\n");
        assertThat(verdict.limit()).isEqualTo(Limit.FAULT);
        assertThat(verdict.sentence())
                .startsWith("A fault ended core 3 at cycle 2 in line 3: ")
                .endsWith(".");
    }

    @Test
    void fault_several_namesTheFirst() {
        Verdict verdict = verdict("core 1\n pause 9\n div r1, r1, r0\ncore 2\n load r1, [r15-1]\ncore 3\n halt\n");
        assertThat(verdict.sentence())
                .startsWith("Faults ended 2 cores, the first of them core 2 at cycle 1 in line 5: ");
    }

    @Test
    void stuck_await_namesThePins() {
        Verdict verdict = verdict("core 0\n set r1, 0b101100\n await r1, 0b001100\n halt\n");
        assertThat(verdict)
                .isEqualTo(new Verdict(
                        Limit.STUCK,
                        "The run is stuck: core 0 awaits pins 2 and 3 high and pin 5 low, and nothing changes it any"
                                + " more."));
    }

    @Test
    void stuck_awaitOfWhatCannotBe_saysSo() {
        assertThat(verdict("core 0\n set r1, 1\n await r1, 3\n").sentence())
                .isEqualTo("The run is stuck: core 0 awaits (pins AND 0x1) = 0x3, which can never be.");
        assertThat(verdict("core 0\n set r1, 1 << 20\n set r2, 1 << 20\n await r1, r2\n")
                        .sentence())
                .isEqualTo("The run is stuck: core 0 awaits pin 20 high, which the design does not have.");
    }

    @Test
    void stuck_coreWithoutASlot_saysSo() {
        Design design = design(2, 3, new Admission.Rotation(List.of(0)));
        assertThat(verdict("core 1\n fetch r1, [0]\n halt\n", design, 1000).sentence())
                .isEqualTo("The run is stuck: core 1 asks for the memory but has no slot in the order.");
    }

    @Test
    void stuck_manyCores_namesThree() {
        assertThat(verdict("core all\n set r1, 1\n await r1, 1\n").sentence())
                .startsWith("The run is stuck: core 0 awaits pin 0 high")
                .contains("; core 2 awaits ")
                .endsWith("; and 5 more cores wait in vain.");
    }

    @Test
    void faultAndStuck_bothAreSaid() {
        Verdict verdict = verdict("core 0\n set r1, 1\n await r1, 1\ncore 1\n div r1, r1, r0\n");
        assertThat(verdict.limit()).isEqualTo(Limit.FAULT);
        assertThat(verdict.sentence())
                .startsWith("A fault ended core 1 at cycle 1 in line 5: ")
                .contains("; then the run was stuck: core 0 awaits pin 0 high");
    }
}
