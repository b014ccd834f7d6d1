package octurn.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import octurn.design.Design;
import octurn.measure.LoopPasses.Steady;
import org.junit.jupiter.api.Test;

class LoopMeterTest {

    private static List<LoopPasses> loops(String text) {
        return Measured.of(text, Design.DEFAULT).loops();
    }

    /**
     * Eight cores count with bump. Core 0 asks first at 3 and is admitted at 24; from then on set, bump and again take 1,
     * 1 + 17 + 3 and 2 cycles: one rotation of 24. Its first pass is the 4 cycles of set, bump's work and again, 3 of the
     * slot and the 21 of the first wait.
     */
    @Test
    void aLoopWithOneAccess_settlesIntoOneRotationAPass() {
        String text = "core all\n set r1, 100\nnext: set r2, 1\n bump r2, [0]\n again r1, next\n halt\n";

        LoopPasses loop = loops(text).get(0);

        assertThat(loop.core()).isZero();
        assertThat(List.of(loop.head(), loop.tail(), loop.headLine(), loop.tailLine()))
                .containsExactly(1, 3, 3, 5);
        assertThat(loop.entries()).isEqualTo(1);
        assertThat(loop.trips()).isEqualTo(100);
        assertThat(loop.cycles()).isEqualTo(new Spread(99, 28 + 98 * 24, 24, 28));
        assertThat(loop.waits()).isEqualTo(new Spread(99, 21 + 98 * 17, 17, 21));
        // The second pass begins when the first one ends: at 1 + 28.
        assertThat(loop.steady()).contains(new Steady(2, 29, 1, 24));
    }

    @Test
    void aLoopOfPlainWork_takesTheSameFromTheFirstPass() {
        String text = "core 0\n set r1, 5\nnext: nop\n again r1, next\n halt\n";

        LoopPasses loop = loops(text).get(0);

        assertThat(loop.cycles()).isEqualTo(new Spread(4, 12, 3, 3));
        assertThat(loop.steady()).contains(new Steady(1, 1, 1, 3));
    }

    /** Odd and even passes differ by the multiplication, so the pattern repeats after two. */
    @Test
    void aLoopWhosePassesAlternate_hasAPeriodOfTwo() {
        String text = """
            core 0
                    set   r1, 20
            next:   and   r2, r1, 1
                    jump  even if r2 == 0
                    mul   r3, r3, r3
            even:   again r1, next
                    halt
            """;

        LoopPasses loop = loops(text).get(0);

        // Even: 1 + 2 + 2; odd: 1 + 1 + 4 + 2.
        assertThat(loop.steady()).contains(new Steady(1, 1, 2, 13));
    }

    @Test
    void aLoopWhosePassesGrow_hasNoSteadyPattern() {
        String text = "core 0\n set r1, 12\nnext: add r2, r2, 3\n pause r2\n again r1, next\n halt\n";

        LoopPasses loop = loops(text).get(0);

        assertThat(loop.cycles()).isEqualTo(new Spread(11, 11 * 3 + 3 * 66, 6, 36));
        assertThat(loop.steady()).isEmpty();
    }

    @Test
    void aLoopThatIsSeenTooShortly_hasNoSteadyPattern() {
        assertThat(loops("core 0\n set r1, 3\nnext: nop\n again r1, next\n halt\n")
                        .get(0)
                        .steady())
                .isEmpty();
    }

    /** The inner loop is entered once in each pass of the outer; the time outside is no pass of it. */
    @Test
    void nestedLoops_areTakenApart() {
        String text = """
            core 0
                    set   r1, 4
            outer:  set   r2, 3
            inner:  nop
                    again r2, inner
                    mul   r3, r3, r3
                    again r1, outer
                    halt
            """;

        List<LoopPasses> loops = loops(text);

        assertThat(loops).extracting(LoopPasses::headLine).containsExactly(3, 4);
        LoopPasses outer = loops.get(0);
        LoopPasses inner = loops.get(1);
        assertThat(outer.entries()).isEqualTo(1);
        assertThat(outer.trips()).isEqualTo(4);
        // set 1, three times nop 1, again 2 + 2 + 1, mul 4, again 2.
        assertThat(outer.cycles()).isEqualTo(new Spread(3, 3 * 15, 15, 15));
        assertThat(inner.entries()).isEqualTo(4);
        assertThat(inner.trips()).isEqualTo(12);
        assertThat(inner.cycles()).isEqualTo(new Spread(8, 8 * 3, 3, 3));
    }

