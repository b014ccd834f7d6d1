package octurn.machine;

import static octurn.machine.TestDesign.ownPort;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.entry;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Loading: what {@code start} sets going in the core that it chose. Without contention unless a test says otherwise. */
class LoadingTest extends ChipTest {

    /** The start works in 3, holds 4..6; the chosen core loads from 7. */
    private static final String STARTER = """
            core 0
                    set   r1, -1
                    set   r2, %s
                    set   r3, 42
                    start r1, r2, r3
                    halt
            """;

    @Test
    void loading_readsCountAndWords_oneSlotEach() {
        // Count 7..9, words 10..12 and 13..15, then the core starts: post works in 16, holds 17..19, halt in 20.
        Trial trial = run(ownPort(), STARTER.formatted("helper") + """
                image helper
                        post  r1, [100]
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(1);
        assertThat(trial.lane(1)).isEqualTo("idle 7, loadSlot 9, work 1, slot 3, work 1");
        assertThat(trial.shared(100)).isEqualTo(42);
    }

    @Test
    void loading_underRotation_asksAgainInTheCycleAfterEachSlot() {
        // The start: up at 4, slot 24..26. Core 1's slots: 3, 27, 51, 75, 99. Count up at 27 and in; the next at 30.
        Trial trial = run(STARTER.formatted("helper") + """
                image helper
                        post  r1, [100]
                        halt
                """);

        assertThat(trial.lane(1))
                .isEqualTo("idle 27, loadSlot 3, loadWait 21, loadSlot 3, loadWait 21, loadSlot 3,"
                        + " work 1, wait 20, slot 3, work 1");
        assertThat(trial.cycles()).isEqualTo(103);
        assertThat(trial.core(1).accesses()).isEqualTo(1);
        assertThat(trial.core(1).turnsUsed()).isEqualTo(4);
    }

    @Test
    void loading_clearsRegistersAndPrivateRam() {
        // Core 1 has run before and left something behind. It halts in 5, in time.
        Trial trial = run(ownPort(), STARTER.formatted("helper") + """
                core 1
                        set   r9, 9
                        set   r1, 8
                        store r9, [200]
                        halt
                image helper
                        halt
                """);

        assertThat(trial.core(1).registers()).containsExactly(0, 42, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0);
        assertThat(trial.privateWord(1, 200)).isZero();
        // The image's halt, 0xC8000000 (operation 0x32, all else 0), and nothing else.
        assertThat(trial.core(1).privateWords()).containsExactly(entry(0, 0xC8000000));
    }

    @Test
    void loading_countsOfTheReport_goOnFromBefore() {
        Trial trial = run(ownPort(), STARTER.formatted("helper") + """
                core 1
                        fetch r9, [0]
                        halt
                image helper
                        fetch r9, [0]
                        halt
                """);

        // fetch and halt twice.
        assertThat(trial.core(1).instructions()).isEqualTo(4);
        assertThat(trial.core(1).accesses()).isEqualTo(2);
    }

    @Test
    void loading_whileItLasts_theProgramCounterIsPrivate0() {
        Trial trial = run(ownPort(), limit(11), STARTER.formatted("helper") + """
                core 1
                        nop
                        halt
                image helper
                        nop
                        halt
                """);

        assertThat(trial.core(1).state()).isEqualTo(State.LOAD_SLOT);
        assertThat(trial.core(1).pc()).isZero();
        assertThat(trial.core(1).pcInShared()).isFalse();
    }

    @Test
    void loading_afterSharedCode_startsInPrivateRam() {
        // Core 1: far 0..1, slot 2..4, halt in 5: idle at shared memory.
        Trial trial = run(ownPort(), STARTER.formatted("helper") + """
                core 1
                        far   there
                image helper
                        set   r4, 4
                        halt
                shared
                there:  halt
                """);

        assertThat(trial.register(1, 4)).isEqualTo(4);
        assertThat(trial.core(1).pcInShared()).isFalse();
        assertThat(trial.core(1).pc()).isEqualTo(1);
    }

    @Test
    void loading_wordsPostedOverMeanwhile_areLoadedAsTheyAreThen() {
        // Core 1 reads its count in 7..9 and its first word in 10..12. Core 0 goes on at 7: load 7..8, post 9, slot
        // 10..12,
        // in effect before core 1 reads, for it has the lower number.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, -1
                        set   r2, helper
                        set   r3, 42
                        start r1, r2, r3
                        load  r4, [new]
                        post  r4, [helper+1]
                        halt
                new:    set   r5, 2
                image helper
                        set   r5, 1
                        halt
                """);

        assertThat(trial.register(1, 5)).isEqualTo(2);
    }

