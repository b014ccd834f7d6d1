package octurn.cli.view;

import java.util.Map;
import java.util.SortedMap;
import octurn.measure.TurnRule;

/** The rule of turns for one access line, in words; {@code docs/stalls.md} derives it. */
final class AdviceText {

    /** A wait that so many of 100 accesses share is spoken of by itself; the first of a loop is often another one. */
    private static final int USUAL_PERCENT = 80;

    private AdviceText() {}

    /**
     * The advice.
     *
     * @param waits how many accesses waited how many cycles
     * @param rotation the cycles between two slots of each core, if they are always the same; 0 otherwise
     */
    static String of(SortedMap<Long, Long> waits, TurnRule rule, long rotation) {
        long all = waits.values().stream().mapToLong(Long::longValue).sum();
        Map.Entry<Long, Long> usual =
                waits.entrySet().stream().max(Map.Entry.comparingByValue()).orElseThrow();
        if (waits.size() > 1 && rotation > 0 && 100 * usual.getValue() >= USUAL_PERCENT * all) {
            return usual(waits, usual.getKey(), usual.getValue(), all) + " "
                    + toWin(rule, rotation - usual.getKey(), rotation - usual.getKey());
        }
        return free(waits, rule) + " " + toWin(rule, rule.leastCycles(), rule.everyCycles());
    }

    private static String usual(SortedMap<Long, Long> waits, long wait, long times, long all) {
        String waited = "Waits %s in %s of %s, else %s."
                .formatted(Numbers.grouped(wait), Numbers.grouped(times), Numbers.grouped(all), others(waits, wait));
        String cost = waits.firstKey() < wait ? "; where it waits less, a turn" : "";
        return wait == 0
                ? waited + " No work more fits before it at no cost."
                : "%s Up to %s more cycle%s of work fit before it at no cost%s."
                        .formatted(waited, Numbers.grouped(wait), wait == 1 ? "" : "s", cost);
    }

    private static String others(SortedMap<Long, Long> waits, long wait) {
        long least = Long.MAX_VALUE;
        long most = 0;
        for (long other : waits.keySet()) {
            if (other != wait) {
                least = Math.min(least, other);
                most = Math.max(most, other);
            }
        }
        return range(least, most);
    }

    private static String range(long least, long most) {
        return least == most
                ? Numbers.grouped(least)
                : "%s to %s".formatted(Numbers.grouped(least), Numbers.grouped(most));
    }

    private static String free(SortedMap<Long, Long> waits, TurnRule rule) {
        long free = rule.freeCycles();
        String waited = (waits.size() == 1 ? "Always waits " : "Waits ") + range(waits.firstKey(), waits.lastKey());
        return free == 0
                ? "%s: no work more fits before it at no cost%s."
                        .formatted(waited, waits.size() == 1 ? "" : ", at least not every time")
                : "%s: up to %s more cycle%s of work fit before it at no cost."
                        .formatted(waited, Numbers.grouped(free), free == 1 ? "" : "s");
    }

    private static String toWin(TurnRule rule, long least, long every) {
        if (every == 0) {
            return "It has no slot before its own, so removing work wins nothing.";
        }
        String wanted = least == every
                ? "To win a turn by removing work, remove at least %s".formatted(Numbers.grouped(least))
                : "To win a turn anywhere by removing work, remove at least %s (for each access %s)"
                        .formatted(Numbers.grouped(least), Numbers.grouped(every));
        if (rule.workCycles().max() == 0) {
            return wanted + ": there is none before it.";
        }
        String there = range(rule.workCycles().min(), rule.workCycles().max());
        return least > rule.workCycles().max()
                ? "%s: more than the %s that there %s."
                        .formatted(wanted, there, rule.workCycles().max() == 1 ? "is" : "are")
                : "%s of the %s that there %s."
                        .formatted(wanted, there, rule.workCycles().max() == 1 ? "is" : "are");
    }
}
