package octurn.report;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.isa.Instruction;
import octurn.isa.Op;
import octurn.machine.End;
import octurn.machine.State;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.FaultReport;
import octurn.report.RunReport.HotSpot;

/**
 * What limits a program, told from its report.
 *
 * <p>How it is told: a fault or a run that is stuck comes before all. Otherwise the cores that ran longest are looked
 * at, for they decide when the program ends: what took the greatest share of their time limits it. Cores that mostly
 * slept are passed over if others were busy for at least half as long.
 *
 * @param limit what it is
 * @param sentence the same in one sentence, with the numbers it rests on
 */
public record Verdict(Limit limit, String sentence) {

    /** What can limit a program. */
    public enum Limit {
        /** No core had anything to do. */
        NOTHING_RAN,
        /** A core broke a rule. */
        FAULT,
        /** Nothing can ever happen again. */
        STUCK,
        /** Instructions. */
        WORK,
        /** Waits for a turn, while the memory was free for a good part of the time. */
        TURNS,
        /** The slots of the accesses, more than the waits for them. */
        SLOTS,
        /** The memory was hardly ever free: whoever is admitted, it cannot serve more. */
        MEMORY,
        /** Accesses that ask for a word again and again until another core changes it. */
        POLLING,
        /** Instructions fetched from shared memory. */
        CODE,
        /** Images loaded from shared memory. */
        LOADING,
        /** {@code pause}, {@code until}, {@code await}. */
        SLEEP
    }

    /** Memory that is busy for so many percent of the time counts as never free. */
    private static final int NEVER_FREE_PERCENT = 90;

    /** Shares below this are not worth a word. */
    private static final int WORTH_TELLING_PERCENT = 5;

    private static final int MOST_WAITERS_NAMED = 3;

    /** The verdict on this run. */
    public static Verdict of(RunReport report) {
        List<CoreReport> faulted =
                report.cores().stream().filter(core -> core.fault() != null).toList();
        List<String> waiters = report.ended() == End.STUCK ? waiters(report) : List.of();
        if (!faulted.isEmpty()) {
            String rest = waiters.isEmpty() ? "" : "; then the run was stuck: " + listed(waiters);
            return new Verdict(Limit.FAULT, faultSentence(faulted) + rest + ".");
        }
        if (report.ended() == End.STUCK) {
            return new Verdict(Limit.STUCK, "The run is stuck: " + listed(waiters) + ".");
        }
        long longest = report.cores().stream().mapToLong(Verdict::active).max().orElse(0);
        if (longest == 0) {
            return new Verdict(Limit.NOTHING_RAN, "Nothing ran: no core has a section with an instruction to do.");
        }
        return shares(report, longest);
    }

    private static long cycles(CoreReport core, State state) {
        return core.states().getOrDefault(state, 0L);
    }

    /** Cycles in which the core was neither idle nor in fault. */
    private static long active(CoreReport core) {
        return core.states().values().stream().mapToLong(Long::longValue).sum()
                - cycles(core, State.IDLE)
                - cycles(core, State.FAULT);
    }

    private static long busy(CoreReport core) {
        return active(core) - cycles(core, State.SLEEP);
    }

    // ---- where the time went

    private static Verdict shares(RunReport report, long longest) {
        List<CoreReport> deciding = report.cores().stream()
                .filter(core -> 10 * active(core) >= 9 * longest)
                .toList();
        Map<Limit, Integer> percent = percent(deciding);
        if (greatest(percent) == Limit.SLEEP) {
            long busiest =
                    report.cores().stream().mapToLong(Verdict::busy).max().orElse(0);
            if (2 * busiest >= longest) {
                deciding = report.cores().stream()
                        .filter(core -> 10 * busy(core) >= 9 * busiest)
                        .toList();
                percent = percent(deciding);
            }
        }
        Limit limit = greatest(percent);
        String advice = "";
        if (limit == Limit.TURNS || limit == Limit.SLOTS) {
            int busyPercent = percentOf(report.busyCycles(), report.cycles());
            Polling polling = Polling.of(report, deciding);
            long inMemory = deciding.stream()
                    .mapToLong(core -> cycles(core, State.WAIT) + cycles(core, State.SLOT))
                    .sum();
            boolean ownPort = report.design().admission() instanceof Admission.OwnPort;
            if (2 * polling.lostCycles() > inMemory) {
                limit = Limit.POLLING;
                advice = "; " + polling.clause();
            } else if (busyPercent >= NEVER_FREE_PERCENT && !ownPort) {
                limit = Limit.MEMORY;
                advice = "; it was busy in %d %% of all cycles, so only fewer accesses or shorter slots would help"
                        .formatted(busyPercent);
            } else if (limit == Limit.TURNS) {
                advice = turnsAdvice(report, deciding, busyPercent);
            }
        }
        String told = "%s %s%s".formatted(subject(report, deciding), spent(percent, deciding), advice);
        boolean cutOff = report.ended() == End.LIMIT;
        String opening = cutOff
                ? String.format(Locale.ROOT, "The limit of %,d cycles ended the run; up to there ", report.cycles())
                : opening(limit) + ": ";
        return new Verdict(limit, opening + told + ".");
    }

