package octurn.cli.view;

import octurn.cli.view.Canvas.Area;
import octurn.design.Design;
import octurn.machine.Chip;
import octurn.trace.Event;

/** All pins, each with its levels lately as a small wave that ends with the present cycle. */
final class PinsView {

    private static final int NUMBER = 3;
    /** Columns behind the wave: the level, who drives the pin, a clash. */
    private static final int REST = 9;

    private final Area area;
    private final Scene scene;
    private final Chip chip;
    private final Design design;
    private final Glyphs glyphs;

    private PinsView(Area area, Scene scene) {
        this.area = area;
        this.scene = scene;
        this.chip = scene.moment().chip();
        this.design = chip.design();
        this.glyphs = area.glyphs();
    }

    /** Cycles that the longest wave shows, the present one among them. */
    static long cycles(Look look) {
        return (long) (StepLayout.PANEL - NUMBER - REST) * look.cyclesAColumn();
    }

    static void draw(Area area, Scene scene) {
        PinsView view = new PinsView(area, scene);
        if (view.design.pins() == 0) {
            area.put(0, 0, "this chip has no pins", Ink.WEAK);
        } else if (area.rows() >= view.design.pins()) {
            view.oneColumn();
        } else {
            view.twoColumns();
        }
    }

    private void oneColumn() {
        for (int pin = 0; pin < design.pins(); pin++) {
            wave(pin, pin, 0, area.columns() - REST);
            rest(pin, pin);
        }
    }

    private void rest(int row, int pin) {
        int column = area.columns() - REST + 1;
        boolean high = (chip.pinLevels() >>> pin & 1) != 0;
        area.put(row, column, high ? "1" : "0", Ink.STRONG);
        StringBuilder drivers = new StringBuilder();
        for (int core = 0; core < design.cores(); core++) {
            if ((chip.core(core).drive() >>> pin & 1) != 0) {
                drivers.append(glyphs.sign("\u25c2", "<")).append(core);
            }
        }
        if ((chip.pinsGiven() >>> pin & 1) != 0) {
            drivers.append(glyphs.sign("\u25c2", "<")).append("in");
        }
        area.put(row, column + 2, glyphs.cut(drivers.toString(), 5), Ink.PLAIN);
        if ((chip.pinClashes() >>> pin & 1) != 0) {
            area.put(row, column + 7, "!", Ink.ALARM);
        }
    }

    private void twoColumns() {
        int half = (design.pins() + 1) / 2;
        int top = Math.max(0, Math.min(scene.look().scroll(), half - area.rows()));
        for (int row = 0; row < area.rows() && top + row < half; row++) {
            short2(row, top + row, 0);
            if (top + row + half < design.pins()) {
                short2(row, top + row + half, 19);
            }
        }
    }

    private void short2(int row, int pin, int column) {
        wave(row, pin, column, column + 16);
        boolean clash = (chip.pinClashes() >>> pin & 1) != 0;
        boolean high = (chip.pinLevels() >>> pin & 1) != 0;
        area.put(row, column + 16, clash ? "!" : high ? "1" : "0", clash ? Ink.ALARM : Ink.STRONG);
    }

    /** The wave of a pin up to a column; its last column holds the present cycle. */
    private void wave(int row, int pin, int column, int endColumn) {
        area.putRight(row, column + 2, Integer.toString(pin), Ink.WEAK);
        int width = endColumn - column - NUMBER;
        long scale = scene.look().cyclesAColumn();
        long now = scene.moment().cycle();
        long start = now + 1 - width * scale;
        boolean[] high = new boolean[width];
        boolean[] edge = new boolean[width];
        boolean[] clash = new boolean[width];
        boolean level = false;
        boolean clashing = false;
        long at = start;
        for (Event event : scene.pinEvents()) {
            if (event.cycle() > now) {
                break;
            }
            fill(high, clash, at - start, event.cycle() - start, scale, level, clashing);
            at = Math.max(at, event.cycle());
            boolean next = (event.a() >>> pin & 1) != 0;
            if (next != level
                    && event.cycle() >= start
                    && event.cycle() > scene.pinEvents().get(0).cycle()) {
                edge[(int) ((event.cycle() - start) / scale)] = true;
            }
            level = next;
            clashing = (event.b() >>> pin & 1) != 0;
        }
        fill(high, clash, at - start, now + 1 - start, scale, level, clashing);
        for (int i = 0; i < width; i++) {
            if (start + (i + 1) * scale > 0) {
                String mark = scale > 1 && edge[i]
                        ? glyphs.sign("\u2503", "|")
                        : high[i] ? glyphs.sign("\u2594", "^") : glyphs.sign("\u2581", "_");
                area.put(row, column + NUMBER + i, clash[i] ? "!" : mark, clash[i] ? Ink.ALARM : Ink.PLAIN);
            }
        }
    }

    private static void fill(
            boolean[] high, boolean[] clash, long from, long to, long scale, boolean level, boolean clashing) {
        for (long i = Math.max(0, from) / scale; i < high.length && i * scale < to; i++) {
            high[(int) i] = level;
            clash[(int) i] |= clashing;
        }
    }
}
