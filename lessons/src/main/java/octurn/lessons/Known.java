package octurn.lessons;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import octurn.lessons.text.Prose;

/** Misconceptions about cycles that are met so often that no author should have to write them anew. */
public enum Known {
    /** The cycle in which an access is issued was left out, or counted as waiting. */
    ISSUE_CYCLE,
    /** The slot itself was left out, or counted as waiting. */
    SLOT_ITSELF,
    /** Slots were counted where cycles are asked for, or the other way round. */
    SLOTS_FOR_CYCLES,
    /** One too many or one too few. */
    OFF_BY_ONE,
    /** A whole rotation too many or too few, or a rotation taken for the answer. */
    WHOLE_ROTATION;

    /** As lessons write it. */
    public String text() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The one of this name. */
    public static Optional<Known> of(String text) {
        return Arrays.stream(values())
                .filter(known -> known.text().equals(text))
                .findFirst();
    }

    /** The wrong answers that come of it where this number is right. */
    List<Slip> slips(BigDecimal right, DesignFigures figures) {
        List<Slip> slips = new ArrayList<>();
        switch (this) {
            case ISSUE_CYCLE -> {
                String cycles = cycles(figures.issue());
                add(
                        slips,
                        right.subtract(BigDecimal.valueOf(figures.issue())),
                        "That leaves out the issue cycle: an access works for %s before its request is up. It counts here: %d more."
                                .formatted(cycles, figures.issue()));
                add(
                        slips,
                        right.add(BigDecimal.valueOf(figures.issue())),
                        "The issue cycle is counted in that. An access works for %s before its request is up, and that does not belong to what is asked: %d less."
                                .formatted(cycles, figures.issue()));
            }
            case SLOT_ITSELF -> {
                String cycles = cycles(figures.slot());
                add(
                        slips,
                        right.subtract(BigDecimal.valueOf(figures.slot())),
                        "That leaves out the slot itself: once admitted, an access holds the memory for %s. They count here: %d more."
                                .formatted(cycles, figures.slot()));
                add(
                        slips,
                        right.add(BigDecimal.valueOf(figures.slot())),
                        "The slot itself is counted in that. Once admitted, an access holds the memory for %s, and that does not belong to what is asked: %d less."
                                .formatted(cycles, figures.slot()));
            }
            case SLOTS_FOR_CYCLES -> {
                BigDecimal slot = BigDecimal.valueOf(figures.slot());
                if (right.remainder(slot).signum() == 0) {
                    add(
                            slips,
                            right.divide(slot),
                            "That counts slots. Asked for are cycles, and a slot has %d of them: %d times as many."
                                    .formatted(figures.slot(), figures.slot()));
                }
                add(
                        slips,
                        right.multiply(slot),
                        "That counts cycles. Asked for are slots of %s each: divide by %d."
                                .formatted(cycles(figures.slot()), figures.slot()));
            }
            case OFF_BY_ONE -> {
                add(
                        slips,
                        right.subtract(BigDecimal.ONE),
                        "That is one too few. Cycles are counted from 0, and the first one counts as well.");
                add(
                        slips,
                        right.add(BigDecimal.ONE),
                        "That is one too many. Cycles are counted from 0: from one cycle to another there are as many as their difference.");
            }
            case WHOLE_ROTATION -> {
                BigDecimal rotation = BigDecimal.valueOf(figures.rotation());
                add(
                        slips,
                        right.subtract(rotation),
                        "That is a whole rotation too few: the turn that it ends with comes %d cycles later, one rotation on."
                                .formatted(figures.rotation()));
                add(
                        slips,
                        right.add(rotation),
                        "That is a whole rotation too many: a turn comes %d cycles before the one that it ends with."
                                .formatted(figures.rotation()));
                add(
                        slips,
                        rotation,
                        "That is a whole rotation, from one turn to the next. Whoever asks in between waits only for what is left of it.");
            }
        }
        return slips;
    }

    private void add(List<Slip> slips, BigDecimal gives, String say) {
        if (gives.signum() >= 0) {
            slips.add(new Slip(gives, Prose.of(say), this == OFF_BY_ONE ? Slip.VAGUE : Slip.KNOWN));
        }
    }

    private static String cycles(long cycles) {
        return cycles == 1 ? "1 cycle" : cycles + " cycles";
    }

    /** All names. */
    public static List<String> names() {
        return Arrays.stream(values()).map(Known::text).toList();
    }
}
