package octurn.sweep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.stream.IntStream;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.measure.Measured;
import octurn.sweep.SweepRow.Status;
import org.junit.jupiter.api.Test;

class SweepTaskTest {

    private static final String BUMPS = """
        goal = 20
        core all
                set r1, goal
        next:   set r2, 1
                bump r2, [count]
                again r1, next
                halt
        shared
        count:  word 0
        """;

    private static Grid grid(String... axes) {
        return new Grid(
                Design.DEFAULT, List.of(), Arrays.stream(axes).map(Axis::parse).toList());
    }

    private static List<SweepRow> rows(String text, Grid grid) {
        SweepTask task =
                new SweepTask("test.turn", text.getBytes(StandardCharsets.UTF_8), grid, Scenario.QUIET, 50_000);
        return IntStream.range(0, grid.size()).mapToObj(task::run).toList();
    }

    private static String finding(String text, Grid grid) {
        Program program = Measured.assemble(text, grid.base());
        return Finding.of(grid, rows(text, grid), Finding.ownValues(grid, program))
                .sentence();
    }

    /** Fewer bumps are fewer counts: quicker, but not the same work. */
    @Test
    void finding_bestOfFewerConstants_saysThatItsResultIsAnother() {
        assertThat(finding(BUMPS, grid("goal=10,20")))
                .contains("less time than with goal 20, as it is now")
                .endsWith("But there it leaves another result in shared memory, so it may do other work in that time.");
    }

    @Test
    void finding_bestOfOtherSlots_saysNothingOfResults() {
        assertThat(finding(BUMPS, grid("slotCycles=1,3"))).doesNotContain("result");
    }

    // ---- the grid

    @Test
    void points_areNumberedWithTheLastAxisFastest() {
        Grid grid = grid("slotCycles=1,2", "goal=5..7");

        assertThat(grid.size()).isEqualTo(6);
        assertThat(IntStream.range(0, 6).mapToObj(grid::values))
                .containsExactly(
                        List.of("1", "5"),
                        List.of("1", "6"),
                        List.of("1", "7"),
                        List.of("2", "5"),
                        List.of("2", "6"),
                        List.of("2", "7"));
        assertThat(grid.design(4).slotCycles()).isEqualTo(2);
        assertThat(grid.constants(4)).isEqualTo(Map.of("goal", 6L));
        assertThat(grid.constantNames()).containsExactly("goal");
    }

    /** The order fits the policy and the policy the cores, in whatever order the axes are given. */
    @Test
    void design_withOrderPolicyAndCores_takesThemInTheRightOrder() {
        Grid grid = grid("admission.order=2:1:0", "admission.policy=priority", "cores=3");

        assertThat(grid.design(0).admission().policy()).isEqualTo("priority");
        assertThat(grid.design(0).cores()).isEqualTo(3);
    }

    @Test
    void set_holdsForAllPoints() {
        Grid grid = new Grid(
                Design.DEFAULT,
                List.of(Axis.parse("slotCycles=2"), Axis.parse("goal=9")),
                List.of(Axis.parse("cores=4,8")));

        assertThat(grid.design(1).slotCycles()).isEqualTo(2);
        assertThat(grid.constants(0)).isEqualTo(Map.of("goal", 9L));
    }

    @Test
    void aGridThatIsNone_isRefused() {
        assertThatThrownBy(() -> grid("cores=1..8", "cores=4")).hasMessage("cores is given twice");
        assertThatThrownBy(() -> grid("goal=1..10000", "cores=1..32", "slotCycles=1..64"))
                .hasMessageStartingWith("the grid has more than 1,000,000 points");
        assertThatThrownBy(() -> new Grid(Design.DEFAULT, List.of(Axis.parse("goal=1,2")), List.of()))
                .hasMessage("goal is set to one value, not to 2");
    }

    // ---- the points

    @Test
    void points_areRunUnderTheirOwnDesignAndConstants() {
        List<SweepRow> rows = rows(BUMPS, grid("slotCycles=3,6", "goal=20,40"));

        assertThat(rows).extracting(SweepRow::status).containsOnly(Status.ALL_IDLE);
        // Core 0 is the last: first admitted at a rotation, then once in each; 3 or 6 of the last slot, again and halt.
        assertThat(rows)
                .extracting(row -> row.figures().orElseThrow().cycles())
                .containsExactly(24 * 20L + 5, 24 * 40L + 5, 48 * 20L + 8, 48 * 40L + 8);
        assertThat(rows.get(0).sharedChecksum()).isEqualTo(rows.get(2).sharedChecksum());
        assertThat(rows.get(0).sharedChecksum()).isNotEqualTo(rows.get(1).sharedChecksum());
    }

    @Test
    void pointsThatFail_areRowsThatSaySo() {
        String text = """
            core 0
                    set r1, slot - 2
                    div r2, r2, r1
                    set r3, cores
                    set r4, 16
            more:   jump more if r3 == r4
                    halt
            core 3
                    halt
            """;

        List<SweepRow> rows = rows(text, grid("cores=2,8,16", "slotCycles=2,3"));

        assertThat(rows)
                .extracting(SweepRow::status)
                .containsExactly(Status.UNFIT, Status.UNFIT, Status.FAULT, Status.ALL_IDLE, Status.FAULT, Status.LIMIT);
        assertThat(rows.get(0).message()).startsWith("line 8: ").contains("3");
        assertThat(rows.get(0).figures()).isEmpty();
        assertThat(rows.get(2).message()).isEqualTo("core 0, line 3: divide-by-zero: a division by 0");
        assertThat(rows.get(5).message()).isEqualTo("not at its end at the limit of 50000 cycles");
        assertThat(rows.get(3).message()).isEmpty();
    }

