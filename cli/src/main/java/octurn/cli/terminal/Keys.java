package octurn.cli.terminal;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jline.keymap.KeyMap;
import org.jline.terminal.Terminal;
import org.jline.terminal.impl.MouseSupport;
import org.jline.utils.InfoCmp.Capability;
import org.jspecify.annotations.Nullable;

/** What terminals send for a key, by the key's name in the table of commands. */
final class Keys {

    /** The name of an event of the mouse. */
    static final String MOUSE = "mouse";

    /** The name of a character: which one is known from what was read. */
    static final String CHARACTER = "character";

    /** The name of all that means nothing. */
    static final String UNKNOWN = "unknown";

    /** A lone escape is told from the beginning of a sequence by what does not follow in so many milliseconds. */
    private static final long ESCAPE_MILLIS = 60;

    private Keys() {}

    static KeyMap<String> of(Terminal terminal) {
        KeyMap<String> map = new KeyMap<>();
        map.setAmbiguousTimeout(ESCAPE_MILLIS);
        map.setUnicode(CHARACTER);
        map.setNomatch(UNKNOWN);
        for (char c = ' '; c <= '~'; c++) {
            map.bind(CHARACTER, String.valueOf(c));
        }
        sequences().forEach((sequence, name) -> map.bind(name, sequence));
        capabilities().forEach((capability, name) -> {
            String sequence = KeyMap.key(terminal, capability);
            if (sequence != null && !sequence.isEmpty()) {
                map.bind(name, sequence);
            }
        });
        for (@Nullable String sequence : MouseSupport.keys(terminal)) {
            if (sequence != null && !sequence.isEmpty()) {
                map.bind(MOUSE, sequence);
            }
        }
        return map;
    }

    private static Map<Capability, String> capabilities() {
        Map<Capability, String> names = new LinkedHashMap<>();
        names.put(Capability.key_left, "left");
        names.put(Capability.key_right, "right");
        names.put(Capability.key_up, "up");
        names.put(Capability.key_down, "down");
        names.put(Capability.key_home, "home");
        names.put(Capability.key_end, "end");
        names.put(Capability.key_npage, "pagedown");
        names.put(Capability.key_ppage, "pageup");
        names.put(Capability.key_dc, "delete");
        names.put(Capability.key_btab, "shift-tab");
        return names;
    }

    /** The sequences of the terminals in use: some send another one than they say. */
    private static Map<String, String> sequences() {
        Map<String, String> names = new LinkedHashMap<>();
        for (String prefix : new String[] {"\033[", "\033O"}) {
            names.put(prefix + "A", "up");
            names.put(prefix + "B", "down");
            names.put(prefix + "C", "right");
            names.put(prefix + "D", "left");
            names.put(prefix + "H", "home");
            names.put(prefix + "F", "end");
        }
        names.put("\033[1~", "home");
        names.put("\033[7~", "home");
        names.put("\033[4~", "end");
        names.put("\033[8~", "end");
        names.put("\033[3~", "delete");
        names.put("\033[5~", "pageup");
        names.put("\033[6~", "pagedown");
        names.put("\033[Z", "shift-tab");
        names.put("\t", "tab");
        names.put("\r", "enter");
        names.put("\n", "enter");
        names.put("\033OM", "enter");
        names.put("\177", "backspace");
        names.put("\b", "backspace");
        names.put("\033", "esc");
        names.put(" ", "space");
        for (char c : "acdekluwz".toCharArray()) {
            names.put(KeyMap.ctrl(Character.toUpperCase(c)), "ctrl-" + c);
        }
        return names;
    }
}
