package octurn.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.compare.Comparison.Column;
import octurn.compare.Comparison.Entry;
import octurn.compare.Outcome.Difference;
import octurn.design.Design;
import octurn.design.Field;
import octurn.design.NamedDesigns;
import octurn.design.Scenario;
import octurn.report.RunReports;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ComparisonTest {

    private static final String BUMPS = """
        core all
                set r1, 50
        next:   set r2, 1
                bump r2, [count]
                again r1, next
                halt
        shared
        count:  word 0
        """;

    /** Four cores count by fetch and post: how many counts get lost depends on who comes in between. */
    private static final String LOST = """
        core 0..3
                set r1, 50
                read r3, core
                mul r3, r3, 17
        next:   fetch r2, [count]
                add r2, r2, 1
                post r2, [count]
                pause r3
                again r1, next
                halt
        shared
        spare:  word 1
        count:  word 0
        """;

    private static Entry entry(String name, Design design, String text) {
        Assembly assembly = Assembler.assemble("test.turn", text, design);
        if (assembly instanceof Assembly.Assembled assembled) {
            Run run = Run.of(assembled.program(), Scenario.QUIET, 100_000);
            run.finish();
            return new Comparison.Ran(name, assembled.program(), RunReports.of(run));
        }
        return new Comparison.Unfit(
                name, ((Assembly.Rejected) assembly).errors().get(0).message());
    }

    private static List<Column> columns(String text, String... designs) {
        return Comparison.of(Arrays.stream(designs)
                        .map(name -> entry(name, NamedDesigns.of(name).orElseThrow(), text))
                        .toList())
                .columns();
    }

    private static String sentence(String text, String design) {
        return columns(text, "default", design).get(1).sentence();
    }

    /** Worked by hand: core 7 asks first at 3, is admitted at 21, then every 24 cycles, and halts 6 later. */
    @Test
    void figures_ofACountingLoop_areAsWorkedOut() {
        RunFigures figures = columns(BUMPS, "default").get(0).figures().orElseThrow();

        // Core 0, admitted first at 24, is the last: 24 + 49 * 24 + 3 of the slot, again 1, halt 1.
        assertThat(figures.cycles()).isEqualTo(24 + 49 * 24 + 5);
        assertThat(figures.accesses()).isEqualTo(400);
        assertThat(figures.seconds()).isEqualTo(figures.cycles() / 48e6);
        assertThat(figures.busyCycles()).isEqualTo(1200);
        assertThat(figures.waitMax()).isEqualTo(21);
        assertThat(figures.turnsUsed()).isEqualTo(400);
        assertThat(figures.unusedShare()).isEqualTo(1 - 400.0 / figures.turnsOffered());
        assertThat(figures.accessFairness()).isEqualTo(1);
        assertThat(figures.waitMean()).isEqualTo(figures.waitTotal() / 400.0);
        assertThat(figures.finished()).isTrue();
    }

    /** Cores that never ask are not in the index: one that waits and three that do not would be 1/4. */
    @Test
    void fairness_isThatOfTheCoresThatAsk() {
        String text = "core 0\n fetch r1, [0]\n halt\ncore 1\n nop\n halt\n";

        assertThat(columns(text, "default").get(0).figures().orElseThrow().accessFairness())
                .isEqualTo(1);
    }

    @Test
    void fairness_ofACoreThatIsNeverAdmitted_isLow() {
        String text = "core 0, 1\n jump next\nnext: fetch r1, [0]\n fetch r1, [0]\n fetch r1, [0]\n jump next\n";
        Design alone = Field.CORES.with(NamedDesigns.of("priority").orElseThrow(), 3);
        Entry entry = entry("p", alone, text + "core 2\nmore: fetch r1, [0]\n jump more\n");

        RunFigures figures =
                Comparison.of(List.of(entry)).columns().get(0).figures().orElseThrow();

        assertThat(figures.accessFairness()).isLessThan(0.9);
        assertThat(figures.finished()).isFalse();
    }

    @Test
    void speedUp_isByTimeNotByCycles() {
        Design quick = Field.CLOCK_MULTIPLIER.with(Design.DEFAULT, 16);

        Column column = Comparison.of(List.of(entry("a", Design.DEFAULT, BUMPS), entry("b", quick, BUMPS)))
                .columns()
                .get(1);

        assertThat(column.speedUp().orElseThrow()).isCloseTo(2, within(1e-12));
        assertThat(column.sentence())
                .isEqualTo("2.00 times as fast: the clock is another one, the cycles are the same.");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "next-waiting | for no slot passes unused while a request is up; in rotation",
                "own-port | for with a port of its own no core ever waits: access for access, no shared memory can beat that",
                "weighted | for its slots come round every 42 cycles instead of every 24",
                "double-slot | for its slots come round every 48 cycles instead of every 24",
            })
    void sentence_saysWhyItDiffers(String design, String reason) {
        String oneCore = "core 3\n set r1, 50\nnext: bump r2, [0]\n again r1, next\n halt\n";

        assertThat(sentence(oneCore, design)).contains(reason).contains("core 3 waited ");
    }

    @Test
    void aProgramThatWaitsForNothing_isAsFastUnderAllPolicies() {
        String plain = "core 0\n set r1, 50\nnext: again r1, next\n halt\n";

        assertThat(sentence(plain, "next-waiting"))
                .isEqualTo("As fast, to the cycle: core 0, which decides, waits 0 cycles in both.");
    }

    @Test
    void aResultThatDependsOnTiming_isCaught() {
        List<Column> columns = columns(LOST, "default", "next-waiting");

        assertThat(columns.get(0).differences()).isEmpty();
        Difference difference = columns.get(1).differences().get(0);
        assertThat(difference.memory()).isEqualTo(Outcome.SHARED);
        assertThat(difference.name()).isEqualTo("count");
        assertThat(difference.here()).isNotEqualTo(difference.there());
        assertThat(columns.get(1).sentence())
                .contains("Its result differs, so it depends on timing: shared count is " + difference.there()
                        + ", under the first design " + difference.here());
    }

    @Test
    void aResultThatIsTheSame_isNotReported() {
        assertThat(columns(BUMPS, "default", "next-waiting", "own-port", "double-slot"))
                .allSatisfy(column -> assertThat(column.differences()).isEmpty());
    }

    /** With half the cores half of the counts: not a matter of timing. */
    @Test
    void aResultOfOtherCores_isNotBlamedOnTiming() {
        assertThat(sentence(BUMPS, "four-cores"))
                .contains("Its result differs, with other cores at work: shared count is 200, under the first design"
                        + " 400");
    }

    /** Code with constants of the design in it is no result. */
    @Test
    void codeThatDiffersByDesign_isNoDifference() {
        String text = """
            core 0
                    set r1, rotation
                    set r2, slot
                    store r3, [200]
                    halt
            shared
            period: word rotation
            """;

        assertThat(columns(text, "default", "double-slot").get(1).differences()).isEmpty();
    }

    /** What a core keeps in its private RAM is a result, too. */
    @Test
    void privateWordsThatDiffer_areCaughtByCore() {
        String text = "core 2\n fetch r1, [0]\n read r2, time\n store r2, [when+1]\n halt\nwhen: word 0, 0\n";

        Difference difference =
                columns(text, "default", "own-port").get(1).differences().get(0);

        // In rotation it is admitted at 6 and done at 9; with a port of its own at 1 and 4.
        assertThat(difference).isEqualTo(new Difference(2, 5, "when+1", 9, 4));
    }

    @Test
    void aWordThatOnlyOneRunChanged_isADifference() {
        String text = """
            core 0
                    pause 20
                    fetch r1, [flag]
                    jump no if r1 == 5
                    post r1, [seen]
            no:     halt
            core 1
                    fetch r2, [0]
                    fetch r2, [0]
                    set r2, 5
                    post r2, [flag]
                    halt
            shared
            flag:   word 9
            seen:   word 9
            """;

        List<Difference> differences =
                columns(text, "own-port", "default").get(1).differences();

        // With own ports core 1 is quick and core 0 sees the 5; in rotation core 0 sees the 9 and posts it: unchanged.
        assertThat(differences).isEmpty();
    }

    @Test
    void aDesignThatCannotRunTheProgram_isAColumnThatSaysSo() {
        List<Column> columns = columns("core 7\n halt\n", "default", "four-cores");

        assertThat(columns.get(1).figures()).isEmpty();
        assertThat(columns.get(1).sentence()).startsWith("It cannot run: ").contains("7");
    }

    @Test
    void aCoreWithMoreSlots_isToldSo() {
        String text = "core 0\n set r1, 50\nnext: bump r2, [0]\n again r1, next\n halt\n";

        assertThat(sentence(text, "weighted"))
                .contains("for it has 7 slots in a rotation of 42 cycles instead of 1 in 24");
    }

    @Test
    void whenTheFirstCannotRun_theOthersAreStillShown() {
        List<Column> columns = columns("core 7\n halt\n", "four-cores", "default");

        assertThat(columns.get(0).sentence()).startsWith("It cannot run: ");
        assertThat(columns.get(1).figures()).isPresent();
        assertThat(columns.get(1).speedUp()).isEmpty();
    }

    @Test
    void aFaultUnderOneDesignAlone_isTold() {
        String text = "core 0\n set r1, 24 - rotation\n jump fine if r1 == 0\n div r2, r2, r3\nfine: halt\n";

        Column column = columns(text, "default", "double-slot").get(1);

        assertThat(column.sentence()).isEqualTo("Core 0 faults at cycle 3: a division by 0.");
        assertThat(column.speedUp()).isEmpty();
    }

    @Test
    void aRunThatIsCutOff_isNotCalledSlower() {
        String text = "core 0\n set r1, slot - 3\nnext: jump next if r1 != 0\n halt\n";

        assertThat(sentence(text, "double-slot"))
                .isEqualTo("It had not come to its end at the limit of 100,000 cycles.");
    }

    @Test
    void nothingToCompare_isRefused() {
        assertThatThrownBy(() -> new Comparison(List.of())).hasMessage("nothing to compare");
    }
}
