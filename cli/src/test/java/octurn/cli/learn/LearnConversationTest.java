package octurn.cli.learn;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import octurn.cli.learn.Learners.Drawer;
import octurn.cli.learn.Learners.Room;
import org.junit.jupiter.api.Test;

class LearnConversationTest {

    private final Room room = new Room();
    private final List<String> said = new ArrayList<>();

    private boolean talk(String lines) throws IOException {
        return talk(new BufferedReader(new StringReader(lines)));
    }

    private boolean talk(BufferedReader lines) throws IOException {
        return new LearnConversation(room.learner()).run(lines, said::addAll);
    }

    /** The file is saved before the second line is typed. */
    @Test
    void line_afterTheFileWasSaved_isPrecededByItsCheck() throws IOException {
        BufferedReader lines = new BufferedReader(new StringReader("open count\n\n\n")) {
            private int read;

            @Override
            public String readLine() throws IOException {
                read++;
                if (read == 3) {
                    room.desk.save("desk/count.turn", Drawer.model());
                }
                return super.readLine();
            }
        };

        assertThat(talk(lines)).isTrue();
        assertThat(said)
                .containsSubsequence(
                        "Your file is desk/count.turn.",
                        "Saved, check 2: passed.",
                        "Check 2: passed, all 4.",
                        "This lesson is done. You can count drips so that none is lost.");
    }

    @Test
    void walk_inWords_takesTheSteppersCommandsAndItsOwn() throws IOException {
        assertThat(talk("open drip\nskip\nnext\nwhy\nback\nnext\nprevious\nquit\n"))
                .isTrue();

        assertThat(said)
                .containsSubsequence(
                        "Bed 4 asks for the shared word here.",
                        "Cycle 2, 0.042 \u00b5s.",
                        "Its slot opens, and it is let in, after 9 cycles.",
                        "Bed 4 asks for the shared word here.",
                        "One drip, step 2 of 4, watch.");
    }

    @Test
    void answer_thatIsNoCommand_isTakenAsOne() throws IOException {
        assertThat(talk("open drip\nskip\nskip\nlots\n")).isFalse();
        assertThat(said).anyMatch(line -> line.startsWith("Not done: ") && line.contains("number"));
    }

    @Test
    void line_ofAComment_saysNothing() throws IOException {
        assertThat(talk("# nothing\n")).isTrue();
        assertThat(said).hasSize(6);
    }
}
