package octurn.published;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * A network of comparators sorts every input if it sorts every input of zeros and ones: the 0-1 principle (Knuth, The
 * Art of Computer Programming, volume 3, section 5.3.4).
 */
class SortingNetworkTest {

    private static final int COMPARATORS = 19;
    private static final Pattern PAIR = Pattern.compile("(?<=word {2}|, )\\d,\\d");

    @Test
    void network_sortsAll256InputsOfZerosAndOnes() {
        assertThat(Published.run("sorting-network").word("sorted")).isEqualTo(256);
    }

    /** Nineteen is the least for eight inputs (Floyd, in the same section), so with one taken away it cannot sort. */
    @ParameterizedTest
    @MethodSource("comparators")
    void network_withoutOneOfItsComparators_leavesSomeInputUnsorted(int missing) {
        String text = Published.text("sorting-network");
        List<MatchResult> pairs = new ArrayList<>(PAIR.matcher(text).results().toList());
        assertThat(pairs).hasSize(COMPARATORS);
        // A comparator of a place with itself does nothing.
        MatchResult pair = pairs.get(missing);
        String mutilated = text.substring(0, pair.start()) + "0,0" + text.substring(pair.end());

        assertThat(Published.runText(mutilated, Design.DEFAULT).word("sorted")).isBetween(1, 255);
    }

    static IntStream comparators() {
        return IntStream.range(0, COMPARATORS);
    }
}
