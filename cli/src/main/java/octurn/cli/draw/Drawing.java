package octurn.cli.draw;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import octurn.arbiter.Rotation;
import octurn.cli.draw.Sheet.Anchor;
import octurn.cli.draw.Sheet.Letters;
import octurn.cli.draw.Sheet.Point;
import octurn.cli.plot.Painter;
import octurn.cli.view.ExcerptWords;
import octurn.cli.view.Glyphs;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.excerpt.Excerpt;
import octurn.excerpt.Excerpt.Deed;
import octurn.excerpt.Excerpt.Handover;
import octurn.excerpt.Excerpt.Lane;
import octurn.excerpt.Excerpt.Level;
import octurn.excerpt.Excerpt.Stretch;
import octurn.excerpt.Excerpt.Wave;
import octurn.excerpt.Excerpt.WaveColumn;
import octurn.machine.State;
import org.jspecify.annotations.Nullable;

/**
 * The timeline as a picture: a lane for each core over the cycles, whose slot it is above them and in them, the pins
 * below, and arrows from core to core. The same excerpt gives the same bytes.
 */
public final class Drawing {

    /** What kind of file. */
    public enum Format {
        SVG,
        PNG
    }

    /**
     * How it is wanted.
     *
     * @param cores whose lanes are drawn, ascending
     * @param pins whose waves are drawn, ascending
     * @param labels whether instructions are written below the lanes
     */
    public record Wish(List<Integer> cores, List<Integer> pins, boolean labels, Size size, Palette palette) {
        public Wish {
            cores = List.copyOf(cores);
            pins = List.copyOf(pins);
        }
    }

    private static final Glyphs GLYPHS = new Glyphs(StandardCharsets.UTF_8);

    /** A cycle is at least so wide in an exact picture, in pixels, and at most so wide. */
    private static final double LEAST_CYCLE = 2;

    private static final double MOST_CYCLE = 40;

    /** From this width of a cycle on, blocks have frames of their own. */
    private static final double FRAMED_CYCLE = 3.5;

    /** The width of a slot from which on it is shown whose it is. */
    private static final double LEAST_SLOT = 4;

    /** The width of a column of merged cycles. */
    private static final double COLUMN = 4;

    /** More arrows cannot be followed with the eye. */
    private static final int MOST_ARROWS = 150;

    private static final int MOST_HANDOVERS = 4;
    private static final double LEAST_LANE = 17;
    private static final double FRAME = 0.8;
    private static final double HEAD = 7;
    private static final double CORNER = 5;
    /** The row of instructions below a lane, in heights of its letters. */
    private static final double LABEL_ROW = 1.25;

    /** Arrows beside each other in one gap: how many, and how far apart. */
    private static final int MOST_TRACKS = 4;

    private static final double TRACK = 4.5;

    private final Excerpt excerpt;
    private final Wish wish;
    private final Design design;
    private final Size size;
    private final Size.Fonts fonts;
    private final Palette palette;
    private final ExcerptWords words;
    private final @Nullable Rotation rotation;
    private final Sheet.Letters nameLetters;
    private final Sheet.Letters labelLetters;
    private final Sheet.Letters rulerLetters;

    private final double left;
    private final double plotWidth;
    /** Pixels of a cycle. */
    private final double cycle;

    private final List<String> subtitle = new ArrayList<>();
    private final List<List<Entry>> legend;
    private final List<String> notes = new ArrayList<>();
    private final boolean hasRuler;
    private final boolean hasTurns;

    private final double rulerTop;
    private final double lanesTop;
    private final double lane;
    private final double band;
    private final boolean labelled;
    private final double pinRow;
    private final double height;

