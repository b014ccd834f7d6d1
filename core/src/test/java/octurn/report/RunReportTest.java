package octurn.report;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static octurn.machine.TestDesign.rotation;
import static octurn.machine.TestDesign.under;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.entry;

import java.util.List;
import java.util.TreeMap;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.ChipTest;
import octurn.machine.End;
import octurn.machine.State;
import octurn.machine.TestDesign;
import octurn.machine.Trial;
import octurn.report.RunReport.HotSpot;
import octurn.report.RunReport.Waits;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Each field of the run report, by its rule. */
class RunReportTest extends ChipTest {

    /** The program of the documentation on program files. */
    private static final String COUNT = """
            ; Two cores count to 300 together, without losing a count.
            goal = 300

            core 0, 1
                    set   r1, 1
                    set   r2, goal / 2
            more:   copy  r3, r1
                    bump  r3, [count]       ; adds 1 in one slot, nobody can slip between
                    again r2, more
                    halt

            shared
            count:  word 0
            """;

    @Test
    void countingProgram_hasTheNumbersOfItsDocumentation() {
        // A turn of the loop: copy 1, work 1, wait, slot 3, again 2. From slot to slot 24 cycles, of which 7 are no
        // wait:
        // 17. The first bump of core 0 is up at 4 and in at 24: 20. The 150th is in at 24 * 150 = 3600 and ends with
        // 3602;
        // again (which does not go) in 3603, halt in 3604. Core 1's slots are 3 cycles later: it halts in 3607.
        Trial trial = run(COUNT);
        RunReport report = trial.report();

        assertThat(report.program()).isEqualTo("test.turn");
        assertThat(report.cycles()).isEqualTo(3608);
        assertThat(report.ended()).isEqualTo(End.ALL_IDLE);
        assertThat(report.busyCycles()).isEqualTo(2 * 150 * 3);
        assertThat(report.clashCycles()).isZero();
        assertThat(report.shared()).containsExactly(entry(0, 300));
        RunReport.CoreReport core = trial.core(0);
        assertThat(core.state()).isEqualTo(State.IDLE);
        assertThat(core.pc()).isEqualTo(5);
        assertThat(core.pcInShared()).isFalse();
        // Its last bump found 149 of each core in the word.
        assertThat(core.registers().subList(0, 4)).containsExactly(0, 1, 0, 2 * 149);
        // set, set, 150 times copy, bump, again, and halt.
        assertThat(core.instructions()).isEqualTo(453);
        assertThat(core.accesses()).isEqualTo(150);
        assertThat(core.waits())
                .isEqualTo(new Waits(149 * 17 + 20, 17, 20, core.waits().histogram()));
        assertThat(core.waits().histogram()).containsExactly(entry(17L, 149L), entry(20L, 1L));
        // Slots at 0, 24 .. 3600.
        assertThat(core.turnsOffered()).isEqualTo(151);
        assertThat(core.turnsUsed()).isEqualTo(150);
        assertThat(report.hotSpots().get(0)).isEqualTo(new HotSpot(0, false, 3, 8, 150, 149 * 17 + 20, 17, 20));
    }

    // ---- what the run was ----

    @Test
    void program_isTheFilesNameWithoutItsFolder() {
        Assembly assembly = Assembler.assemble("lessons/first\\count.turn", COUNT, Design.DEFAULT);
        Run run = Run.of(((Assembly.Assembled) assembly).program(), Scenario.QUIET, 100);

        assertThat(RunReports.of(run).program()).isEqualTo("count.turn");
    }

    @Test
    void design_isThatOfTheProgram() {
        TestDesign design = ownPort().cores(3).slotCycles(5);

        assertThat(run(design, COUNT).report().design()).isEqualTo(design.build());
        assertThat(run(design, COUNT).report().cores()).hasSize(3);
    }