    @Test
    void loading_countPostedOverAfterItWasRead_countsAsItWas() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, -1
                        set   r2, helper
                        start r1, r2, r3
                        set   r4, 1
                        nop
                        post  r4, [helper]
                        halt
                image helper
                        set   r5, 1
                        set   r6, 2
                        halt
                """);

        // start ends at 5; count 6..8; set 6, nop 7, post 8, slot 9..11: too late.
        assertThat(trial.shared(trial.program().blocks().get(1).address())).isEqualTo(1);
        assertThat(trial.register(1, 6)).isEqualTo(2);
        assertThat(trial.core(1).state()).isEqualTo(State.IDLE);
        assertThat(trial.fault(1)).isNull();
    }

    @Test
    void imageThatFillsThePrivateRam_isLoaded() {
        Trial trial = run(ownPort().privateWords(16).sharedWords(17), STARTER.formatted(0) + """
                shared
                        word  16
                        halt
                        space 14
                        word  7
                """);

        assertThat(trial.fault(1)).isNull();
        assertThat(trial.privateWord(1, 15)).isEqualTo(7);
        // 17 words of 3 cycles from 7, then halt in 58.
        assertThat(trial.cycles()).isEqualTo(59);
    }

    @ParameterizedTest
    @CsvSource({
        // The count: 0; above privateWords, also as an unsigned number; past the end of 40 shared words.
        "0, 0",
        "0, 17",
        "0, -1",
        "0, -2147483648",
        "25, 15",
        "39, 1",
        "24, 16",
    })
    void imageThatDoesNotFit_faultsInTheCycleAfterTheCount(int address, int count) {
        Trial trial = run(
                ownPort().privateWords(16).sharedWords(40), STARTER.formatted(address) + """
                core 7
                        pause 12
                        halt
                shared at %d
                        word  %d
                """.formatted(address, count));

        assertThat(trial.lane(1)).isEqualTo("idle 7, loadSlot 3, fault 3");
        assertThat(trial.fault(1).kind()).isEqualTo(Fault.Kind.BAD_IMAGE);
        assertThat(trial.fault(1).cycle()).isEqualTo(10);
        assertThat(trial.fault(1).address()).isZero();
        assertThat(trial.fault(1).inShared()).isFalse();
        assertThat(trial.fault(1).line()).isZero();
        assertThat(trial.core(1).state()).isEqualTo(State.FAULT);
        assertThat(trial.core(1).pc()).isZero();
    }

    @ParameterizedTest
    @CsvSource({"25, 14", "38, 1", "23, 16"})
    void imageThatJustFits_isLoaded(int address, int count) {
        Trial trial = run(
                ownPort().privateWords(16).sharedWords(40), STARTER.formatted(address) + """
                shared at %d
                        word  %d
                        halt
                """.formatted(address, count));

        assertThat(trial.fault(1)).isNull();
    }

    @ParameterizedTest
    @CsvSource({"40", "100000", "-1", "-2147483648"})
    void imageAddressOutsideSharedMemory_usesOneSlotThenFaults_andTheStarterDoesNot(int address) {
        Trial trial = run(
                ownPort().privateWords(16).sharedWords(40),
                STARTER.formatted("here").replace("set   r2, here", "big   r2, " + address) + """
                core 7
                        pause 13
                        halt
                """);

        // One cycle later than with set.
        assertThat(trial.lane(1)).isEqualTo("idle 8, loadSlot 3, fault 3");
        assertThat(trial.fault(1).kind()).isEqualTo(Fault.Kind.BAD_IMAGE);
        assertThat(trial.fault(0)).isNull();
        assertThat(trial.register(0, 1)).isEqualTo(1);
    }

    @Test
    void coreThatLoads_canBeStopped() {
        // Core 0 goes on at 7: set in 7, stop works in 8, holds 9..11: core 1 is idle from 12, in the middle of a word.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, -1
                        set   r2, helper
                        set   r3, 42
                        start r1, r2, r3
                        set   r4, 1
                        stop  r4
                        halt
                image helper
                        set   r5, 1
                        halt
                """);

        assertThat(trial.lane(1)).isEqualTo("idle 7, loadSlot 5, idle 1");
        assertThat(trial.core(1).privateWords()).isEmpty();
        // What start put into its registers is still there.
        assertThat(trial.register(1, 1)).isEqualTo(42);
        assertThat(trial.core(1).pc()).isZero();
    }

    @Test
    void loadedProgram_hotSpotsAndFaults_carryTheLinesOfTheImage() {
        Trial trial = run(ownPort(), STARTER.formatted("helper") + """
                image helper
                        nop
                        fetch r1, [0]
                        word  5
                """);

        assertThat(trial.hotSpots(1)).singleElement().satisfies(spot -> {
            assertThat(spot.address()).isEqualTo(1);
            assertThat(spot.line()).isEqualTo(9);
        });
        assertThat(trial.fault(1).address()).isEqualTo(2);
        assertThat(trial.fault(1).line()).isEqualTo(10);
    }

    @Test
    void loadedProgram_wordFromElsewhere_hasNoLine() {
        // An image that the program puts together itself: the count 2, a fetch, and a word that is no instruction.
        Trial trial = run(ownPort(), """
                core 0
                        set   r5, 2
                        post  r5, [500]
                        load  r5, [code]
                        post  r5, [501]
                        load  r5, [code+1]
                        post  r5, [502]
                        set   r1, -1
                        set   r2, 500
                        start r1, r2, r3
                        halt
                code:   fetch r1, [0]
                        word  5
                """);

        assertThat(trial.hotSpots(1)).singleElement().satisfies(spot -> {
            assertThat(spot.address()).isZero();
            assertThat(spot.line()).isZero();
        });
        assertThat(trial.fault(1).line()).isZero();
    }

    @Test
    void loadedProgram_wordStoredByItself_hasNoLineWhereTheImageHadNone() {
        // The image is 3 words; it writes a fetch to private 5 and goes there.
        Trial trial = run(ownPort(), STARTER.formatted("helper") + """
                image helper
                        load  r4, [new]
                        store r4, [5]
                        near  5
                new:    fetch r1, [0]
                """);

        assertThat(trial.hotSpots(1)).singleElement().satisfies(spot -> {
            assertThat(spot.address()).isEqualTo(5);
            assertThat(spot.line()).isZero();
        });
        // After it comes word 6, which is 0.
        assertThat(trial.fault(1).address()).isEqualTo(6);
        assertThat(trial.fault(1).line()).isZero();
    }
}
