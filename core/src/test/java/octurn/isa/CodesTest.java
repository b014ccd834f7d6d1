package octurn.isa;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.Field;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Binds the numbers of the engine's switches to the tables that people read. */
class CodesTest {

    @Test
    void codes_areThoseOfTheInstructionsAndPorts() throws IllegalAccessException {
        Map<String, Integer> expected = new TreeMap<>();
        Stream.of(Op.values()).forEach(op -> expected.put(op.name(), op.code()));
        Stream.of(Port.values()).forEach(port -> expected.put(port.name(), port.code()));
        assertThat(expected).hasSize(Op.values().length + Port.values().length);

        Map<String, Integer> codes = new TreeMap<>();
        for (Field field : Codes.class.getFields()) {
            codes.put(field.getName(), field.getInt(null));
        }

        assertThat(codes).isEqualTo(expected);
    }
}