    @Test
    void runThatIsNotOver_isReportedAsIfTheLimitWereNow() {
        Run run = run(COUNT).start();
        run.runTo(1000);

        assertThat(run.isOver()).isFalse();
        assertThat(RunReports.of(run).ended()).isEqualTo(End.LIMIT);
        assertThat(RunReports.of(run).cycles()).isEqualTo(1000);
    }

    // ---- pc ----

    @ParameterizedTest
    @CsvSource({
        // set 0, pause 1..4, mul 5..8, halt 9.
        "1, 1",
        "4, 1",
        "5, 2",
        "8, 2",
        "9, 3"
    })
    void pc_isTheInstructionBeingDone(long limit, int pc) {
        Trial trial = run(design(), limit(limit), """
                core 0
                        set   r1, 1
                        pause 4
                        mul   r2, r1, r1
                        halt
                """);

        assertThat(trial.core(0).pc()).isEqualTo(pc);
    }

    @Test
    void pc_ofAHaltedCore_isItsHalt() {
        assertThat(run("core 0\n nop\n nop\n halt\n").core(0).pc()).isEqualTo(2);
    }

    @Test
    void pc_ofACoreThatNeverRan_is0() {
        assertThat(run("core 0\n nop\n nop\n halt\n").core(1).pc()).isZero();
    }

    @Test
    void pc_waitingForCode_isTheSharedAddressAskedFor() {
        Trial trial = run(design(), limit(5), """
                core 0
                        far   there
                shared at 9
                there:  halt
                """);

        assertThat(trial.core(0).state()).isEqualTo(State.CODE_WAIT);
        assertThat(trial.core(0).pc()).isEqualTo(9);
        assertThat(trial.core(0).pcInShared()).isTrue();
    }

    // ---- states ----

    @Test
    void states_holdEveryState() {
        Trial trial = run("core 0\n halt\n");

        assertThat(trial.core(0).states()).containsOnlyKeys(State.values());
    }

    @Test
    void states_ofACoreThatDoesALittleOfEverything() {
        // far 0..1, code wait 2..5, slot 6..8 (core 2's slots: 6, 30, 54 ..); fetch works in 9, waits 10..29, slot
        // 30..32;
        // code wait 33..53, slot 54..56; pause works in 57, sleeps 58..60; code wait 61..77, slot 78..80; halt 81.
        Trial trial = run("""
                core 2
                        far   there
                core 3
                        pause 90
                        halt
                shared
                there:  fetch r1, [there]
                        pause 4
                        halt
                """);

        assertThat(trial.core(2).states())
                .containsEntry(State.WORK, 5L)
                .containsEntry(State.WAIT, 20L)
                .containsEntry(State.SLOT, 3L)
                .containsEntry(State.CODE_WAIT, 4L + 21 + 17)
                .containsEntry(State.CODE_SLOT, 9L)
                .containsEntry(State.LOAD_WAIT, 0L)
                .containsEntry(State.LOAD_SLOT, 0L)
                .containsEntry(State.SLEEP, 3L)
                .containsEntry(State.IDLE, 91L - 82)
                .containsEntry(State.FAULT, 0L);
    }

    // ---- instructions ----

    @Test
    void instructions_areThoseThatFinished() {
        // big is two, halt one, the one that faults none.
        assertThat(run("core 0\n big r1, 99999999\n nop\n halt\n").core(0).instructions())
                .isEqualTo(4);
        assertThat(run("core 0\n nop\n div r1, r1, 0\n").core(0).instructions()).isEqualTo(1);
        assertThat(run("core 0\n nop\n word 5\n").core(0).instructions()).isEqualTo(1);
    }

    @Test
    void instructions_underWayAtTheEnd_didNotFinish() {
        assertThat(run(design(), limit(3), "core 0\n nop\n mul r1, r1, r1\n halt\n")
                        .core(0)
                        .instructions())
                .isEqualTo(1);
    }

    // ---- accesses and waits ----

