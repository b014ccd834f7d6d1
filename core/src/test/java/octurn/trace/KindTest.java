package octurn.trace;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class KindTest {

    @Test
    void place_ofAnyAddress_isTakenApartAgain() {
        for (int address : new int[] {0, 1, 1023, 131071, Integer.MAX_VALUE, Integer.MIN_VALUE, -1}) {
            for (boolean inShared : new boolean[] {false, true}) {
                long place = Kind.place(address, inShared);
                assertThat(Kind.address(place)).isEqualTo(address);
                assertThat(Kind.inShared(place)).isEqualTo(inShared);
                assertThat(place).as("of %d", address).isBetween(0L, (1L << 33) - 1);
            }
        }
    }

    @Test
    void place_sorts_privateBeforeSharedAndUnsigned() {
        assertThat(List.of(
                        Kind.place(0, false),
                        Kind.place(5, false),
                        Kind.place(-1, false),
                        Kind.place(0, true),
                        Kind.place(5, true),
                        Kind.place(-1, true)))
                .isSorted();
    }

    @Test
    void sinkBoth_tellsBothInOrder() {
        List<String> told = new ArrayList<>();
        Sink both = Sink.both(
                (kind, cycle, core, a, b) -> told.add("first " + new Event(kind, cycle, core, a, b)),
                (kind, cycle, core, a, b) -> told.add("second " + new Event(kind, cycle, core, a, b)));

        both.event(Kind.ADMIT, 3, 1, 2, 5);

        String event = "Event[kind=ADMIT, cycle=3, core=1, a=2, b=5]";
        assertThat(told).containsExactly("first " + event, "second " + event);
    }
}