    @Test
    void aPointWhoseValuesDoNotGoTogether_isARow() {
        List<SweepRow> rows =
                rows(BUMPS, grid("admission.policy=rotation,first-come", "admission.order=0:1:2:3:4:5:6:7"));

        assertThat(rows.get(1).status()).isEqualTo(Status.UNFIT);
        assertThat(rows.get(1).message()).isEqualTo("admission.order: the policy first-come has none");
    }

    @Test
    void aStuckPoint_isARow() {
        List<SweepRow> rows = rows("core 1\n fetch r1, [0]\n halt\n", grid("admission.order=0:1,0"));

        assertThat(rows).extracting(SweepRow::status).containsExactly(Status.ALL_IDLE, Status.STUCK);
        assertThat(rows.get(1).message()).startsWith("The run is stuck");
    }

    @Test
    void aPinOfTheScenario_thatAPointDoesNotHave_isARow() {
        Scenario scenario = new Scenario(OptionalLong.empty(), List.of(new Input.Changes(3, List.of())));
        Grid grid = grid("pins=3,4");
        SweepTask task = new SweepTask("test.turn", BUMPS.getBytes(StandardCharsets.UTF_8), grid, scenario, 50_000);

        assertThat(task.run(0).message()).isEqualTo("the scenario gives pin 3 a level, but the design has 3 pins");
        assertThat(task.run(1).status()).isEqualTo(Status.ALL_IDLE);
    }

    @Test
    void aConstantThatTheProgramDoesNotHave_isARowForEachPoint() {
        assertThat(rows(BUMPS, grid("gaol=1,2"))).extracting(SweepRow::status).containsOnly(Status.UNFIT);
    }

    /** Any order, any number of times: the same row. */
    @Test
    void points_doNotKnowEachOther() {
        Grid grid = grid("slotCycles=1..5");
        SweepTask task =
                new SweepTask("test.turn", BUMPS.getBytes(StandardCharsets.UTF_8), grid, Scenario.QUIET, 50_000);

        List<SweepRow> forward = IntStream.range(0, 5).mapToObj(task::run).toList();
        List<SweepRow> backward =
                IntStream.range(0, 5).map(i -> 4 - i).mapToObj(task::run).toList();

        assertThat(backward).containsExactlyInAnyOrderElementsOf(forward);
    }

    // ---- what was found

    /** Core 2 is the last with slots of one cycle: its first at 10, then one every 8; 1 of the slot, again and halt. */
    @Test
    void finding_aBetterPoint_saysByHowMuch() {
        assertThat(finding(BUMPS, grid("slotCycles=1..6")))
                .isEqualTo("With slotCycles 1 it would have taken 66 % less time than with slotCycles 3, as it is now:"
                        + " 165 cycles instead of 485 cycles; of 6 points it is the best."
                        + " Next to it: 2 takes 33 % less, 4 takes 33 % more.");
    }

    @Test
    void finding_noBetterPoint_saysSo() {
        assertThat(finding(BUMPS, grid("slotCycles=3..6")))
                .isEqualTo("No point beats slotCycles 3, as it is now: 485 cycles; the next best, slotCycles 4, takes"
                        + " 33 % more. Next to it: 4 takes 33 % more.");
    }

    @Test
    void finding_withoutTheDesignAsItIs_namesTheBest() {
        assertThat(finding(BUMPS, grid("slotCycles=5,6", "goal=10,20")))
                .isEqualTo("Of 4 points slotCycles 5, goal 10 takes the least time: 407 cycles.");
    }

    @Test
    void finding_noPointThatEnds_saysSo() {
        assertThat(finding("core 0\nnext: jump next\n", grid("slotCycles=3,4")))
                .isEqualTo("At no point did the program come to its end.");
    }

    @Test
    void finding_pointsThatFail_areCounted() {
        assertThat(finding("core 3\n fetch r1, [0]\n halt\n", grid("cores=2,4,8")))
                .endsWith("1 of 3 points did not come to their end.");
    }

    @Test
    void finding_resultsThatDiffer_areToldWhereNothingOfTheProgramWasVaried() {
        String text = "core 0\n fetch r1, [0]\n read r2, time\n post r2, [1]\n halt\n";

        assertThat(finding(text, grid("slotCycles=1..3"))).contains("The results in shared memory differ");
        assertThat(finding(BUMPS, grid("goal=1..3"))).doesNotContain("The results");
        assertThat(finding(BUMPS, grid("cores=4,8"))).doesNotContain("The results");
    }

    @Test
    void finding_ofOtherKindsOfAxes_knowsTheDesignAsItIs() {
        assertThat(finding(BUMPS, grid("admission.policy=own-port,rotation")))
                .contains("policy rotation, as it is now");
        assertThat(finding(BUMPS, grid("goal=10,20"))).contains("goal 20, as it is now");
        assertThat(finding(BUMPS, grid("admission.order=0:1:2:3:4:5:6:7,7:6:5:4:3:2:1:0")))
                .contains("as it is now");
    }
}
