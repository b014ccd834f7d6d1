package octurn.report;

import static org.assertj.core.api.Assertions.assertThat;

import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.run.Run;
import org.junit.jupiter.api.Test;

class PlacesTest {

    private static final Program PROGRAM = Runs.assembled("""
            core 0
            begin:  set   r1, ';'           ; not a comment; this is one
                    post  r1, [table+2]
            data:   word  7
            shared at 10
            table:
            first:  word  1, 2, 3
            image child
                    halt
            """, Design.DEFAULT);

    private final Places places = new Places(PROGRAM);

    @Test
    void sharedName_wordsOfASection_areNamedFromTheLabelBefore() {
        assertThat(places.sharedName(10)).isEqualTo("table");
        assertThat(places.sharedName(12)).isEqualTo("table+2");
        assertThat(places.sharedName(13)).isEqualTo("child");
        assertThat(places.sharedName(14)).isEqualTo("child+1");
    }

    @Test
    void sharedName_wordsOfNoSection_haveNone() {
        assertThat(places.sharedName(9)).isEmpty();
        assertThat(places.sharedName(15)).isEmpty();
        assertThat(places.sharedName(-1)).isEmpty();
        assertThat(places.sharedName(1L << 40)).isEmpty();
    }

    @Test
    void sharedAddresses_severalLabelsOfOneWord_areAllThere() {
        assertThat(places.sharedAddresses()).containsEntry("table", 10).containsEntry("first", 10);
        assertThat(places.privateAddresses(0)).containsEntry("begin", 0).containsEntry("data", 2);
        assertThat(places.privateAddresses(1)).isEmpty();
        assertThat(places.privateLabels(0)).containsEntry(2, "data");
    }

    @Test
    void instruction_ofALine_isWithoutLabelAndComment() {
        Run run = Run.of(PROGRAM, Scenario.QUIET, 100);

        assertThat(places.instruction(
                        run.chip().core(0), false, 0, run.chip().core(0).privateWord(0)))
                .isEqualTo("set r1, ';'");
        assertThat(places.line(run.chip().core(0), false, 1)).isEqualTo(3);
        assertThat(places.line(run.chip().core(0), false, 3)).isZero();
        assertThat(places.line(run.chip().core(0), true, 99_999)).isZero();
    }

    @Test
    void isCode_dataAndCode_areToldApart() {
        Run run = Run.of(PROGRAM, Scenario.QUIET, 100);

        assertThat(places.isCode(run.chip().core(0), false, 1)).isTrue();
        assertThat(places.isCode(run.chip().core(0), false, 2)).isFalse();
        assertThat(places.isCode(run.chip().core(0), true, 14)).isTrue();
        assertThat(places.isCode(run.chip().core(1), false, 1)).isFalse();
    }
}