    private Drawing(Excerpt excerpt, Wish wish) {
        this.excerpt = excerpt;
        this.wish = wish;
        this.design = excerpt.program().design();
        this.size = wish.size();
        this.fonts = size.fonts();
        this.palette = wish.palette();
        this.words = new ExcerptWords(excerpt, wish.cores(), GLYPHS);
        this.rotation = excerpt.isExact() && design.admission() instanceof Admission.Rotation admission
                ? new Rotation(design.slotCycles(), admission.order(), design.cores())
                : null;
        this.rulerLetters = new Letters(fonts.ruler(), false, palette.ink());
        this.labelLetters = new Letters(fonts.label(), false, palette.ink());
        this.left = left(size);
        this.plotWidth = plotWidth(size, excerpt.isExact());
        this.cycle = Math.min(MOST_CYCLE, plotWidth / (double) excerpt.cycles());
        double slot = cycle * design.slotCycles();
        String widest = Integer.toString(design.cores() - 1);
        this.hasRuler = excerpt.isExact()
                && !(design.admission() instanceof Admission.OwnPort)
                && slot >= TextWidth.of(widest, rulerLetters) + 2;
        this.hasTurns = rotation != null && slot >= LEAST_SLOT;

        subtitle();
        List<Entry> entries = entries();
        this.legend = rows(entries);
        notes();

        this.rulerTop = size.margin() + fonts.title() + subtitle.size() * line(fonts.subtitle()) + fonts.ruler() * 1.9;
        this.lanesTop = rulerTop + (hasRuler ? 1.6 * fonts.ruler() : 0) + 12;
        this.pinRow = 2.1 * fonts.ruler();
        double below = wish.pins().size() * pinRow
                + (wish.pins().isEmpty() ? 0 : 6)
                + 10
                + legend.size() * line(fonts.subtitle())
                + notes.size() * line(fonts.label())
                + size.margin();
        int lanes = wish.cores().size();
        double tracks = hasArrows() && lanes > 1 ? HEAD + TRACK * Collections.max(tracks()) : 0;
        double most = (wish.labels() && excerpt.isExact() ? size.lane() : size.band() + 14) + tracks;
        double room = (size.height() - lanesTop - below) / lanes;
        double pitch = Math.max(LEAST_LANE, Math.min(most, room));
        double labelRow = LABEL_ROW * fonts.label();
        this.labelled = wish.labels() && excerpt.isExact() && pitch >= 0.7 * size.band() + labelRow + 7;
        this.lane = labelled || !wish.labels() ? pitch : Math.min(pitch, size.band() + 14 + tracks);
        this.band = Math.min(excerpt.isExact() ? size.band() : size.band() + 6, lane - 7 - (labelled ? labelRow : 0));
        this.nameLetters = new Letters(Math.min(fonts.name(), 0.72 * lane), true, palette.ink());
        this.height = Math.ceil(lanesTop + lanes * lane + below);
    }

    private static double left(Size size) {
        return size.margin() + 4.6 * size.fonts().name();
    }

    private static double plotWidth(Size size, boolean exact) {
        return size.width()
                - left(size)
                - size.margin()
                - (exact ? 6 : 6.2 * size.fonts().label());
    }

    /** How many cycles a picture can show one by one. */
    public static long exactCycles(Size size) {
        return (long) (plotWidth(size, true) / LEAST_CYCLE);
    }

    /** How many columns of merged cycles it can show. */
    public static int mergedColumns(Size size) {
        return (int) (plotWidth(size, false) / COLUMN);
    }

    /**
     * Draws an excerpt of at least one cycle, with no more cycles or columns than can be shown.
     *
     * @throws IOException if the stream does, or if it is to be a PNG and there are no fonts to draw with
     */
    public static void write(Excerpt excerpt, Wish wish, Format format, OutputStream out) throws IOException {
        Drawing drawing = new Drawing(excerpt, wish);
        if (format == Format.SVG) {
            String id = "%d-%d-%s"
                    .formatted(excerpt.from(), excerpt.to(), wish.palette().word());
            SvgSheet sheet = new SvgSheet(id);
            drawing.draw(sheet);
            sheet.write(out, wish.size(), drawing.height, drawing.title(), drawing.words.description());
        } else {
            Painter.requireFonts();
            PngSheet sheet = new PngSheet(
                    wish.size().width(), drawing.height, wish.size().pngScale());
            drawing.draw(sheet);
            sheet.write(out);
        }
    }

    private String title() {
        return words.program(200) + ", " + words.span();
    }

    private static double line(double letters) {
        return Math.ceil(1.45 * letters);
    }

    // ---- what is written

    private void subtitle() {
        Letters letters = new Letters(fonts.subtitle(), false, palette.weak());
        String span = words.span();
        String chip = words.design(200);
        String both = span + " \u00b7 " + chip;
        if (TextWidth.of(both, letters) <= textWidth()) {
            subtitle.add(both);
        } else {
            subtitle.add(span);
            subtitle.addAll(wrapped(chip, letters));
        }
    }

