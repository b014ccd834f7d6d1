package octurn.cli.stepper;

import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.design.Design;
import octurn.diag.Nearest;
import octurn.machine.Change;
import octurn.machine.Chip;
import octurn.report.Places;
import octurn.trace.Kind;

/**
 * A word of the chip that can be looked at and changed: a register, a private or a shared word.
 *
 * @param core whose; -1 for a shared word
 * @param isRegister whether the number is that of a register
 * @param number of the register, or the address
 */
record Target(int core, boolean isRegister, int number) {

    private static final Pattern REGISTER = Pattern.compile("[rR]([0-9]{1,2})");
    private static final Pattern MEMORY = Pattern.compile("(?i)(shared|private)(?-i)\\[\\s*([^\\[\\]]+?)\\s*\\]");
    private static final Pattern ADDRESS = Pattern.compile("([A-Za-z_][A-Za-z0-9_]*)\\s*(?:\\+\\s*(\\w+))?");

    /** Reads {@code r3}, {@code private[12]}, {@code shared[count]}, {@code shared[table+3]}. */
    static Target parse(String text, int core, Places places) {
        Design design = places.program().design();
        Matcher register = REGISTER.matcher(text);
        if (register.matches()) {
            int number = Integer.parseInt(register.group(1));
            if (number > 15) {
                throw new Mistake("there is no register %s: r0..r15".formatted(text));
            }
            return new Target(core, true, number);
        }
        Matcher memory = MEMORY.matcher(text);
        if (!memory.matches()) {
            throw new Mistake("\"%s\" is no word of the chip; r0..r15, private[..] and shared[..] are".formatted(text));
        }
        boolean shared = memory.group(1).equalsIgnoreCase("shared");
        Map<String, Integer> labels = shared ? places.sharedAddresses() : places.privateAddresses(core);
        int words = shared ? design.sharedWords() : design.privateWords();
        int address = address(memory.group(2), labels, words, shared ? "shared address" : "private address");
        return new Target(shared ? -1 : core, false, address);
    }

    /** An address: a number, a label, or a label plus a number. */
    static int address(String text, Map<String, Integer> labels, int words, String what) {
        long address;
        Matcher matcher = ADDRESS.matcher(text);
        if (Numerals.isNumber(text)) {
            address = Numerals.parse(text, what);
        } else if (matcher.matches()) {
            Integer label = labels.get(matcher.group(1));
            if (label == null) {
                String nearest = Nearest.of(matcher.group(1), labels.keySet());
                throw new Mistake("%s: there is no label \"%s\" there%s"
                        .formatted(
                                what,
                                matcher.group(1),
                                nearest == null ? "" : "; did you mean %s?".formatted(nearest)));
            }
            address = label + (matcher.group(2) == null ? 0 : Numerals.parse(matcher.group(2), what));
        } else {
            throw new Mistake("%s: \"%s\" is neither a number nor a label".formatted(what, text));
        }
        if (address < 0 || address >= words) {
            throw new Mistake("%s: %d is not 0..%d".formatted(what, address, words - 1));
        }
        return (int) address;
    }

    int value(Chip chip) {
        return isRegister
                ? chip.core(core).register(number)
                : core < 0 ? chip.sharedWord(number) : chip.core(core).privateWord(number);
    }

    /** Whether an event changes it; then {@link #valueAfter} tells to what. */
    boolean isChangedBy(Kind kind, int eventCore, long a) {
        return switch (kind) {
            case REGISTER -> isRegister && eventCore == core && a == number;
            case PRIVATE_WRITE -> !isRegister && eventCore == core && a == number;
            case SHARED_WRITE -> core < 0 && a == number;
            case LOADING -> core >= 0 && eventCore == core;
            default -> false;
        };
    }

    int valueAfter(Kind kind, long b) {
        return kind == Kind.LOADING ? 0 : (int) b;
    }

    Change change(int value) {
        return isRegister
                ? new Change.Register(core, number, value)
                : core < 0 ? new Change.SharedWord(number, value) : new Change.PrivateWord(core, number, value);
    }

    /** As commands write it, with labels where there are. */
    String text(Places places) {
        if (isRegister) {
            return "r" + number;
        }
        Map<Integer, String> labels = core < 0 ? places.sharedLabels() : places.privateLabels(core);
        String label = labels.get(number);
        return (core < 0 ? "shared[" : "private[") + (label == null ? number : label) + "]";
    }
}
