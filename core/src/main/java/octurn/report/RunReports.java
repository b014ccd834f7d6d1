package octurn.report;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.IntUnaryOperator;
import java.util.stream.IntStream;
import octurn.arbiter.Rotation;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.AccessSite;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.End;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.FaultReport;
import octurn.report.RunReport.HotSpot;
import octurn.report.RunReport.Waits;
import octurn.run.Run;
import org.jspecify.annotations.Nullable;

/** Makes run reports. */
public final class RunReports {

    private RunReports() {}

    /**
     * The report of a run so far; of a run that is not over it says {@code limit}, as if the limit were the present
     * cycle.
     */
    public static RunReport of(Run run) {
        Program program = run.program();
        Chip chip = run.chip();
        Design design = program.design();
        End ended = chip.ended();
        List<CoreReport> cores = new ArrayList<>();
        List<HotSpot> hotSpots = new ArrayList<>();
        for (int i = 0; i < design.cores(); i++) {
            Core core = chip.core(i);
            cores.add(coreReport(program, chip, core));
            for (AccessSite site : core.accessSites()) {
                hotSpots.add(hotSpot(program, site));
            }
        }
        return new RunReport(
                program.name(),
                design,
                chip.cycle(),
                ended == null ? End.LIMIT : ended,
                cores,
                hotSpots,
                chip.busyCycles(),
                chip.clashCycles(),
                notZero(design.sharedWords(), chip::sharedWord));
    }

    private static CoreReport coreReport(Program program, Chip chip, Core core) {
        Design design = program.design();
        long cycle = chip.cycle();
        Map<State, Long> states = new EnumMap<>(State.class);
        for (State state : State.values()) {
            states.put(state, core.cyclesIn(state, cycle));
        }
        SortedMap<Long, Long> histogram = core.waitHistogram();
        Waits waits = histogram.isEmpty()
                ? new Waits(0, -1, -1, histogram)
                : new Waits(core.waitTotal(), histogram.firstKey(), histogram.lastKey(), histogram);
        boolean inTurn = design.admission() instanceof Admission.Rotation;
        return new CoreReport(
                core.number(),
                core.state(),
                core.pc(),
                core.pcInShared(),
                IntStream.range(0, 16).map(core::register).boxed().toList(),
                core.instructions(),
                states,
                core.accesses(),
                waits,
                inTurn ? turnsOffered(design, core.number(), cycle) : -1,
                inTurn ? core.turnsUsed() : -1,
                chip.clashCycles(core.number()),
                faultReport(program, core),
                notZero(design.privateWords(), core::privateWord));
    }

    private static long turnsOffered(Design design, int core, long cycle) {
        Admission.Rotation admission = (Admission.Rotation) design.admission();
        return new Rotation(design.slotCycles(), admission.order(), design.cores()).slotsBefore(core, cycle);
    }

    private static HotSpot hotSpot(Program program, AccessSite site) {
        return new HotSpot(
                site.core(),
                site.inShared(),
                site.address(),
                line(program, site.core(), site.inShared(), site.address(), site.origin()),
                site.count(),
                site.total(),
                site.min(),
                site.max());
    }

    private static @Nullable FaultReport faultReport(Program program, Core core) {
        Fault fault = core.fault();
        if (fault == null) {
            return null;
        }
        boolean hasWord = fault.kind() != Fault.Kind.OFF_THE_END && fault.kind() != Fault.Kind.BAD_IMAGE;
        int line = 0;
        if (hasWord) {
            int origin = fault.inShared() ? Core.FROM_PROGRAM : core.origin(fault.address());
            line = line(program, core.number(), fault.inShared(), fault.address(), origin);
        }
        return new FaultReport(
                fault.kind(),
                fault.cycle(),
                fault.address(),
                fault.inShared(),
                line,
                FaultMessages.sentence(fault, program.design()));
    }

    /** The line that an instruction comes from, or 0. */
    private static int line(Program program, int core, boolean inShared, int address, int origin) {
        if (inShared) {
            return program.sharedLine(address);
        }
        return switch (origin) {
            case Core.FROM_PROGRAM -> program.privateLine(core, address);
            case Core.FROM_NOWHERE -> 0;
            default -> program.sharedLine(origin);
        };
    }

    private static SortedMap<Integer, Integer> notZero(int words, IntUnaryOperator word) {
        SortedMap<Integer, Integer> map = new TreeMap<>();
        for (int address = 0; address < words; address++) {
            int value = word.applyAsInt(address);
            if (value != 0) {
                map.put(address, value);
            }
        }
        return map;
    }
}
