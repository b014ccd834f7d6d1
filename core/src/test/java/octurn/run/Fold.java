package octurn.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.isa.Codes;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.trace.Kind;
import octurn.trace.Sink;

/** A chip known by hearsay: the program at cycle 0 plus all events. */
final class Fold implements Sink {

    private final Design design;
    private final int[][] registers;
    private final int[][] rams;
    private final int[] shared;
    private final State[] states;
    private final int[][] ports;
    private final Fault.Kind[] faults;
    private final long[] finished;
    private int levels;
    private int clashes;

    Fold(Program program) {
        design = program.design();
        registers = new int[design.cores()][16];
        rams = new int[design.cores()][design.privateWords()];
        shared = new int[design.sharedWords()];
        states = new State[design.cores()];
        ports = new int[design.cores()][16];
        faults = new Fault.Kind[design.cores()];
        finished = new long[design.cores()];
        Arrays.fill(states, State.IDLE);
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.CORE) {
                for (int core : block.cores()) {
                    System.arraycopy(block.words(), 0, rams[core], 0, block.words().length);
                    states[core] = State.WORK;
                }
            } else {
                System.arraycopy(block.words(), 0, shared, block.address(), block.words().length);
            }
        }
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        switch (kind) {
            case STATE -> {
                assertThat(states[core]).isEqualTo(State.values()[(int) b]);
                states[core] = State.values()[(int) a];
                if (states[core] != State.FAULT) {
                    faults[core] = null;
                }
            }
            case FINISH -> finished[core]++;
            case SHARED_READ -> assertThat(shared[(int) a]).isEqualTo((int) b);
            case SHARED_WRITE -> shared[(int) a] = (int) b;
            case PRIVATE_READ -> assertThat(rams[core][(int) a]).isEqualTo((int) b);
            case PRIVATE_WRITE -> rams[core][(int) a] = (int) b;
            case REGISTER -> registers[core][(int) a] = (int) b;
            case PORT -> ports[core][(int) a] = (int) b;
            case LET_GO -> Arrays.fill(ports[core], 0);
            case PINS -> {
                levels = (int) a;
                clashes = (int) b;
            }
            case LOADING -> {
                Arrays.fill(registers[core], 0);
                Arrays.fill(rams[core], 0);
            }
            case FAULT -> faults[core] = Fault.Kind.values()[(int) a];
            default -> {
                // Tells of no change to what is kept here.
            }
        }
    }

    void assertIs(Chip chip) {
        assertThat(chip.pinLevels()).isEqualTo(levels);
        assertThat(chip.pinClashes()).isEqualTo(clashes);
        for (int address = 0; address < shared.length; address++) {
            if (chip.sharedWord(address) != shared[address]) {
                assertThat(chip.sharedWord(address)).as("shared %d", address).isEqualTo(shared[address]);
            }
        }
        for (int i = 0; i < design.cores(); i++) {
            Core core = chip.core(i);
            assertThat(core.state()).as("state of core %d", i).isEqualTo(states[i]);
            assertThat(core.instructions()).isEqualTo(finished[i]);
            Fault fault = core.fault();
            assertThat(fault == null ? null : fault.kind()).isEqualTo(faults[i]);
            for (int r = 0; r < 16; r++) {
                assertThat(core.register(r)).as("r%d of core %d", r, i).isEqualTo(registers[i][r]);
            }
            for (int address = 0; address < rams[i].length; address++) {
                if (core.privateWord(address) != rams[i][address]) {
                    assertThat(core.privateWord(address))
                            .as("private %d of core %d", address, i)
                            .isEqualTo(rams[i][address]);
                }
            }
            assertThat(core.out()).isEqualTo(ports[i][Codes.OUT]);
            assertThat(core.drive()).isEqualTo(ports[i][Codes.DRIVE]);
            assertThat(core.tallyMode(0)).isEqualTo(ports[i][Codes.MODE0]);
            assertThat(core.tallySpan(0)).isEqualTo(ports[i][Codes.SPAN0]);
            assertThat(core.tallyLevel(0)).isEqualTo(ports[i][Codes.LEVEL0]);
            assertThat(core.tallyMode(1)).isEqualTo(ports[i][Codes.MODE1]);
            assertThat(core.tallySpan(1)).isEqualTo(ports[i][Codes.SPAN1]);
            assertThat(core.tallyLevel(1)).isEqualTo(ports[i][Codes.LEVEL1]);
        }
    }
}