    /** A call leaves the loop's addresses, but not the loop. */
    @Test
    void aLoopThatCalls_isNotLeftByTheCall() {
        String text = """
            core 0
                    set   r1, 5
            next:   call  work
                    again r1, next
                    halt
            work:   mul   r2, r2, r2
                    ret
            """;

        LoopPasses loop = loops(text).get(0);

        assertThat(loop.entries()).isEqualTo(1);
        assertThat(loop.cycles()).isEqualTo(new Spread(4, 4 * 10, 10, 10));
    }

    /** A subroutine above its caller is no loop, though the call goes back. */
    @Test
    void aCallUpwards_isNoLoop() {
        String text = """
            core 0
                    jump  main
            work:   nop
                    ret
            main:   call  work
                    call  work
                    call  work
                    halt
            """;

        assertThat(loops(text)).isEmpty();
    }

    @Test
    void aLoopThatIsLeftByAJump_andEnteredAgain_doesNotCountTheTimeBetween() {
        String text = """
            core 0
                    set   r3, 2
            again_: set   r1, 0
            next:   add   r1, r1, 1
                    jump  away if r1 == 4
                    jump  next
            away:   pause 500
                    again r3, again_
                    halt
            """;

        LoopPasses inner = loops(text).get(1);

        assertThat(inner.entries()).isEqualTo(2);
        assertThat(inner.trips()).isEqualTo(8);
        assertThat(inner.cycles()).isEqualTo(new Spread(6, 6 * 4, 4, 4));
    }

    /** In shared memory each instruction is fetched first; a pass runs from one request for the head to the next. */
    @Test
    void aLoopInSharedMemory_countsTheFetchesOfItsCode() {
        String text = """
            core 0
                    set   r1, 10
                    far   there
            shared
            there:  nop
                    again r1, there
                    halt
            """;

        LoopPasses loop = loops(text).get(0);

        assertThat(loop.inShared()).isTrue();
        // Two fetches a pass, each in a rotation of its own.
        assertThat(loop.steady()).map(Steady::periodCycles).contains(48L);
        assertThat(loop.trips()).isEqualTo(10);
    }

    @Test
    void aLoopInALoadedImage_isThatOfTheImage() {
        String text = """
            core 0
                    set   r1, 3
                    set   r2, worker
                    start r1, r2, r0
                    halt
            image worker
                    set   r4, 6
            back:   nop
                    again r4, back
                    halt
            """;

        LoopPasses loop = loops(text).get(0);

        assertThat(loop.core()).isEqualTo(3);
        assertThat(loop.headLine()).isEqualTo(8);
        assertThat(loop.trips()).isEqualTo(6);
    }

    /** More passes than are kept: the pattern found in those is held against the rest. */
    @Test
    void aVeryLongLoop_keepsItsPatternUntilAPassBreaksIt() {
        PassLengths steady = new PassLengths();
        PassLengths broken = new PassLengths();
        for (int i = 0; i < 2 * PassLengths.MOST + 1; i++) {
            steady.add(24L * i, i % 3 == 0 ? 20 : 26);
            broken.add(24L * i, i == 2 * PassLengths.MOST ? 7 : i % 3 == 0 ? 20 : 26);
        }

        assertThat(steady.steady()).contains(new Steady(1, 0, 3, 72));
        assertThat(broken.steady()).isEqualTo(Optional.empty());
    }
}
