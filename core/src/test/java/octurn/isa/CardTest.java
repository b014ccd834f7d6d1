package octurn.isa;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import octurn.design.Cost;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class CardTest {

    private static final Path FILE = Path.of("..", "docs", "card.md");
    private static final String CARD = Card.markdown(CardTest::standardCycles);

    /** When an instruction changes, run this test with {@code -Docturn.writeCard=true} to write the card anew. */
    @Test
    void cardFile_isMadeFromTheTables() throws IOException {
        if (Boolean.getBoolean("octurn.writeCard")) {
            Files.writeString(FILE, CARD);
        }
        assertThat(Files.readString(FILE)).isEqualTo(CARD);
    }

    @ParameterizedTest
    @EnumSource
    void card_listsEveryInstructionOnce(Op op) {
        assertThat(CARD.lines()
                        .filter(line -> line.startsWith(
                                "| %02X | %c | ".formatted(op.code(), op.form().letter()))))
                .singleElement()
                .asString()
                .contains("`" + op.mnemonic())
                .contains(op.does())
                .contains(op.timing().text());
    }

    /** The layouts of a form with a constant and a register, one without, and one of a single field. */
    @Test
    void layouts_areThoseOfTheInstructionSet() {
        assertThat(CARD)
                .contains("17 = 1: rd 25..22, ra 21..18, c 16..0<br>17 = 0: rd 25..22, address 16..0 |")
                .contains("17 = 1: COND 25..22, ra 21..18, constant b 16..9, distance to x 8..0"
                        + "<br>17 = 0: COND 25..22, ra 21..18, register b 12..9, distance to x 8..0 |")
                .contains("| L | `again` | rd 25..22, distance to x 21..0 |")
                .contains("| T | `stop` | rc 25..22 |");
    }

    private static int standardCycles(Timing timing) {
        Cost cost = Cost.DEFAULT;
        return switch (timing) {
            case PLAIN -> cost.plain();
            case PRIVATE -> cost.privateAccess();
            case TAKEN -> cost.taken();
            case MULTIPLY -> cost.multiply();
            case DIVIDE -> cost.divide();
            case TAKEN_OR_PLAIN, ACCESS, HOLD, UNTIL_TIME, UNTIL_PINS ->
                throw new IllegalArgumentException("no single cost: " + timing);
        };
    }
}