    private double textWidth() {
        return size.width() - 2 * size.margin();
    }

    private List<String> wrapped(String text, Letters letters) {
        List<String> lines = new ArrayList<>();
        String line = "";
        for (String word : text.split(" ", -1)) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (!line.isEmpty() && TextWidth.of(longer, letters) > textWidth()) {
                lines.add(line);
                line = word;
            } else {
                line = longer;
            }
        }
        lines.add(line);
        return lines.stream().map(one -> cut(one, letters, textWidth())).toList();
    }

    private static String cut(String text, Letters letters, double room) {
        if (TextWidth.of(text, letters) <= room) {
            return text;
        }
        int end = text.length();
        while (end > 0 && TextWidth.of(text.substring(0, end) + "\u2026", letters) > room) {
            end = text.offsetByCodePoints(end, -1);
        }
        return text.substring(0, end) + "\u2026";
    }

    private void notes() {
        List<String> sentences = new ArrayList<>(words.notes());
        int arrows = words.handovers().size();
        if (arrows > MOST_ARROWS) {
            sentences.add("%d words went from core to core: too many for arrows.".formatted(arrows));
        } else if (arrows > 0) {
            sentences.add("Arrows: " + String.join("; ", words.handovers(MOST_HANDOVERS)) + ".");
        }
        Letters letters = new Letters(fonts.label(), false, palette.weak());
        for (String sentence : sentences) {
            notes.addAll(wrapped(sentence, letters));
        }
    }

    private boolean hasArrows() {
        int arrows = words.handovers().size();
        return arrows > 0 && arrows <= MOST_ARROWS;
    }

    // ---- the legend

    private enum Sign {
        STATE,
        TURN,
        ARROW,
        CLASH
    }

    private record Entry(Sign sign, @Nullable State state, String text, double width) {}

    private static final double SAMPLE = 26;

    private List<Entry> entries() {
        Set<State> occurring = new TreeSet<>();
        wish.cores()
                .forEach(core ->
                        occurring.addAll(excerpt.lanes().get(core).cycles().keySet()));
        List<Entry> entries = new ArrayList<>();
        for (State state : occurring) {
            String letter = ExcerptWords.letter(state);
            String name = ExcerptWords.name(state);
            entries.add(entry(Sign.STATE, state, letter.isEmpty() ? name : name + " (" + letter + ")"));
        }
        if (hasTurns) {
            entries.add(entry(Sign.TURN, null, "the core\u2019s own slot"));
        }
        if (hasArrows()) {
            entries.add(entry(Sign.ARROW, null, "a word goes from core to core"));
        }
        if (wish.pins().stream().anyMatch(pin -> excerpt.waves().get(pin).clashes() > 0)) {
            entries.add(entry(Sign.CLASH, null, "clash (!)"));
        }
        return entries;
    }

    private Entry entry(Sign sign, @Nullable State state, String text) {
        Letters letters = new Letters(fonts.subtitle(), false, palette.ink());
        return new Entry(sign, state, text, SAMPLE + 6 + TextWidth.of(text, letters) + 18);
    }

    private List<List<Entry>> rows(List<Entry> entries) {
        List<List<Entry>> rows = new ArrayList<>();
        double used = Double.MAX_VALUE;
        for (Entry entry : entries) {
            if (used + entry.width() > textWidth() + 18) {
                rows.add(new ArrayList<>());
                used = 0;
            }
            rows.get(rows.size() - 1).add(entry);
            used += entry.width();
        }
        return rows;
    }

    private void legend(Sheet sheet, double top) {
        Letters letters = new Letters(fonts.subtitle(), false, palette.ink());
        double sampleHeight = fonts.subtitle();
        for (int row = 0; row < legend.size(); row++) {
            double x = size.margin();
            double y = top + row * line(fonts.subtitle());
            for (Entry entry : legend.get(row)) {
                sample(sheet, entry, x, y, sampleHeight);
                sheet.text(x + SAMPLE + 6, y + 0.85 * fonts.subtitle(), entry.text(), Anchor.START, letters);
                x += entry.width();
            }
        }
    }

    private void sample(Sheet sheet, Entry entry, double x, double y, double sampleHeight) {
        double middle = y + sampleHeight / 2;
        switch (entry.sign()) {
            case STATE -> {
                State state = entry.state();
                if (state == State.IDLE && !excerpt.isExact()) {
                    frame(sheet, x, y, SAMPLE, sampleHeight);
                } else if (state != null && state != State.IDLE) {
                    sheet.fill(x, y, SAMPLE, sampleHeight, palette.texture(state));
                    frame(sheet, x, y, SAMPLE, sampleHeight);
                } else {
                    sheet.line(List.of(new Point(x, middle), new Point(x + SAMPLE, middle)), 1.2, palette.weak());
                }
            }
            case TURN -> bracket(sheet, x, x + SAMPLE, middle + 3);
            case ARROW -> {
                double end = x + SAMPLE;
                sheet.line(List.of(new Point(x, middle), new Point(end - HEAD + 1, middle)), 1.8, palette.ink());
                sheet.polygon(
                        List.of(
                                new Point(end, middle),
                                new Point(end - HEAD, middle - HEAD / 2),
                                new Point(end - HEAD, middle + HEAD / 2)),
                        palette.ink());
            }
            case CLASH -> {
                sheet.fill(x, y, SAMPLE, sampleHeight, palette.clash());
                frame(sheet, x, y, SAMPLE, sampleHeight);
            }
        }
    }

    // ---- all of it

    private void draw(Sheet sheet) {
        sheet.fill(0, 0, size.width(), height, palette.ground());
        double y = size.margin() + 0.8 * fonts.title();
        Letters title = new Letters(fonts.title(), true, palette.ink());
        sheet.text(size.margin(), y, cut(words.program(200), title, textWidth()), Anchor.START, title);
        for (String text : subtitle) {
            y += line(fonts.subtitle());
            sheet.text(size.margin(), y, text, Anchor.START, new Letters(fonts.subtitle(), false, palette.weak()));
        }
        double lanesBottom = lanesTop + wish.cores().size() * lane;
        double pinsTop = lanesBottom + (wish.pins().isEmpty() ? 0 : 6);
        double pinsBottom = pinsTop + wish.pins().size() * pinRow;
        ruler(sheet, pinsBottom);
        for (int i = 0; i < wish.cores().size(); i++) {
            lane(sheet, excerpt.lanes().get(wish.cores().get(i)), bandTop(i));
        }
        for (int i = 0; i < wish.pins().size(); i++) {
            wave(sheet, excerpt.waves().get(wish.pins().get(i)), pinsTop + i * pinRow);
        }
        if (excerpt.ended() != null) {
            sheet.line(
                    List.of(new Point(x(excerpt.to()), rulerTop), new Point(x(excerpt.to()), pinsBottom)),
                    2,
                    palette.ink());
        }
        if (hasArrows()) {
            arrows(sheet);
        }
        for (int i = 0; i < wish.cores().size(); i++) {
            double bandTop = bandTop(i);
            excerpt.lanes().get(wish.cores().get(i)).stretches().forEach(stretch -> word(sheet, stretch, bandTop));
        }
        double legendTop = pinsBottom + 10;
        legend(sheet, legendTop);
        y = legendTop + legend.size() * line(fonts.subtitle());
        for (String note : notes) {
            sheet.text(
                    size.margin(),
                    y + fonts.label(),
                    note,
                    Anchor.START,
                    new Letters(fonts.label(), false, palette.weak()));
            y += line(fonts.label());
        }
    }

    private double x(long at) {
        return left + (double) (at - excerpt.from()) * cycle;
    }

    private void frame(Sheet sheet, double x, double y, double width, double frameHeight) {
        sheet.line(
                List.of(
                        new Point(x, y),
                        new Point(x + width, y),
                        new Point(x + width, y + frameHeight),
                        new Point(x, y + frameHeight),
                        new Point(x, y - FRAME / 2)),
                FRAME,
                palette.ink());
    }

    // ---- above the lanes

    private void ruler(Sheet sheet, double bottom) {
        String least = String.format(Locale.ROOT, "%,d", excerpt.from());
        double before = Math.max(8, TextWidth.of(least, rulerLetters) / 2 + 5);
        sheet.text(left - before, rulerTop - 5, "cycle", Anchor.END, new Letters(fonts.ruler(), false, palette.weak()));
        long step = step(fonts.ruler() * 4.6 / cycle);
        double free = 0;
        for (long at = (excerpt.from() + step - 1) / step * step; at <= excerpt.to(); at += step) {
            double x = x(at);
            String text = String.format(Locale.ROOT, "%,d", at);
            double half = TextWidth.of(text, rulerLetters) / 2;
            sheet.line(List.of(new Point(x, rulerTop - 3), new Point(x, bottom)), FRAME, palette.faint());
            if (x - half >= free && x + half <= size.width()) {
                sheet.text(x, rulerTop - 5, text, Anchor.MIDDLE, rulerLetters);
                free = x + half + 6;
            }
        }
        if (rotation != null && hasRuler) {
            sheet.text(left - 8, turnBase(), "turn", Anchor.END, new Letters(fonts.ruler(), false, palette.weak()));
            int slot = design.slotCycles();
            for (long start = excerpt.from() / slot * slot; start < excerpt.to(); start += slot) {
                cell(sheet, start, start + slot, rotation.owner(start), palette.ground(), palette.ink());
            }
        } else if (hasRuler) {
            sheet.text(left - 8, turnBase(), "held", Anchor.END, new Letters(fonts.ruler(), false, palette.weak()));
            Texture slot = palette.texture(State.SLOT);
            for (Lane one : excerpt.lanes()) {
                for (Stretch stretch : one.stretches()) {
                    if (stretch.state().isAdmitted()) {
                        cell(sheet, stretch.from(), stretch.to(), one.core(), slot.ground(), slot.text());
                    }
                }
            }
        }
    }

    private double turnBase() {
        return rulerTop + 1.15 * fonts.ruler();
    }

    /** A core's number over some cycles, in the row above the lanes. */
    private void cell(Sheet sheet, long from, long to, int core, int ground, int ink) {
        double start = x(Math.max(from, excerpt.from()));
        double end = x(Math.min(to, excerpt.to()));
        sheet.fill(start, rulerTop, end - start, 1.5 * fonts.ruler(), ground);
        frame(sheet, start, rulerTop, end - start, 1.5 * fonts.ruler());
        String number = Integer.toString(core);
        Letters letters = new Letters(fonts.ruler(), false, ink);
        if (TextWidth.of(number, letters) <= end - start - 2) {
            sheet.text((start + end) / 2, turnBase(), number, Anchor.MIDDLE, letters);
        }
    }

    /** The least of 1, 2, 5, 10, 20 .. that is no less. */
    private static long step(double least) {
        for (long power = 1; ; power *= 10) {
            for (long factor : new long[] {1, 2, 5}) {
                if ((double) (factor * power) >= least) {
                    return factor * power;
                }
            }
        }
    }

    // ---- lanes

    private void lane(Sheet sheet, Lane one, double bandTop) {
        sheet.text(
                left - 8,
                bandTop + band / 2 + 0.36 * nameLetters.size(),
                "core " + one.core(),
                Anchor.END,
                nameLetters);
        if (!excerpt.isExact()) {
            columns(sheet, one, bandTop);
            sheet.text(
                    left + plotWidth + 8,
                    bandTop + band / 2 + 0.36 * fonts.label(),
                    "wait %d %%".formatted(ExcerptWords.waitPercent(one)),
                    Anchor.START,
                    labelLetters);
            return;
        }
        turns(sheet, one.core(), bandTop);
        for (Stretch stretch : one.stretches()) {
            block(sheet, stretch, bandTop);
        }
        if (cycle >= FRAMED_CYCLE) {
            begins(sheet, one, bandTop);
        }
        if (labelled) {
            labels(sheet, one, bandTop + band + fonts.label());
        }
    }

    /** Where the core's own slots stand open. */
    private void turns(Sheet sheet, int core, double bandTop) {
        if (rotation == null || !hasTurns) {
            return;
        }
        int slot = design.slotCycles();
        for (long start = excerpt.from() / slot * slot; start < excerpt.to(); start += slot) {
            if (rotation.owner(start) == core) {
                double from = x(Math.max(start, excerpt.from()));
                double to = x(Math.min(start + slot, excerpt.to()));
                bracket(sheet, from, to, bandTop - 1.5);
            }
        }
    }

    private void bracket(Sheet sheet, double from, double to, double bottom) {
        double top = bottom - 3.5;
        if (to - from < 10) {
            sheet.line(List.of(new Point(from + 0.5, top), new Point(to - 0.5, top)), 2, palette.turn());
            return;
        }
        sheet.line(
                List.of(
                        new Point(from + 1, bottom),
                        new Point(from + 1, top),
                        new Point(to - 1, top),
                        new Point(to - 1, bottom)),
                2,
                palette.turn());
    }

    private void block(Sheet sheet, Stretch stretch, double bandTop) {
        double from = x(stretch.from());
        double to = x(stretch.to());
        if (stretch.state() == State.IDLE) {
            double middle = bandTop + band / 2;
            sheet.line(List.of(new Point(from, middle), new Point(to, middle)), 1.2, palette.weak());
            return;
        }
        Texture texture = palette.texture(stretch.state());
        sheet.fill(from, bandTop, to - from, band, texture);
        if (cycle >= FRAMED_CYCLE) {
            frame(sheet, from, bandTop, to - from, band);
        } else {
            sheet.line(List.of(new Point(from, bandTop), new Point(to, bandTop)), FRAME, palette.ink());
            sheet.line(List.of(new Point(from, bandTop + band), new Point(to, bandTop + band)), FRAME, palette.ink());
        }
    }

    /** What a block says of itself; it stands on arrows that cross the block. */
    private void word(Sheet sheet, Stretch stretch, double bandTop) {
        double from = x(stretch.from());
        double to = x(stretch.to());
        Texture texture = palette.texture(stretch.state());
        Letters letters = new Letters(Math.min(fonts.block(), 0.8 * band), false, texture.text());
        for (String text : texts(stretch)) {
            double width = TextWidth.of(text, letters);
            if (width + 5 <= to - from) {
                double middle = (from + to) / 2;
                if (texture.hatch() != Texture.Hatch.PLAIN) {
                    double pill = Math.min(width + 6, to - from - 3);
                    sheet.fill(
                            middle - pill / 2,
                            bandTop + (band - 1.15 * letters.size()) / 2,
                            pill,
                            1.15 * letters.size(),
                            texture.ground());
                }
                sheet.text(middle, bandTop + band / 2 + 0.36 * letters.size(), text, Anchor.MIDDLE, letters);
                break;
            }
        }
    }

    /** What may stand in a block, the longest first. */
    private static List<String> texts(Stretch stretch) {
        String letter = ExcerptWords.letter(stretch.state());
        String name = ExcerptWords.name(stretch.state());
        return switch (stretch.state()) {
            case WORK, IDLE -> List.of();
            case WAIT, CODE_WAIT, LOAD_WAIT, SLEEP ->
                stretch.isOver()
                        ? List.of(name + " " + (stretch.to() - stretch.since()), name, letter)
                        : List.of(name, letter);
            default -> List.of(name, letter);
        };
    }

    /** A line where an instruction begins. */
    private void begins(Sheet sheet, Lane one, double bandTop) {
        for (Deed deed : one.deeds()) {
            if (deed.begins()) {
                double x = x(deed.from());
                sheet.line(List.of(new Point(x, bandTop), new Point(x, bandTop + band)), FRAME, palette.ink());
            }
        }
    }

    private void labels(Sheet sheet, Lane one, double base) {
        for (int i = 0; i < one.deeds().size(); i++) {
            Deed deed = one.deeds().get(i);
            double from = x(deed.from());
            boolean last = i + 1 == one.deeds().size();
            double room = (last ? left + plotWidth : x(one.deeds().get(i + 1).from())) - from - 3;
            for (String text : words.label(deed)) {
                if (TextWidth.of(text, labelLetters) <= room) {
                    sheet.text(from + 1, base, text, Anchor.START, labelLetters);
                    break;
                }
            }
        }
    }

    /** The order in which the states of a column lie on each other, from the ground up. */
    private static final List<State> PILE = List.of(
            State.WORK,
            State.SLOT,
            State.CODE_SLOT,
            State.LOAD_SLOT,
            State.WAIT,
            State.CODE_WAIT,
            State.LOAD_WAIT,
            State.SLEEP,
            State.FAULT);

    private void columns(Sheet sheet, Lane one, double bandTop) {
        double bottom = bandTop + band;
        int columns = one.columns().size();
        for (int column = 0; column < columns; ) {
            int next = column + 1;
            while (next < columns
                    && one.columns().get(next).equals(one.columns().get(column))
                    && excerpt.cyclesIn(next) == excerpt.cyclesIn(column)) {
                next++;
            }
            double from = x(excerpt.from() + column * excerpt.cyclesAColumn());
            double to = x(Math.min(excerpt.to(), excerpt.from() + next * excerpt.cyclesAColumn()));
            // A little over the next column, so that no seam is seen between them.
            double width = next < columns ? to - from + 0.4 : to - from;
            double share = band / (double) excerpt.cyclesIn(column);
            double y = bottom;
            for (State state : PILE) {
                double part = share * (double) one.columns().get(column).getOrDefault(state, 0L);
                if (part > 0) {
                    sheet.fill(from, y - part, width, part, palette.texture(state));
                    y -= part;
                }
            }
            column = next;
        }
        sheet.line(List.of(new Point(left, bottom), new Point(x(excerpt.to()), bottom)), FRAME, palette.ink());
        sheet.line(List.of(new Point(left, bandTop), new Point(x(excerpt.to()), bandTop)), FRAME, palette.weak());
    }

    // ---- pins

    private void wave(Sheet sheet, Wave wave, double top) {
        double high = top + 4;
        double low = top + pinRow - 5;
        sheet.text(
                left - 8,
                low,
                "pin " + wave.pin(),
                Anchor.END,
                new Letters(Math.min(fonts.name(), fonts.ruler() + 1), true, palette.ink()));
        List<Point> path = new ArrayList<>();
        if (excerpt.isExact()) {
            for (Level level : wave.levels()) {
                double y = level.high() ? high : low;
                double from = x(level.from());
                double to = x(level.to());
                if (level.clash()) {
                    sheet.fill(from, high, to - from, low - high, palette.clash());
                    Letters letters = new Letters(fonts.ruler(), true, palette.ink());
                    if (to - from >= 10) {
                        double middle = (from + to) / 2;
                        sheet.fill(middle - 3, high + 1, 6, low - high - 2, palette.ground());
                        sheet.text(middle, low - 2, "!", Anchor.MIDDLE, letters);
                    }
                }
                path.add(new Point(from, y));
                path.add(new Point(to, y));
            }
            sheet.line(path, 1.8, palette.ink());
        } else {
            columns(sheet, wave, high, low);
        }
    }

    /** A level where it is the same all through a column, a filled box where it is not. */
    private void columns(Sheet sheet, Wave wave, double high, double low) {
        List<Point> path = new ArrayList<>();
        for (int column = 0; column < wave.columns().size(); column++) {
            WaveColumn sums = wave.columns().get(column);
            double from = x(excerpt.from() + column * excerpt.cyclesAColumn());
            double to = x(excerpt.from() + column * excerpt.cyclesAColumn() + excerpt.cyclesIn(column));
            boolean mixed = sums.highCycles() > 0 && sums.highCycles() < excerpt.cyclesIn(column);
            if (mixed || sums.clashes() > 0) {
                level(sheet, path);
                if (sums.clashes() > 0) {
                    sheet.fill(from, high, to - from, low - high, palette.clash());
                } else {
                    sheet.fill(from, high - 0.9, to - from, low - high + 1.8, palette.weak());
                }
            } else {
                double y = sums.highCycles() > 0 ? high : low;
                path.add(new Point(from, y));
                path.add(new Point(to, y));
            }
        }
        level(sheet, path);
    }

    private void level(Sheet sheet, List<Point> path) {
        if (!path.isEmpty()) {
            sheet.line(List.copyOf(path), 1.8, palette.ink());
            path.clear();
        }
    }

    // ---- arrows

    /** How an arrow runs: its line, the tip of its head, and where the head begins. */
    private record Arrow(List<Point> path, Point tip, double back) {}

    private void arrows(Sheet sheet) {
        List<Handover> handovers = words.handovers();
        List<Integer> tracks = tracks();
        List<Arrow> arrows = new ArrayList<>();
        for (int i = 0; i < handovers.size(); i++) {
            arrows.add(arrow(handovers.get(i), tracks.get(i)));
        }
        arrows.forEach(arrow -> sheet.line(arrow.path(), 4.4, palette.ground()));
        for (Arrow arrow : arrows) {
            Point start = arrow.path().get(0);
            Point tip = arrow.tip();
            double half = Math.abs(tip.y() - arrow.back()) / 2;
            sheet.line(arrow.path(), 1.7, palette.ink());
            sheet.polygon(
                    List.of(tip, new Point(tip.x() - half, arrow.back()), new Point(tip.x() + half, arrow.back())),
                    palette.ink());
            sheet.fill(start.x() - 2.2, start.y() - 2.2, 4.4, 4.4, palette.ink());
        }
    }

    /**
     * An arrow leaves the slot that wrote the word, goes along the gap next to the lane of the core that reads it, and ends
     * at the slot that read it; a little before the end of the slots, so that one that comes and one that goes part.
     */
    private Arrow arrow(Handover handover, int track) {
        int source = wish.cores().indexOf(handover.from());
        int target = wish.cores().indexOf(handover.to());
        boolean down = target > source;
        double slot = design.slotCycles() * cycle;
        double startX = x(handover.writtenAt()) - Math.min(4, 0.2 * slot);
        double endX = x(handover.readAt()) - Math.min(13, 0.6 * slot);
        double startY = bandTop(source) + (down ? band : 0);
        double tipY = bandTop(target) + (down ? 0 : band);
        double free = lane - band - (labelled ? LABEL_ROW * fonts.label() : 0);
        double head = Math.min(HEAD, 0.7 * free);
        double back = down ? tipY - head : tipY + head;
        double along = bandTop(gap(source, target) + 1) - Math.min(HEAD + 1 + track * TRACK, free - 3);
        List<Point> path = rounded(
                new Point(startX, startY),
                new Point(startX, along),
                new Point(endX, along),
                new Point(endX, down ? back + 1 : back - 1));
        return new Arrow(path, new Point(endX, tipY), back);
    }

    private double bandTop(int place) {
        return lanesTop + place * lane + 6;
    }

    /** The gap that an arrow goes along: the one below this lane. */
    private static int gap(int source, int target) {
        return target > source ? target - 1 : target;
    }

    /** For each arrow how far from the lane it goes along the gap, so that those at the same time do not cover each other. */
    private List<Integer> tracks() {
        List<Integer> tracks = new ArrayList<>();
        Map<Integer, long[]> free = new HashMap<>();
        for (Handover handover : words.handovers()) {
            int gap = gap(wish.cores().indexOf(handover.from()), wish.cores().indexOf(handover.to()));
            long[] until = free.computeIfAbsent(gap, key -> filled(MOST_TRACKS));
            int track = 0;
            while (track < MOST_TRACKS - 1 && until[track] >= handover.writtenAt()) {
                track++;
            }
            until[track] = Math.max(until[track], handover.readAt());
            tracks.add(track);
        }
        return tracks;
    }

    private static long[] filled(int length) {
        long[] array = new long[length];
        Arrays.fill(array, -1);
        return array;
    }

    /** A line through these points with its two corners rounded. */
    private static List<Point> rounded(Point first, Point second, Point third, Point last) {
        List<Point> path = new ArrayList<>();
        path.add(first);
        corner(path, first, second, third);
        corner(path, second, third, last);
        path.add(last);
        return path;
    }

    private static void corner(List<Point> path, Point before, Point at, Point after) {
        double in = Math.hypot(at.x() - before.x(), at.y() - before.y());
        double out = Math.hypot(after.x() - at.x(), after.y() - at.y());
        double radius = Math.min(CORNER, Math.min(in, out) / 2);
        if (radius < 0.5) {
            path.add(at);
            return;
        }
        double fromX = at.x() + (before.x() - at.x()) / in * radius;
        double fromY = at.y() + (before.y() - at.y()) / in * radius;
        double toX = at.x() + (after.x() - at.x()) / out * radius;
        double toY = at.y() + (after.y() - at.y()) / out * radius;
        for (int i = 0; i <= 4; i++) {
            double t = i / 4.0;
            double a = (1 - t) * (1 - t);
            double b = 2 * t * (1 - t);
            path.add(new Point(a * fromX + b * at.x() + t * t * toX, a * fromY + b * at.y() + t * t * toY));
        }
    }
}
