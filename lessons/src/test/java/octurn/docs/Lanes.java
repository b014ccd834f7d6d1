package octurn.docs;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.State;
import octurn.run.Run;
import octurn.trace.Kind;

/** Cores as the pages draw them: a lane each, a character a cycle. */
final class Lanes {

    private static final Pattern CORE = Pattern.compile("core (\\d+) +(\\S.*)");
    private static final Pattern HEAD = Pattern.compile("cycle +(\\d+).*");
    private static final int MARGIN = 8;
    private static final int MARK_CYCLES = 10;

    private Lanes() {}

    /** What a block of lanes should look like that shows these cores over as many cycles from the same one on. */
    static List<String> redraw(List<String> block, Example example) {
        Matcher head = HEAD.matcher(block.get(0));
        if (!head.matches()) {
            throw new IllegalArgumentException("lanes do not begin with \"cycle\": " + block.get(0));
        }
        long from = Long.parseLong(head.group(1));
        int cycles = 0;
        Map<Integer, StringBuilder> lanes = new LinkedHashMap<>();
        for (String line : block) {
            Matcher core = CORE.matcher(line);
            if (core.matches()) {
                lanes.put(Integer.parseInt(core.group(1)), new StringBuilder());
                cycles = Math.max(cycles, core.group(2).length());
            }
        }
        Set<List<Long>> starts = new HashSet<>();
        Run run = example.run((kind, cycle, core, a, b) -> {
            if (kind == Kind.BEGIN) {
                starts.add(List.of((long) core, cycle));
            }
        });
        for (long cycle = from; cycle < from + cycles; cycle++) {
            run.runTo(cycle);
            boolean over = run.isOver();
            for (Map.Entry<Integer, StringBuilder> lane : lanes.entrySet()) {
                boolean starting = starts.contains(List.of((long) lane.getKey(), cycle));
                State state = run.chip().core(lane.getKey()).state();
                lane.getValue().append(over ? "" : starting ? ">" : letter(state));
            }
        }
        List<String> drawn = new ArrayList<>();
        drawn.add(ruler(from, cycles));
        if (block.get(1).startsWith("slot of")) {
            drawn.add(owners(run.program().design(), from, cycles));
        }
        lanes.forEach((core, lane) -> drawn.add("%-8s%s".formatted("core " + core, lane)));
        return drawn;
    }

    private static String letter(State state) {
        return switch (state) {
            case WORK -> "#";
            case WAIT -> "w";
            case SLOT -> "S";
            case CODE_WAIT -> "c";
            case CODE_SLOT -> "C";
            case LOAD_WAIT -> "l";
            case LOAD_SLOT -> "L";
            case SLEEP -> "z";
            case IDLE -> ".";
            case FAULT -> "!";
        };
    }

    private static String ruler(long from, int cycles) {
        StringBuilder line = new StringBuilder("cycle");
        for (int i = 0; i < cycles; i++) {
            if (i == 0 || (from + i) % MARK_CYCLES == 0) {
                mark(line, i, Long.toString(from + i));
            }
        }
        return line.toString();
    }

    private static String owners(Design design, long from, int cycles) {
        Admission.Rotation admission = (Admission.Rotation) design.admission();
        Rotation rotation = new Rotation(design.slotCycles(), admission.order(), design.cores());
        StringBuilder line = new StringBuilder("slot of");
        for (int i = 0; i < cycles; i++) {
            if ((from + i) % design.slotCycles() == 0) {
                mark(line, i, Integer.toString(rotation.owner(from + i)));
            }
        }
        return line.toString();
    }

    private static void mark(StringBuilder line, int column, String text) {
        while (line.length() < MARGIN + column) {
            line.append(' ');
        }
        line.append(text);
    }
}
