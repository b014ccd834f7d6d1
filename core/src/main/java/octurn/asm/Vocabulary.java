package octurn.asm;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import octurn.isa.Port;
import org.jspecify.annotations.Nullable;

/** The words of the language, which may be written in any case and cannot be defined. */
final class Vocabulary {

    static final List<String> DIRECTIVES = List.of("core", "image", "shared", "word", "text", "space");

    /** The directives that begin a section. */
    static final List<String> SECTIONS = DIRECTIVES.subList(0, 3);

    private static final int REGISTERS = 16;

    private static final Map<String, Integer> REGISTER = new HashMap<>();
    private static final Map<String, Port> PORT = new HashMap<>();
    private static final Map<String, String> MEANING = new HashMap<>();

    static {
        for (String word : List.of("if", "at", "all")) {
            MEANING.put(word, "a word of the language");
        }
        for (Port port : Port.values()) {
            PORT.put(port.text(), port);
            MEANING.put(port.text(), "a port");
        }
        for (String directive : DIRECTIVES) {
            MEANING.put(directive, "a directive");
        }
        for (String mnemonic : Mnemonic.names()) {
            MEANING.put(mnemonic, "an instruction");
        }
        for (int i = 0; i < REGISTERS; i++) {
            REGISTER.put("r" + i, i);
            MEANING.put("r" + i, "a register");
        }
    }

    private Vocabulary() {}

    /** What a word of the language is, as in "a port"; null if it is none and so may be defined. */
    static @Nullable String meaning(String word) {
        return MEANING.get(lower(word));
    }

    /** The number of the register with this name, or {@link Operand#NONE}. */
    static int register(String word) {
        return REGISTER.getOrDefault(lower(word), Operand.NONE);
    }

    static @Nullable Port port(String word) {
        return PORT.get(lower(word));
    }

    /** The words that a line may begin with. */
    static List<String> firstWords() {
        List<String> words = new ArrayList<>(DIRECTIVES);
        Mnemonic.names().forEach(words::add);
        return words;
    }

    static List<String> ports(boolean writableOnly) {
        List<String> ports = new ArrayList<>();
        for (Port port : Port.values()) {
            if (port.writable() || !writableOnly) {
                ports.add(port.text());
            }
        }
        return ports;
    }

    static String lower(String word) {
        return word.toLowerCase(Locale.ROOT);
    }
}
