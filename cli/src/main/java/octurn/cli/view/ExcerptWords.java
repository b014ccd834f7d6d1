package octurn.cli.view;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import octurn.excerpt.Excerpt;
import octurn.excerpt.Excerpt.Deed;
import octurn.excerpt.Excerpt.Handover;
import octurn.excerpt.Excerpt.Lane;
import octurn.machine.End;
import octurn.machine.State;

/** What is said beside a drawn excerpt, in pictures and in text alike; all of it is safe to show. */
public final class ExcerptWords {

    /** More words handed over are not told one by one. */
    private static final int MOST_TOLD = 40;

    private final Excerpt excerpt;
    private final List<Integer> cores;
    private final Glyphs glyphs;

    /**
     * @param cores those that are drawn, ascending
     */
    public ExcerptWords(Excerpt excerpt, List<Integer> cores, Glyphs glyphs) {
        this.excerpt = excerpt;
        this.cores = List.copyOf(cores);
        this.glyphs = glyphs;
    }

    /** The cores that do anything; all, if none does. */
    public static List<Integer> busyCores(Excerpt excerpt) {
        List<Integer> busy = excerpt.lanes().stream()
                .filter(lane -> !lane.isIdle())
                .map(Lane::core)
                .toList();
        return busy.isEmpty() ? excerpt.lanes().stream().map(Lane::core).toList() : busy;
    }

    /** The pins on which anything happens. */
    public static List<Integer> busyPins(Excerpt excerpt) {
        return excerpt.waves().stream()
                .filter(Excerpt.Wave::isBusy)
                .map(Excerpt.Wave::pin)
                .toList();
    }

    /** The program's name, at most so many columns of it. */
    public String program(int columns) {
        return glyphs.cut(glyphs.visible(excerpt.program().name()), columns);
    }

    /** Which cycles, and how long they take. */
    public String span() {
        double seconds =
                (double) excerpt.cycles() / excerpt.program().design().clock().chipHertz();
        return "cycles %s to %s, %s"
                .formatted(
                        Numbers.grouped(excerpt.from()),
                        Numbers.grouped(excerpt.to()),
                        Numbers.duration(seconds, glyphs));
    }

    /** The design in one line of at most so many columns. */
    public String design(int columns) {
        return DesignView.oneLine(excerpt.program().design(), glyphs, columns).plain();
    }

    /** What else a reader has to know, in sentences. */
    public List<String> notes() {
        List<String> notes = new ArrayList<>();
        if (!excerpt.isExact()) {
            notes.add("Each column is %s cycles.".formatted(Numbers.grouped(excerpt.cyclesAColumn())));
        }
        List<Integer> idle = excerpt.lanes().stream()
                .filter(lane -> lane.isIdle() && !cores.contains(lane.core()))
                .map(Lane::core)
                .toList();
        if (!idle.isEmpty()) {
            notes.add("Idle all the time and not drawn: %s.".formatted(list(idle)));
        }
        End ended = excerpt.ended();
        if (ended != null) {
            notes.add(
                    switch (ended) {
                        case ALL_IDLE -> "Here the run ends: every core is idle or in fault.";
                        case STUCK -> "Here the run ends: it is stuck, nothing can ever happen again.";
                        case LIMIT -> "Here the run was stopped at its limit.";
                    });
        }
        return notes;
    }

    private static String list(List<Integer> numbers) {
        StringBuilder text = new StringBuilder(numbers.size() == 1 ? "core " : "cores ");
        for (int i = 0; i < numbers.size(); ) {
            int last = i;
            while (last + 1 < numbers.size() && numbers.get(last + 1) == numbers.get(last) + 1) {
                last++;
            }
            text.append(i == 0 ? "" : ", ").append(numbers.get(i));
            if (last > i) {
                text.append(last > i + 1 ? " to " : ", ").append(numbers.get(last));
            }
            i = last + 1;
        }
        return text.toString();
    }

    /** The words that went between cores that are drawn. */
    public List<Handover> handovers() {
        return excerpt.handovers().stream()
                .filter(handover -> cores.contains(handover.from()) && cores.contains(handover.to()))
                .toList();
    }

    /** The first so many of them in sentences, and how many more there are. */
    public List<String> handovers(int most) {
        List<Handover> all = handovers();
        List<String> told = new ArrayList<>();
        for (Handover handover : all.subList(0, Math.min(most, all.size()))) {
            told.add("%s = %d: core %d, cycle %s %s core %d, cycle %s"
                    .formatted(
                            place(handover),
                            handover.value(),
                            handover.from(),
                            Numbers.grouped(handover.writtenAt()),
                            glyphs.sign("\u2192", "->"),
                            handover.to(),
                            Numbers.grouped(handover.readAt())));
        }
        if (all.size() > most) {
            told.add("and %d more".formatted(all.size() - most));
        }
        return told;
    }

    private String place(Handover handover) {
        return handover.name().isEmpty() ? "shared word " + handover.address() : glyphs.visible(handover.name());
    }

    /** What may stand for an instruction where there is room, the longest first. */
    public List<String> label(Deed deed) {
        String text = glyphs.visible(deed.text());
        String mnemonic = glyphs.visible(deed.mnemonic());
        if (deed.label().isEmpty()) {
            return text.equals(mnemonic) ? List.of(text) : List.of(text, mnemonic);
        }
        String label = glyphs.visible(deed.label()) + ":";
        return List.of(label + " " + text, label + " " + mnemonic, text, mnemonic);
    }

    /** All that the drawing shows, for those who cannot see it. */
    public String description() {
        StringBuilder words = new StringBuilder();
        for (int core : cores) {
            Lane lane = excerpt.lanes().get(core);
            words.append("Core ").append(core).append(": ");
            boolean first = true;
            for (State state : State.values()) {
                long cycles = lane.cycles().getOrDefault(state, 0L);
                if (cycles > 0) {
                    words.append(first ? "" : ", ")
                            .append(name(state))
                            .append(' ')
                            .append(Numbers.grouped(cycles));
                    first = false;
                }
            }
            words.append(" cycles. ");
        }
        notes().forEach(note -> words.append(note).append(' '));
        List<String> handed = handovers(MOST_TOLD);
        if (!handed.isEmpty()) {
            words.append("Words handed over: ")
                    .append(String.join("; ", handed))
                    .append('.');
        }
        return words.toString().strip();
    }

    /** A state in one or two words. */
    public static String name(State state) {
        return switch (state) {
            case CODE_WAIT -> "code wait";
            case CODE_SLOT -> "code slot";
            case LOAD_WAIT -> "load wait";
            case LOAD_SLOT -> "load slot";
            default -> state.text();
        };
    }

    /** The letter of a state, the same as in the stepper; empty for work and idleness, which have none. */
    public static String letter(State state) {
        return state == State.WORK || state == State.IDLE ? "" : LaneMarks.mark(state, PLAIN);
    }

    private static final Glyphs PLAIN = new Glyphs(StandardCharsets.US_ASCII);

    /** How many of a hundred cycles a lane spent waiting, rounded. */
    public static long waitPercent(Lane lane) {
        return percent(lane.cycles(), State::isWaiting);
    }

    static long percent(Map<State, Long> cycles, Predicate<State> which) {
        long all = 0;
        long some = 0;
        for (Map.Entry<State, Long> entry : cycles.entrySet()) {
            all += entry.getValue();
            some += which.test(entry.getKey()) ? entry.getValue() : 0;
        }
        return all == 0 ? 0 : Math.round(100.0 * some / all);
    }
}