    private static Map<Limit, Integer> percent(List<CoreReport> cores) {
        Limit[] limits = {Limit.WORK, Limit.TURNS, Limit.SLOTS, Limit.CODE, Limit.LOADING, Limit.SLEEP};
        long[] parts = new long[limits.length];
        for (CoreReport core : cores) {
            parts[0] += cycles(core, State.WORK);
            parts[1] += cycles(core, State.WAIT);
            parts[2] += cycles(core, State.SLOT);
            parts[3] += cycles(core, State.CODE_WAIT) + cycles(core, State.CODE_SLOT);
            parts[4] += cycles(core, State.LOAD_WAIT) + cycles(core, State.LOAD_SLOT);
            parts[5] += cycles(core, State.SLEEP);
        }
        int[] percent = Shares.percent(parts);
        Map<Limit, Integer> shares = new EnumMap<>(Limit.class);
        for (int i = 0; i < limits.length; i++) {
            shares.put(limits[i], percent[i]);
        }
        return shares;
    }

    private static Limit greatest(Map<Limit, Integer> percent) {
        Limit greatest = Limit.WORK;
        for (Map.Entry<Limit, Integer> share : percent.entrySet()) {
            greatest = share.getValue() > percent.getOrDefault(greatest, 0) ? share.getKey() : greatest;
        }
        return greatest;
    }

    private static int percentOf(long part, long whole) {
        return whole == 0 ? 0 : (int) (100 * part / whole);
    }

    private static String opening(Limit limit) {
        return switch (limit) {
            case WORK -> "Work limits this program";
            case TURNS -> "Waiting for turns limits this program";
            case SLOTS -> "The accesses themselves limit this program";
            case MEMORY -> "The shared memory itself limits this program";
            case POLLING -> "Asking again and again limits this program";
            case CODE -> "Fetching code from shared memory limits this program";
            case LOADING -> "Loading images limits this program";
            case SLEEP -> "Sleep sets the pace of this program";
            case NOTHING_RAN, FAULT, STUCK -> throw new IllegalArgumentException(limit.toString());
        };
    }

    private static String subject(RunReport report, List<CoreReport> cores) {
        if (cores.size() == 1) {
            boolean alone =
                    report.cores().stream().filter(core -> active(core) > 0).count() == 1;
            return "core %d%s".formatted(cores.get(0).core(), alone ? "" : ", which ran longest,");
        }
        return cores.size() == report.cores().size()
                ? "the %d cores".formatted(cores.size())
                : "the %d cores that ran longest".formatted(cores.size());
    }

    /** As in "spent 65 % of its 3,608 cycles waiting for turns, 18 % at work and 12 % in slots". */
    private static String spent(Map<Limit, Integer> percent, List<CoreReport> cores) {
        List<Map.Entry<Limit, Integer>> shares = percent.entrySet().stream()
                .filter(share -> share.getValue() >= WORTH_TELLING_PERCENT)
                .sorted(Map.Entry.<Limit, Integer>comparingByValue().reversed())
                .toList();
        String whole =
                cores.size() == 1 ? String.format(Locale.ROOT, "its %,d cycles", active(cores.get(0))) : "their time";
        List<String> parts = new ArrayList<>();
        for (Map.Entry<Limit, Integer> share : shares) {
            String where = switch (share.getKey()) {
                case WORK -> "at work";
                case TURNS -> "waiting for turns";
                case SLOTS -> "in slots";
                case CODE -> "fetching code from shared memory";
                case LOADING -> "loading images";
                default -> "asleep";
            };
            parts.add(
                    parts.isEmpty()
                            ? "spent %d %% of %s %s".formatted(share.getValue(), whole, where)
                            : "%d %% %s".formatted(share.getValue(), where));
        }
        return joined(parts, " and ");
    }

