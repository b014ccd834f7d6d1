package octurn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.Collectors;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.report.Listing.Row;
import octurn.report.Listing.Time;
import org.junit.jupiter.api.Test;

class ListingTest {

    private static final String TEXT = """
            core 0, 2
            begin:  set   r1, 5
                    big   r2, 0x12345678
            loop:   fetch r3, [cell]
                    jump  loop if r3 == 0
                    call  begin
                    word  0x04400005
            shared at 40
            cell:   word  -1, 2
            back:   far   back
            image child
                    load  r1, [3]
                    pause 9
                    pause r1
                    until r1
                    await r1, 0
                    mul   r1, r1, 2
                    div   r1, r1, 2
                    halt
            """;

    private static String shown(Row row) {
        Time time = row.time();
        String took = time == null
                ? "data"
                : time.least() + ".." + (time.most().isPresent() ? time.most().getAsLong() : "")
                        + (time.waits() ? "w" : "");
        return "%d %08X %d %s: %s".formatted(row.address(), row.word(), row.line(), took, row.text());
    }

    private static List<String> rows(int section, Design design) {
        return Listing.of(Runs.assembled(TEXT, design)).sections().get(section).rows().stream()
                .map(ListingTest::shown)
                .collect(Collectors.toList());
    }

    @Test
    void listing_coreSection_hasAddressWordLineTimeAndText() {
        assertThat(rows(0, Design.DEFAULT))
                .containsExactly(
                        "0 04400005 2 1..1: set r1, 5",
                        "1 04B45678 3 1..1: set r2, -764296",
                        "2 08800048 3 1..1: upper r2, 72",
                        "3 68C00028 4 4..27w: fetch r3, [40]",
                        "4 800E01FF 5 1..2: jump loop if r3 == 0",
                        "5 8BFFFFFB 6 2..2: call begin",
                        "6 04400005 7 data: 71303173");
    }

    @Test
    void listing_sharedSection_hasSharedAddresses() {
        assertThat(rows(1, Design.DEFAULT))
                .containsExactly("40 FFFFFFFF 9 data: -1", "41 00000002 9 data: 2", "42 9200002A 10 2..2: far 42");
    }

    @Test
    void listing_image_hasItsCountAndThenPrivateAddresses() {
        assertThat(rows(2, Design.DEFAULT))
                .containsExactly(
                        "43 00000008 11 data: 8",
                        "0 60400003 12 2..2: load r1, [3]",
                        "1 A8020009 13 9..9: pause 9",
                        "2 A8000001 14 1..: pause r1",
                        "3 AC000001 15 1..: until r1",
                        "4 B0060000 16 1..: await r1, 0",
                        "5 28460002 17 4..4: mul r1, r1, 2",
                        "6 30460002 18 16..16: div r1, r1, 2",
                        "7 C8000000 19 1..1: halt");
    }

    @Test
    void accessTime_underAPolicyWithoutABound_hasNoMost() {
        Design design = Runs.design(4, 5, 2, new Admission.Priority(Design.plainOrder(4)));
        assertThat(rows(0, design)).contains("3 68C00028 4 7..w: fetch r3, [40]");
    }

    @Test
    void pause_shorterThanPlain_takesPlain() {
        Design design = Runs.design(4, 3, 20, new Admission.OwnPort());
        assertThat(rows(2, design)).contains("1 A8020009 13 20..20: pause 9");
    }

    /** Taken may cost less than not taken. */
    @Test
    void branch_cheaperWhenTaken_isFromTheLessToTheMore() {
        Design design = Runs.design(4, 3, 20, new Admission.OwnPort());
        assertThat(rows(0, design)).contains("4 800E01FF 5 2..20: jump loop if r3 == 0");
    }

    @Test
    void sections_areInTheOrderOfTheFile() {
        assertThat(Listing.of(Runs.assembled(TEXT, Design.DEFAULT)).sections())
                .extracting(section -> section.block().kind().name())
                .containsExactly("CORE", "SHARED", "IMAGE");
    }
}
