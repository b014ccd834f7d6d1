package octurn.machine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** States, ends and kinds of fault, as the report names them. */
class StateTest {

    @Test
    void states_areNamedAsInTheReport() {
        assertThat(Stream.of(State.values()).map(State::text))
                .containsExactly(
                        "work",
                        "wait",
                        "slot",
                        "codeWait",
                        "codeSlot",
                        "loadWait",
                        "loadSlot",
                        "sleep",
                        "idle",
                        "fault");
    }

    @Test
    void ends_areNamedAsInTheReport() {
        assertThat(Stream.of(End.values()).map(End::text)).containsExactly("all-idle", "stuck", "limit");
    }

    @Test
    void faults_areNamedAsInTheReport() {
        assertThat(Stream.of(Fault.Kind.values()).map(Fault.Kind::text))
                .containsExactly(
                        "not-an-instruction",
                        "off-the-end",
                        "private-address",
                        "shared-address",
                        "divide-by-zero",
                        "no-such-core",
                        "bad-tally",
                        "bad-image");
    }

    @Test
    void waitingStates_becomeTheirSlots() {
        assertThat(State.WAIT.admitted()).isEqualTo(State.SLOT);
        assertThat(State.CODE_WAIT.admitted()).isEqualTo(State.CODE_SLOT);
        assertThat(State.LOAD_WAIT.admitted()).isEqualTo(State.LOAD_SLOT);
    }

    @ParameterizedTest
    @EnumSource
    void state_waitsIsAdmittedOrNeither(State state) {
        assertThat(state.isWaiting())
                .isEqualTo(state.text().toLowerCase(Locale.ROOT).endsWith("wait"));
        assertThat(state.isAdmitted())
                .isEqualTo(state.text().toLowerCase(Locale.ROOT).endsWith("slot"));
        if (!state.isWaiting()) {
            assertThatThrownBy(state::admitted)
                    .isInstanceOf(IllegalStateException.class)
                    .hasMessage("not waiting: %s", state);
        }
    }
}
