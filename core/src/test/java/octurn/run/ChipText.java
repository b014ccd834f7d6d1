package octurn.run;

import java.util.stream.IntStream;
import octurn.design.Design;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.State;

/** All that can be seen of a chip, as text to compare. */
final class ChipText {

    private ChipText() {}

    static String of(Chip chip) {
        Design design = chip.design();
        StringBuilder text = new StringBuilder();
        text.append("cycle %d ended %s busy %d clashes %d pins %x %x %x%n"
                .formatted(
                        chip.cycle(),
                        chip.ended(),
                        chip.busyCycles(),
                        chip.clashCycles(),
                        chip.pinLevels(),
                        chip.pinClashes(),
                        chip.pinsGiven()));
        for (int i = 0; i < design.cores(); i++) {
            text.append(of(chip, chip.core(i))).append(System.lineSeparator());
        }
        IntStream.range(0, design.sharedWords())
                .filter(address -> chip.sharedWord(address) != 0)
                .forEach(address -> text.append("[%d] %d ".formatted(address, chip.sharedWord(address))));
        return text.toString();
    }

    private static String of(Chip chip, Core core) {
        Design design = chip.design();
        StringBuilder text = new StringBuilder("core %d %s pc %d %b due %d fault %s out %x drive %x"
                .formatted(
                        core.number(),
                        core.state(),
                        core.pc(),
                        core.pcInShared(),
                        core.dueCycle(),
                        core.fault(),
                        core.out(),
                        core.drive()));
        text.append(" done %d accesses %d waits %d %s sites %s turns %d clashes %d"
                .formatted(
                        core.instructions(),
                        core.accesses(),
                        core.waitTotal(),
                        core.waitHistogram(),
                        core.accessSites(),
                        core.turnsUsed(),
                        chip.clashCycles(core.number())));
        for (State state : State.values()) {
            text.append(' ').append(core.cyclesIn(state, chip.cycle()));
        }
        for (int i = 0; i < 16; i++) {
            text.append(" r").append(core.register(i));
        }
        for (int i = 0; i < 2; i++) {
            text.append(" tally ")
                    .append(chip.tally(core.number(), i))
                    .append(' ')
                    .append(core.tallyMode(i));
            text.append(' ').append(core.tallySpan(i)).append(' ').append(core.tallyLevel(i));
        }
        for (int address = 0; address < design.privateWords(); address++) {
            if (core.privateWord(address) != 0 || core.origin(address) >= 0) {
                text.append(" (").append(address).append(") ").append(core.privateWord(address));
                text.append(' ').append(core.origin(address));
            }
        }
        return text.toString();
    }
}
