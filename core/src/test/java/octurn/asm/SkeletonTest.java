package octurn.asm;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SkeletonTest {

    private static final String PROGRAM = """
            goal = 10
            core 0
            more:   set r1, goal
                    jump more if r1 u< 'A'
                    text "more"
            """;

    private static String skeleton(String text) {
        return Skeleton.of(text.getBytes(StandardCharsets.UTF_8)).orElse("refused");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "goal = 10 ; soil\r\nCORE 0\r\nmore:\r\n\r\nSet R1,goal\r\njump more if r1 U< 65\r\ntext \"more\"",
                "end=0xA\ncore 0\nagain1: set r1, end\n\tjump again1 if r1 u<0b100_0001\n text \"more\""
            })
    void skeleton_withOtherNamesAndLayout_isTheSame(String text) {
        assertThat(skeleton(text)).isEqualTo(skeleton(PROGRAM));
    }

    @ParameterizedTest
    @ValueSource(strings = {"10, 11", "r1, r2", "0, 1", "u<, <", "\"more\", \"less\"", "more if, goal if"})
    void skeleton_withAnythingElseChanged_differs(String change) {
        String[] fromTo = change.split(", ", -1);
        assertThat(PROGRAM).contains(fromTo[0]);
        assertThat(skeleton(PROGRAM.replace(fromTo[0], fromTo[1]))).isNotEqualTo(skeleton(PROGRAM));
    }

    @Test
    void skeleton_ofTextWithMistakes_isThereAndKeepsThem() {
        assertThat(skeleton("core 0\n fecth r1, [a]\n \"open")).isEqualTo("core 0 \n#1 r1 , [ #2 ] \n? \"open\n");
    }

    @Test
    void skeleton_ofNoText_isNone() {
        assertThat(Skeleton.of(new byte[] {(byte) 0xFF, 0})).isEmpty();
    }
}