    /** What the worst line could do at no cost; only in rotation is that known without another run. */
    private static String turnsAdvice(RunReport report, List<CoreReport> cores, int busyPercent) {
        String memory = "; the memory was busy in %d %% of all cycles".formatted(busyPercent);
        if (!(report.design().admission() instanceof Admission.Rotation)) {
            return memory;
        }
        HotSpot worst = null;
        for (HotSpot spot : report.hotSpots()) {
            boolean looked = cores.stream().anyMatch(core -> core.core() == spot.core());
            if (looked && spot.line() > 0 && (worst == null || spot.total() > worst.total())) {
                worst = spot;
            }
        }
        if (worst == null || worst.min() == 0) {
            return memory;
        }
        String fits = worst.min() == 1
                ? "1 cycle of other work fits"
                : "up to %d cycles of other work fit".formatted(worst.min());
        return "%s, and line %d always waited at least %d, so %s before it at no cost"
                .formatted(memory, worst.line(), worst.min(), fits);
    }

    // ---- faults and endless waits

    private static String faultSentence(List<CoreReport> faulted) {
        CoreReport first = faulted.get(0);
        for (CoreReport core : faulted) {
            first = cycleOf(core) < cycleOf(first) ? core : first;
        }
        FaultReport fault = first.fault();
        if (fault == null) {
            throw new IllegalArgumentException("core %d is not in fault".formatted(first.core()));
        }
        String where = fault.line() > 0
                ? "in line %d".formatted(fault.line())
                : "(%s)".formatted(fault.kind().text());
        String what = String.format(Locale.ROOT, "at cycle %,d %s: %s", fault.cycle(), where, fault.message());
        return faulted.size() == 1
                ? "A fault ended core %d %s".formatted(first.core(), what)
                : "Faults ended %d cores, the first of them core %d %s".formatted(faulted.size(), first.core(), what);
    }

    private static long cycleOf(CoreReport core) {
        FaultReport fault = core.fault();
        return fault == null ? Long.MAX_VALUE : fault.cycle();
    }

    /** What each core waits for in a run that is stuck. */
    private static List<String> waiters(RunReport report) {
        List<String> waiters = new ArrayList<>();
        for (CoreReport core : report.cores()) {
            if (core.state().isWaiting()) {
                waiters.add("core %d asks for the memory but has no slot in the order".formatted(core.core()));
            } else if (core.state() == State.SLEEP) {
                waiters.add("core %d awaits %s".formatted(core.core(), awaited(report, core)));
            }
        }
        return waiters;
    }

    private static String awaited(RunReport report, CoreReport core) {
        SortedMap<Integer, Integer> memory = core.pcInShared() ? report.shared() : core.privateWords();
        Instruction await = Instruction.decode(memory.getOrDefault(core.pc(), 0));
        if (await == null || await.op() != Op.AWAIT) {
            return "pins that no longer change";
        }
        int mask = core.registers().get(await.ra());
        int levels = await.constant() ? await.value() : core.registers().get(await.value());
        return pins(report.design(), mask, levels);
    }

    private static String pins(Design design, int mask, int levels) {
        if ((levels & ~mask) != 0) {
            return "(pins AND 0x%X) = 0x%X, which can never be".formatted(mask, levels);
        }
        int missing = levels & ~design.pinMask();
        if (missing != 0) {
            return "pin %d high, which the design does not have".formatted(Integer.numberOfTrailingZeros(missing));
        }
        List<String> parts = new ArrayList<>();
        addPins(parts, mask & levels, "high");
        addPins(parts, mask & ~levels & design.pinMask(), "low");
        return joined(parts, " and ") + ", and nothing changes it any more";
    }

    private static void addPins(List<String> parts, int pins, String level) {
        List<String> numbers = new ArrayList<>();
        for (int pin = 0; pin < Integer.SIZE; pin++) {
            if ((pins >>> pin & 1) == 1) {
                numbers.add(Integer.toString(pin));
            }
        }
        if (!numbers.isEmpty()) {
            parts.add("%s %s %s".formatted(numbers.size() == 1 ? "pin" : "pins", joined(numbers, " and "), level));
        }
    }

    private static String listed(List<String> waiters) {
        return waiters.size() <= MOST_WAITERS_NAMED
                ? String.join("; ", waiters)
                : "%s; and %d more cores wait in vain"
                        .formatted(
                                String.join("; ", waiters.subList(0, MOST_WAITERS_NAMED)),
                                waiters.size() - MOST_WAITERS_NAMED);
    }

    /** As in "a, b and c". */
    private static String joined(List<String> parts, String last) {
        int size = parts.size();
        return size < 2
                ? String.join("", parts)
                : String.join(", ", parts.subList(0, size - 1)) + last + parts.get(size - 1);
    }
}
