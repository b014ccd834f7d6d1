package octurn.measure;

import java.util.Arrays;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.machine.State;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/** Which code each core has in its private RAM: that of its own section, or of an image that it was started on. */
final class CodeInRam implements Sink {

    private static final int OWN_SECTION = -1;
    private static final int OUTSIDE = -2;

    private final Program program;
    /** The shared address of the count word of the image that was loaded, or one of the above. */
    private final int[] images;
    /** How many words of it were loaded. */
    private final int[] loaded;

    private final boolean[] loading;

    CodeInRam(Program program) {
        int cores = program.design().cores();
        this.program = program;
        this.images = new int[cores];
        this.loaded = new int[cores];
        this.loading = new boolean[cores];
        Arrays.fill(images, OWN_SECTION);
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        switch (kind) {
            case LOADING -> {
                images[core] = b < program.design().sharedWords() ? (int) b : OUTSIDE;
                loaded[core] = 0;
                loading[core] = true;
            }
            case PRIVATE_WRITE -> {
                if (core >= 0 && loading[core]) {
                    loaded[core]++;
                }
            }
            case START, IDLE, FAULT -> loading[core] = false;
            default -> {
                // Nothing about code in private RAM.
            }
        }
    }

    /** The section or image that the core's code comes from; null if the program has none there. */
    @Nullable
    Block block(int core) {
        if (images[core] == OWN_SECTION) {
            return program.core(core);
        }
        Block block = images[core] == OUTSIDE ? null : program.shared(images[core]);
        boolean whole = block != null && block.kind() == Block.Kind.IMAGE && block.address() == images[core];
        return whole ? block : null;
    }

    /** The line that the word at this place comes from, or 0. */
    int line(int core, long place) {
        int address = Kind.address(place);
        if (Kind.inShared(place)) {
            return program.sharedLine(address);
        }
        if (images[core] == OWN_SECTION) {
            return program.privateLine(core, address);
        }
        return images[core] == OUTSIDE || Integer.compareUnsigned(address, loaded[core]) >= 0
                ? 0
                : program.sharedLine(images[core] + 1 + address);
    }

    /** Whether a request in this state, by its ordinal, is for data, not for code or an image. */
    static boolean isData(long stateOrdinal) {
        return stateOrdinal == State.WAIT.ordinal();
    }
}