    @Test
    void accesses_ofAllSixKinds_areCounted() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r3, 1
                        fetch r1, [0]
                        post  r1, [0]
                        swap  r1, [0]
                        bump  r1, [0]
                        set   r1, 5
                        set   r2, helper
                        start r1, r2, r3
                        stop  r3
                        halt
                shared
                        space 10
                image helper
                        halt
                """);

        assertThat(trial.core(0).accesses()).isEqualTo(6);
        assertThat(trial.hotSpots(0)).extracting(HotSpot::address).containsExactly(1, 2, 3, 4, 7, 8);
        // What core 5 loaded was no access.
        assertThat(trial.core(5).accesses()).isZero();
        assertThat(trial.hotSpots(5)).isEmpty();
    }

    @Test
    void waits_ofNone_haveNoMinAndNoMax() {
        assertThat(run("core 0\n halt\n").core(0).waits()).isEqualTo(new Waits(0, -1, -1, new TreeMap<>()));
    }

    @Test
    void waits_ofARequestStillUp_areNotCounted() {
        // Up at 1, the limit is 10; in at 24.
        Trial trial = run(design(), limit(10), "core 0\n fetch r1, [0]\n halt\n");

        assertThat(trial.core(0).states()).containsEntry(State.WAIT, 9L);
        assertThat(trial.core(0).accesses()).isZero();
        assertThat(trial.core(0).waits().total()).isZero();
        assertThat(trial.report().hotSpots()).isEmpty();
    }

    @Test
    void hotSpots_areSortedByCore_privateBeforeShared_address() {
        Trial trial = run(ownPort(), """
                core 1, 0
                        fetch r1, [0]
                        jump  over
                back:   fetch r2, [0]
                        halt
                over:   fetch r1, [0]
                        set   r13, back
                        far   there
                shared at 1
                there:  fetch r3, [0]
                        near  r13
                """);

        assertThat(trial.report().hotSpots())
                .extracting(spot -> "%d %s %d line %d"
                        .formatted(spot.core(), spot.inShared() ? "shared" : "private", spot.address(), spot.line()))
                .containsExactly(
                        "0 private 0 line 2",
                        "0 private 2 line 4",
                        "0 private 4 line 6",
                        "0 shared 1 line 10",
                        "1 private 0 line 2",
                        "1 private 2 line 4",
                        "1 private 4 line 6",
                        "1 shared 1 line 10");
    }

    @Test
    void hotSpot_ofOneInstruction_sumsUpItsAccesses() {
        // Waits 23, then each 24 - 3 - 1 - 2 = 18.
        Trial trial = run("""
                core 0
                        set   r2, 3
                more:   fetch r1, [0]
                        again r2, more
                        halt
                """);

        // set in 0: up at 2, in at 24: 22.
        assertThat(trial.report().hotSpots()).containsExactly(new HotSpot(0, false, 1, 3, 3, 22 + 18 + 18, 18, 22));
    }

    @Test
    void hotSpot_ofAWordWrittenByTheProgram_keepsTheLineOfItsPlace() {
        Trial trial = run(ownPort(), """
                core 0
                        load  r1, [new]
                        store r1, [spot]
                spot:   nop
                        halt
                new:    fetch r2, [0]
                """);

        assertThat(trial.report().hotSpots())
                .singleElement()
                .satisfies(spot -> assertThat(spot.line()).isEqualTo(4));
    }

    @Test
    void hotSpot_atAPlaceThatTheFileLeavesOpen_hasNoLine() {
        Trial trial = run(ownPort(), """
                core 0
                        load  r1, [new]
                        store r1, [100]
                        load  r1, [end]
                        store r1, [101]
                        near  100
                new:    fetch r2, [0]
                end:    halt
                """);

        assertThat(trial.report().hotSpots()).containsExactly(new HotSpot(0, false, 100, 0, 1, 0, 0, 0));
    }

    // ---- turns ----

    @Test
    void turnsOffered_areSlotsThatBeganBeforeTheEnd() {
        // Order 0 1 0 2 of 3 cycles: core 0 at 0, 6, 12, 18; core 1 at 3, 15; core 2 at 9, 21.
        TestDesign design = rotation(0, 1, 0, 2).cores(4);
        String endless = "core 0\nmore: jump more\n";

        assertThat(offered(run(design, limit(18), endless))).containsExactly(3L, 2L, 1L, 0L);
        assertThat(offered(run(design, limit(19), endless))).containsExactly(4L, 2L, 1L, 0L);
        assertThat(offered(run(design, limit(1), endless))).containsExactly(1L, 0L, 0L, 0L);
    }

    private static List<Long> offered(Trial trial) {
        return trial.report().cores().stream()
                .map(RunReport.CoreReport::turnsOffered)
                .toList();
    }

    @Test
    void turns_underOtherPolicies_areNotGiven() {
        for (Admission admission : List.of(
                new Admission.NextWaiting(),
                new Admission.Priority(List.of(0, 1)),
                new Admission.FirstCome(),
                new Admission.Lottery(List.of(1, 1), 1),
                new Admission.OwnPort())) {
            Trial trial = run(under(admission).cores(2), "core 0\n fetch r1, [0]\n halt\n");
            assertThat(trial.core(0).turnsOffered()).isEqualTo(-1);
            assertThat(trial.core(0).turnsUsed()).isEqualTo(-1);
        }
    }

    // ---- memories ----

    @Test
    void sharedAndPrivateWords_areThoseThatAreNot0() {
        Trial trial = run("""
                core 0
                        halt
                        word  0, -1, 0, 7
                shared at 5
                        word  0, 9
                """);

        assertThat(trial.core(0).privateWords()).containsExactly(entry(0, 0xC8000000), entry(2, -1), entry(4, 7));
        assertThat(trial.core(1).privateWords()).isEmpty();
        assertThat(trial.report().shared()).containsExactly(entry(6, 9));
    }

    // ---- faults ----

    @Test
    void fault_ofNone_isNull() {
        assertThat(run("core 0\n halt\n").fault(0)).isNull();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "word 5                   | the word 0x00000005 is no instruction",
                "word -1                  | the word 0xFFFFFFFF is no instruction",
                "near 5000                | the program counter went to 5000, but private RAM ends at 1023",
                "far 20000                | the program counter went to 20000, but shared memory ends at 16383",
                "load r1, [5000]          | private address 5000 is outside 0..1023",
                "store r1, [r1-1]         | private address 4294967295 is outside 0..1023",
                "fetch r1, [20000]        | shared address 20000 is outside 0..16383",
                "swap r1, [r1-2]          | shared address 4294967294 is outside 0..16383",
                "div r1, r2, r3           | a division by 0",
                "stop r9                  | there is no core 99: this chip has 0..7",
                "start r10, r1, r1        | there is no core -2: this chip has 0..7",
                "write mode1, r9          | 0x63 is no mode word of a tally",
            })
    void fault_itsMessage_saysWhatAndWhatWouldBeRight(String instruction, String message) {
        Trial trial = run(ownPort(), """
                core 0
                        set   r9, 99
                        set   r10, -2
                        %s
                """.formatted(instruction));

        assertThat(trial.fault(0).message()).isEqualTo(message);
    }

    @Test
    void fault_ofALoadingCore_namesTheImage() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        set   r2, 500
                        start r1, r2, r3
                        halt
                """);

        assertThat(trial.fault(1).message())
                .isEqualTo("the image at shared address 500 does not fit: its count must be 1..1024"
                        + " and its words inside shared memory");
    }

    @Test
    void fault_carriesTheLineOfItsInstruction_exceptWhereThereIsNone() {
        assertThat(run("core 0\n nop\n div r1, r1, 0\n").fault(0).line()).isEqualTo(3);
        assertThat(run("core 0\n nop\n word 7\n").fault(0).line()).isEqualTo(3);
        // Off the end of the file's words, but inside private RAM: a word 0 from nowhere.
        assertThat(run("core 0\n nop\n").fault(0).line()).isZero();
        assertThat(run("core 0\n nop\n near 5000\n").fault(0).line()).isZero();
    }
}
