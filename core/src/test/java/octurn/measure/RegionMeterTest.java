package octurn.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.OptionalLong;
import octurn.design.Design;
import octurn.measure.RegionPasses.Pass;
import org.junit.jupiter.api.Test;

class RegionMeterTest {

    private static final String BUMPS = """
        core 0
                set   r1, 3
        next:   set   r2, 1
        ask:    bump  r2, [0]
        done:   again r1, next
                halt
        """;

    private static List<RegionPasses> between(String text, String from, String to) {
        return Measured.regions(text, Design.DEFAULT, from, to, OptionalLong.empty());
    }

    /** The first bump is asked for at 3 and waits 21, the others 17; each takes 1 of work and 3 of its slot besides. */
    @Test
    void passes_betweenTwoLabels_areCountedInCyclesAndWaits() {
        RegionPasses region = between(BUMPS, "ask", "done").get(0);

        assertThat(region.cycles()).isEqualTo(new Spread(3, 25 + 21 + 21, 21, 25));
        assertThat(region.waits()).isEqualTo(new Spread(3, 21 + 17 + 17, 17, 21));
        assertThat(region.worst()).contains(new Pass(1, 2, 25));
        assertThat(region.open()).isEmpty();
        assertThat(region.again()).isZero();
    }

    @Test
    void passes_fromALabelToItself_areItsPeriods() {
        RegionPasses region = between(BUMPS, "next", "next").get(0);

        assertThat(region.cycles()).isEqualTo(new Spread(2, 28 + 24, 24, 28));
        // The third one is under way when the core halts.
        assertThat(region.open()).isPresent();
    }

    /** A pass runs from the first time at the label, however often the core comes by before the other one. */
    @Test
    void aLabelReachedAgain_doesNotBeginThePassAnew() {
        String text = "core 0\n set r1, 4\nfrom: nop\n again r1, from\nto: halt\n";

        RegionPasses region = between(text, "from", "to").get(0);

        assertThat(region.cycles()).isEqualTo(new Spread(1, 11, 11, 11));
        assertThat(region.again()).isEqualTo(3);
    }

    @Test
    void aDeadline_isCheckedPassByPass_andTheFirstMissIsNamed() {
        List<RegionPasses> regions = Measured.regions(BUMPS, Design.DEFAULT, "ask", "done", OptionalLong.of(21));

        assertThat(regions.get(0).misses()).isEqualTo(1);
        assertThat(regions.get(0).firstMiss()).contains(new Pass(1, 2, 25));
    }

    @Test
    void aDeadlineOfExactlyThePass_isMet() {
        List<RegionPasses> regions = Measured.regions(BUMPS, Design.DEFAULT, "ask", "done", OptionalLong.of(25));

        assertThat(regions.get(0).misses()).isZero();
        assertThat(regions.get(0).firstMiss()).isEmpty();
    }

    /** A pass that is not over at the end of the run has missed a deadline that is over. */
    @Test
    void anOpenPass_thatIsAlreadyTooLong_isAMiss() {
        String text = "core 0\nfrom: pause 1000\n halt\nto: halt\n";

        RegionPasses region = Measured.regions(text, Design.DEFAULT, "from", "to", OptionalLong.of(500))
                .get(0);

        assertThat(region.cycles()).isEqualTo(Spread.NONE);
        assertThat(region.open()).contains(new Pass(1, 0, 1001));
        assertThat(region.misses()).isEqualTo(1);
        assertThat(region.firstMiss()).isEqualTo(region.open());
    }

    @Test
    void labelsOfSeveralSections_countForTheCoresThatRunThem() {
        String text = """
            core 0
            a:      nop
            b:      halt
            core 1, 2
                    nop
            a:      mul r1, r1, r1
            b:      halt
            core 3
                    halt
            """;

        List<RegionPasses> regions = between(text, "a", "b");

        assertThat(regions).extracting(RegionPasses::core).containsExactly(0, 1, 2);
        assertThat(regions).extracting(region -> region.cycles().total()).containsExactly(1L, 4L, 4L);
    }

    @Test
    void labelsInSharedMemory_countForEveryCoreThatComesBy() {
        String text = """
            core 0, 1
                    far   a
            shared
            a:      nop
            b:      halt
            """;

        List<RegionPasses> regions = between(text, "a", "b");

        // Core 0 comes to a at 2, is admitted at 24, works at 27 and asks for b at 28.
        assertThat(regions.get(0).cycles()).isEqualTo(new Spread(1, 26, 26, 26));
        assertThat(regions.get(0).waits()).isEqualTo(new Spread(1, 22, 22, 22));
        assertThat(regions).hasSize(2);
    }

    @Test
    void labelsOfAnImage_countOnceItIsLoaded() {
        String text = """
            core 0
                    set   r1, -1
                    set   r2, worker
                    start r1, r2, r0
                    halt
            image worker
            a:      mul   r1, r1, r1
            b:      halt
            """;

        assertThat(between(text, "a", "b")).singleElement().satisfies(region -> {
            assertThat(region.core()).isEqualTo(1);
            assertThat(region.cycles().total()).isEqualTo(4);
        });
    }

    @Test
    void aRegionThatNoCoreComesTo_hasNoEntries() {
        assertThat(between("core 0\n halt\na: nop\nb: halt\n", "a", "b")).isEmpty();
    }

    @Test
    void anUnknownLabel_isRefused() {
        assertThatThrownBy(() -> between(BUMPS, "ask", "dune"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("there is no label dune");
        assertThat(RegionMeter.labels(Measured.assemble(BUMPS, Design.DEFAULT))).containsExactly("ask", "done", "next");
    }
}
