package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.entry;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What each instruction does to its core, and how long it takes. */
class InstructionTest extends ChipTest {

    /** Costs that differ from each other: 3 plain, 5 private, 7 taken, 11 multiply, 13 divide. */
    private static final TestDesign ODD_COSTS = design().cost(3, 5, 7, 11, 13);

    // ---- time ----

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "set r1, 5          | 1",
                "upper r1, 5        | 1",
                "big r1, 70000000   | 2",
                "add r1, r2, r3     | 1",
                "copy r1, r2        | 1",
                "nop                | 1",
                "rol r1, r2, 4      | 1",
                "mul r1, r2, r3     | 4",
                "mulh r1, r2, 3     | 4",
                "div r1, r2, 3      | 16",
                "rem r1, r2, 3      | 16",
                "load r1, [100]     | 2",
                "store r1, [100]    | 2",
                "read r1, time      | 1",
                "write out, r1      | 1",
                "jump next          | 2",
                "call next          | 2",
                "near next          | 2",
                "jump next if r1 == 0 | 2",
                "jump next if r1 != 0 | 1",
                "again r1, next     | 2",
            })
    void defaultCosts_instruction_takesItsCycles(String instruction, int cycles) {
        Trial trial = run("""
                core 0
                        %s
                next:   halt
                """.formatted(instruction));

        assertThat(trial.lane(0)).isEqualTo("work " + (cycles + 1));
        assertThat(trial.cycles()).isEqualTo(cycles + 1);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "set r1, 5          | 3",
                "upper r1, 5        | 3",
                "big r1, 70000000   | 6",
                "xor r1, r2, r3     | 3",
                "mul r1, r2, r3     | 11",
                "mulh r1, r2, 3     | 11",
                "div r1, r2, 3      | 13",
                "rem r1, r2, 3      | 13",
                "load r1, [100]     | 5",
                "store r1, [100]    | 5",
                "read r1, time      | 3",
                "write out, r1      | 3",
                "jump next          | 7",
                "call next          | 7",
                "near next          | 7",
                "jump next if r1 == 0 | 7",
                "jump next if r1 != 0 | 3",
                "again r1, next     | 7",
            })
    void oddCosts_instruction_takesItsCostField(String instruction, int cycles) {
        Trial trial = run(ODD_COSTS, """
                core 0
                        %s
                next:   halt
                """.formatted(instruction));

        assertThat(trial.cycles()).isEqualTo(cycles + 3);
    }

    @Test
    void again_counterRunsOut_takesThePlainTime() {
        // set 1, again 2 (to 2), again 2 (to 1), again 1 (to 0), halt 1.
        Trial trial = run("""
                core 0
                        set   r1, 3
                more:   again r1, more
                        halt
                """);

        assertThat(trial.cycles()).isEqualTo(7);
        assertThat(trial.register(0, 1)).isZero();
    }

    @Test
    void again_counterOf0_wrapsAndGoes() {
        Trial trial = run("""
                core 0
                        again r1, next
                next:   halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(-1);
        assertThat(trial.cycles()).isEqualTo(3);
    }

    // ---- registers ----

    @ParameterizedTest
    @CsvSource({
        "add,  7, -2, 5",
        "sub,  7, -2, 9",
        "mul,  7, -2, -14",
        "mulh, -1, 1, -1",
        "div,  -7, 2, -3",
        "rem,  -7, 2, -1",
        "and,  12, 10, 8",
        "or,   12, 10, 14",
        "xor,  12, 10, 6",
        "shl,  3, 33, 6",
        "shr,  -1, 31, 1",
        "sar,  -8, 2, -2",
        "rol,  -2147483648, 1, 1",
    })
    void arithmetic_ofTwoRegistersOrAConstant_writesItsResult(String name, int a, int b, int result) {
        Trial trial = run("""
                core 0
                        big  r1, %1$d
                        set  r2, %2$d
                        %3$s r3, r1, r2
                        %3$s r4, r1, %2$d
                        %3$s r1, r1, r2
                        halt
                """.formatted(a, b, name));

        assertThat(trial.register(0, 3)).isEqualTo(result);
        assertThat(trial.register(0, 4)).isEqualTo(result);
        assertThat(trial.register(0, 1)).isEqualTo(result);
    }

    @Test
    void set_andUpper_makeAnyWord() {
        Trial trial = run("""
                core 0
                        set   r1, -1
                        upper r1, 0
                        set   r2, -2097152
                        set   r3, 2097151
                        upper r3, 1023
                        big   r4, 0x89ABCDEF
                        halt
                """);

        assertThat(trial.core(0).registers().subList(1, 5))
                // 22 ones; the lowest of a signed 22-bit constant; 21 ones under ten ones and a 0 between.
                .containsExactly(0x003FFFFF, -2097152, 0xFFDFFFFF, 0x89ABCDEF);
    }

    @Test
    void writeToR0_keepsIt() {
        // r0 is a register like the others.
        Trial trial = run("""
                core 0
                        set r0, 5
                        add r1, r0, 1
                        halt
                """);

        assertThat(trial.register(0, 0)).isEqualTo(5);
        assertThat(trial.register(0, 1)).isEqualTo(6);
    }

    @Test
    void loadAndStore_moveAPrivateWord() {
        Trial trial = run("""
                core 0
                        set   r1, here
                        load  r2, [r1+1]
                        store r2, [r1-1+3]
                        store r1, [1023]
                        halt
                here:   word  5, 6, 7
                """);

        assertThat(trial.register(0, 2)).isEqualTo(6);
        assertThat(trial.privateWord(0, 7)).isEqualTo(6);
        assertThat(trial.privateWord(0, 1023)).isEqualTo(5);
    }

    @Test
    void address_sumBeyond32Bits_wraps() {
        // -1 + 3 is 2, unsigned.
        Trial trial = run("""
                core 0
                        set   r1, -1
                        load  r2, [r1+3]
                        halt
                """);

        assertThat(trial.fault(0)).isNull();
        assertThat(trial.register(0, 2)).isEqualTo(trial.privateWord(0, 2)).isNotZero();
    }

    @Test
    void store_overTheNextInstruction_changesWhatIsDone() {
        // A private word is read when its instruction starts.
        Trial trial = run("""
                core 0
                        load  r2, [new]
                        store r2, [next]
                next:   set   r1, 1
                        halt
                new:    set   r1, 2
                """);

        assertThat(trial.register(0, 1)).isEqualTo(2);
    }

    // ---- accesses ----

    @Test
    void fetch_readsTheWordAndLeavesIt() {
        Trial trial = run("""
                core 0
                        fetch r1, [cell]
                        halt
                shared
                cell:   word 77
                """);

        assertThat(trial.register(0, 1)).isEqualTo(77);
        assertThat(trial.shared(0)).isEqualTo(77);
    }

    @Test
    void post_writesTheWordAndKeepsTheRegister() {
        Trial trial = run("""
                core 0
                        set  r1, 5
                        post r1, [cell]
                        halt
                shared
                cell:   word 77
                """);

        assertThat(trial.shared(0)).isEqualTo(5);
        assertThat(trial.register(0, 1)).isEqualTo(5);
    }

    @Test
    void swap_tradesRegisterAndWordInOneSlot() {
        Trial trial = run("""
                core 0
                        set  r1, 5
                        swap r1, [cell]
                        halt
                shared
                cell:   word 77
                """);

        assertThat(trial.register(0, 1)).isEqualTo(77);
        assertThat(trial.shared(0)).isEqualTo(5);
        assertThat(trial.core(0).states()).containsEntry(State.SLOT, 3L);
    }

    @Test
    void bump_addsTheRegisterAndHandsOverTheOldWordInOneSlot() {
        Trial trial = run("""
                core 0
                        set  r1, 5
                        bump r1, [cell]
                        halt
                shared
                cell:   word 0x7FFFFFFE
                """);

        assertThat(trial.register(0, 1)).isEqualTo(0x7FFFFFFE);
        // The sum wraps.
        assertThat(trial.shared(0)).isEqualTo(0x80000003);
        assertThat(trial.core(0).states()).containsEntry(State.SLOT, 3L);
    }

    @Test
    void access_throughARegister_goesToItsWord() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, cell + 2
                        fetch r2, [r1]
                        fetch r3, [r1+1]
                        fetch r4, [r1-2]
                        halt
                shared at 100
                cell:   word 7, 0, 8, 9
                """);

        assertThat(trial.core(0).registers().subList(2, 5)).containsExactly(8, 9, 7);
    }

    // ---- jumps ----

    @ParameterizedTest
    @ValueSource(
            strings = {
                "r1 == 5",
                "r1 != 4",
                "r1 < 6",
                "r1 <= 5",
                "r1 > -1",
                "r1 >= 5",
                "r1 u< -1",
                "r1 u<= 5",
                "r2 u> r1",
                "r2 u>= -1",
                "r2 < r1",
                "r1 == r1"
            })
    void jumpIf_conditionHolds_goes(String condition) {
        assertThat(jumpIf(condition).register(0, 3)).isZero();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "r1 == 4",
                "r1 != 5",
                "r1 < 5",
                "r1 <= 4",
                "r1 > 5",
                "r1 >= 6",
                "r1 u< 5",
                "r1 u<= 4",
                "r1 u> -1",
                "r1 u>= r2",
                "r2 > r1",
                "r1 != r1"
            })
    void jumpIf_conditionDoesNotHold_goesOn(String condition) {
        assertThat(jumpIf(condition).register(0, 3)).isEqualTo(9);
    }

    private Trial jumpIf(String condition) {
        return run("""
                core 0
                        set  r1, 5
                        set  r2, -1
                        jump over if %s
                        set  r3, 9
                over:   halt
                """.formatted(condition));
    }

    @Test
    void call_keepsTheNextAddress_andRetComesBack() {
        Trial trial = run("""
                core 0
                        call part
                        add  r2, r1, 1
                        halt
                part:   set  r1, 10
                        copy r3, r15
                        ret
                """);

        assertThat(trial.register(0, 3)).isEqualTo(1);
        assertThat(trial.register(0, 2)).isEqualTo(11);
    }

    @Test
    void callThroughR15_goesWhereItPointedBefore() {
        Trial trial = run("""
                core 0
                        set  r15, part
                        call r15
                        halt
                part:   copy r1, r15
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(2);
    }

    @Test
    void jump_backwardsAndThroughARegister_reachTheirTargets() {
        Trial trial = run("""
                core 0
                        jump  there
                back:   set   r1, out2
                        jump  r1
                        halt
                out2:   set   r3, 3
                        halt
                there:  set   r2, 2
                        jump  back
                """);

        assertThat(trial.register(0, 2)).isEqualTo(2);
        assertThat(trial.register(0, 3)).isEqualTo(3);
    }

    @Test
    void nearThroughARegister_inPrivateCode_isAPlainJump() {
        Trial trial = run("""
                core 0
                        set   r1, there
                        near  r1
                        halt
                there:  set   r2, 2
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(2);
        // set 1, near 2, set 1, halt 1.
        assertThat(trial.cycles()).isEqualTo(5);
    }

    // ---- ports ----

    @Test
    void readTime_givesTheCycleAtItsStart() {
        Trial trial = run(design().plain(3), """
                core 0
                        nop
                        read r1, time
                        read r2, time
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(3);
        assertThat(trial.register(0, 2)).isEqualTo(6);
    }

    @Test
    void readTime_after2To32Cycles_startsAgainFrom0() {
        // Two pauses of 2^31 - 1 cycles after a big (2 cycles) end with 2^32; the read starts at 2^32.
        Trial trial = run(design(), limit(1L << 33), """
                core 0
                        big   r1, 0x7FFFFFFF
                        pause r1
                        pause r1
                        read  r2, time
                        nop
                        read  r3, time
                        halt
                """);

        assertThat(trial.register(0, 2)).isZero();
        assertThat(trial.register(0, 3)).isEqualTo(2);
        assertThat(trial.cycles()).isEqualTo((1L << 32) + 4);
    }

    @Test
    void readCore_givesItsOwnNumber() {
        Trial trial = run("""
                core all
                        read r1, core
                        halt
                """);

        assertThat(trial.report().cores())
                .extracting(core -> core.registers().get(1))
                .containsExactly(0, 1, 2, 3, 4, 5, 6, 7);
    }

    @ParameterizedTest
    @CsvSource({
        "out, 0x5A, 90",
        "drive, 3, 3",
        "span0, -5, -5",
        "level0, 7, 7",
        "span1, 8, 8",
        "level1, -1, -1",
        "tally0, 12, 12",
        "tally1, -2, -2",
        "mode0, 0x306, 774",
        "mode1, 0x202, 514"
    })
    void port_writtenAndReadBack_holdsItsValue(String port, String value, int back) {
        Trial trial = run("""
                core 0
                        set   r1, %s
                        write %2$s, r1
                        read  r2, %2$s
                        halt
                """.formatted(value, port));

        assertThat(trial.register(0, 2)).isEqualTo(back);
    }

    @Test
    void ports_ofTheTwoTallies_areApart() {
        Trial trial = run("""
                core 0
                        set   r1, 11
                        write tally0, r1
                        set   r1, 12
                        write span0, r1
                        set   r1, 13
                        write level0, r1
                        set   r1, 21
                        write tally1, r1
                        set   r1, 22
                        write span1, r1
                        set   r1, 23
                        write level1, r1
                        set   r1, 0x105
                        write mode1, r1
                        read  r2, tally0
                        read  r3, span0
                        read  r4, level0
                        read  r5, span1
                        read  r6, level1
                        read  r7, mode0
                        read  r8, mode1
                        halt
                """);

        assertThat(trial.core(0).registers().subList(2, 9)).containsExactly(11, 12, 13, 22, 23, 0, 0x105);
    }

    @Test
    void ports_belongToTheirCore() {
        Trial trial = run("""
                core 0
                        set   r1, 5
                        write out, r1
                        write tally0, r1
                        write span1, r1
                        halt
                core 1
                        pause 8
                        read  r2, out
                        read  r3, tally0
                        read  r4, span1
                        halt
                """);

        assertThat(trial.core(1).registers().subList(2, 5)).containsExactly(0, 0, 0);
    }

    // ---- halt ----

    @Test
    void halt_makesTheCoreIdle_afterItsPlainTime() {
        Trial trial = run(design().plain(4), """
                core 0
                        halt
                core 1
                        pause 10
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 4, idle 10");
    }

    @Test
    void coresWithoutASection_areIdleFromTheStart() {
        Trial trial = run("""
                core 2
                        halt
                """);

        assertThat(trial.lane(1)).isEqualTo("idle 1");
        assertThat(trial.lane(2)).isEqualTo("work 1");
    }

    @Test
    void memoriesAndRegisters_outsideTheProgram_are0() {
        Trial trial = run("""
                core 0
                        load  r1, [500]
                        fetch r2, [600]
                        halt
                shared at 10
                        word 5
                """);

        assertThat(trial.core(0).registers()).containsOnly(0);
        assertThat(trial.report().shared()).containsExactly(entry(10, 5));
        // load, fetch and halt alone.
        assertThat(trial.core(0).privateWords()).containsOnlyKeys(0, 1, 2);
    }
}
