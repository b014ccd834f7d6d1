package octurn.cli.view;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import octurn.arbiter.Rotation;
import octurn.cli.view.Canvas.Area;
import octurn.design.Design;
import octurn.isa.Word;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.report.Sentences;
import octurn.run.Moment;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.jspecify.annotations.Nullable;

/** The panels beside the source: what is in the chip now. */
final class Panels {

    private static final int REGISTERS = 16;
    private static final int TALLY_ROWS = 6;
    private static final int LEAST_ROWS = 4;
    private static final Set<Kind> FINISHES = Set.of(Kind.FINISH);
    private static final List<String> TALLY_MODES =
            List.of("off", "cycles", "rising", "falling", "high", "low", "pulse");

    private final Scene scene;
    private final Moment moment;
    private final Chip chip;
    private final Design design;
    private final Look look;
    private final Core core;
    private final Glyphs glyphs;

    Panels(Scene scene, Glyphs glyphs) {
        this.scene = scene;
        this.moment = scene.moment();
        this.chip = moment.chip();
        this.design = chip.design();
        this.look = scene.look();
        this.core = chip.core(look.core());
        this.glyphs = glyphs;
    }

    /**
     * Fills columns with panels, the chosen one first, each with its title above it.
     *
     * @param areas one for each column; the first row is for titles
     */
    void fill(List<Area> areas) {
        int next = 0;
        for (Area area : areas) {
            int row = 0;
            while (next < Panel.values().length && area.rows() - row - 1 >= (row == 0 ? 1 : LEAST_ROWS)) {
                Panel panel = look.panel().plus(next);
                int left = area.rows() - row - 1;
                int rows = Math.min(left, wantedRows(panel, area.rows(), left));
                boolean last = left - rows - 1 < LEAST_ROWS || next == Panel.values().length - 1;
                rows = last ? left : rows;
                title(area, row, panel, next == 0);
                Area part = area.part(row + 1, 0, rows, area.columns());
                part.zone(0, 0, rows, area.columns(), "", "scroll up 3", "scroll down 3");
                draw(panel, part);
                row += rows + 1;
                next++;
            }
        }
    }

    private int wantedRows(Panel panel, int most, int left) {
        return switch (panel) {
            case REGISTERS -> look.base() == NumberBase.BINARY ? REGISTERS : REGISTERS / 2;
            case TALLIES -> TALLY_ROWS;
            case PINS -> Math.max(1, left >= design.pins() ? design.pins() : (design.pins() + 1) / 2);
            case SHARED, PRIVATE, TURNS -> Math.max(LEAST_ROWS, most / 2 - 1);
        };
    }

    private void title(Area area, int row, Panel panel, boolean chosen) {
        area.fill(row, 0, area.columns(), glyphs.sign("\u254c", "-"), Ink.WEAK);
        area.put(row, 1, " " + title(panel) + " ", chosen ? Ink.STRONG_REVERSED : Ink.PLAIN);
        area.zone(row, 0, 1, area.columns(), "show " + (chosen ? "next" : panel.text()), "", "");
    }

    private String title(Panel panel) {
        return switch (panel) {
            case REGISTERS ->
                "registers of core %d, %s".formatted(look.core(), look.base().longName());
            case SHARED -> "shared memory";
            case PRIVATE -> "private RAM of core " + look.core();
            case PINS ->
                look.cyclesAColumn() == 1 ? "pins" : "pins, %d cycles a column".formatted(look.cyclesAColumn());
            case TALLIES -> "pins and tallies of core " + look.core();
            case TURNS -> "turns: who was admitted";
        };
    }

    private void draw(Panel panel, Area area) {
        switch (panel) {
            case REGISTERS -> registers(area);
            case SHARED -> shared(area);
            case PRIVATE -> privately(area);
            case PINS -> PinsView.draw(area, scene);
            case TALLIES -> tallies(area);
            case TURNS -> turns(area);
        }
    }

    private int scroll(int contents, int rows) {
        return Math.max(0, Math.min(look.scroll(), contents - rows));
    }

    // ---- registers ----

    private void registers(Area area) {
        Set<Integer> written = new HashSet<>();
        Event finish = moment.last(core.number(), FINISHES);
        if (finish != null) {
            for (Event event : moment.past()) {
                if (event.core() == core.number() && event.kind() == Kind.REGISTER && event.cycle() == finish.cycle()) {
                    written.add((int) event.a());
                }
            }
        }
        boolean wide = look.base() == NumberBase.BINARY;
        int rows = wide ? REGISTERS : REGISTERS / 2;
        int top = scroll(rows, area.rows());
        for (int row = 0; row < area.rows() && top + row < rows; row++) {
            register(area, row, 0, top + row, written);
            if (!wide) {
                register(area, row, 19, top + row + rows, written);
            }
        }
    }

    private void register(Area area, int row, int column, int number, Set<Integer> written) {
        boolean wide = look.base() == NumberBase.BINARY;
        boolean changed = written.contains(number);
        Ink ink = changed ? Ink.STRONG : Ink.PLAIN;
        int valueColumn = column + (wide ? 4 : 5);
        area.put(row, column, "r" + number, Ink.WEAK);
        area.putRight(row, valueColumn + look.base().columns(), look.base().write(core.register(number)), ink);
        if (changed) {
            area.put(row, valueColumn + look.base().columns(), "*", Ink.STRONG);
        }
    }

    // ---- memories ----

    private void shared(Area area) {
        Map<Integer, String> touching = new HashMap<>();
        for (int holder : Sentences.holders(chip)) {
            long address = chip.core(holder).requestAddress();
            if (address >= 0 && address < design.sharedWords()) {
                touching.merge((int) address, glyphs.sign("\u25c2", "<") + holder, String::concat);
            }
        }
        for (int waiting : Sentences.inLine(chip)) {
            long address = chip.core(waiting).requestAddress();
            if (address >= 0 && address < design.sharedWords()) {
                touching.merge((int) address, "?" + waiting, String::concat);
            }
        }
        MemoryView view = new MemoryView(
                design.sharedWords(),
                chip::sharedWord,
                scene.sentences().places().sharedLabels(),
                addresses(Kind.SHARED_WRITE, -1),
                address -> touching.getOrDefault(address, ""),
                address -> code(design.sharedWords(), true, address, chip.sharedWord(address)));
        view.draw(area, top(sharedFocus(), design.sharedWords(), area.rows()), look.base());
    }

    /** The shared word that matters now: the chosen core's, or the one that it last had to do with. */
    private int sharedFocus() {
        if (core.state().isWaiting() || core.state().isAdmitted()) {
            long address = core.requestAddress();
            if (address >= 0 && address < design.sharedWords()) {
                return (int) address;
            }
        }
        Event last = moment.last(core.number(), Set.of(Kind.SHARED_READ, Kind.SHARED_WRITE));
        return last == null ? 0 : (int) last.a();
    }

    private void privately(Area area) {
        Set<Integer> read = addresses(Kind.PRIVATE_READ, core.number());
        Set<Integer> written = addresses(Kind.PRIVATE_WRITE, core.number());
        MemoryView view = new MemoryView(
                design.privateWords(),
                core::privateWord,
                scene.sentences().places().privateLabels(core.number()),
                written,
                address -> written.contains(address)
                        ? "stored"
                        : read.contains(address) ? "loaded" : isPc(address) ? glyphs.sign("\u25c2", "<") + "pc" : "",
                address -> code(design.privateWords(), false, address, core.privateWord(address)));
        Event last = moment.last(core.number(), Set.of(Kind.PRIVATE_READ, Kind.PRIVATE_WRITE));
        int focus = last == null ? (core.pcInShared() ? 0 : Math.max(0, core.pc())) : (int) last.a();
        view.draw(area, top(focus, design.privateWords(), area.rows()), look.base());
    }

    /** The instruction at an address that the core has done something with, or that the program wrote as one. */
    private String code(int words, boolean inShared, int address, int word) {
        boolean isCode = address < words
                && Word.isInstruction(word)
                && (scene.sentences().places().isCode(core, inShared, address)
                        || moment.placeCycles().cycles(core.number(), inShared, address) > 0);
        return isCode ? scene.sentences().places().instruction(core, inShared, address, word) : "";
    }

    private boolean isPc(int address) {
        return !core.pcInShared() && core.pc() == address;
    }

    /** Addresses of a kind of event at the beginning of the present cycle; of all cores if -1 is given. */
    private Set<Integer> addresses(Kind kind, int number) {
        Set<Integer> addresses = new HashSet<>();
        List<Event> past = moment.past();
        for (int i = past.size() - 1; i >= 0 && past.get(i).cycle() == moment.cycle(); i--) {
            Event event = past.get(i);
            if (event.kind() == kind && (number < 0 || event.core() == number)) {
                addresses.add((int) event.a());
            }
        }
        return addresses;
    }

    /** The first address in sight: it moves by whole pages, so that the words stand still for a while. */
    private int top(int focus, int words, int rows) {
        int top = look.address() != Look.FOLLOW ? look.address() : focus / Math.max(1, rows) * rows;
        return Math.max(0, Math.min(top, words - rows));
    }

    // ---- pins and tallies of the chosen core ----

    private void tallies(Area area) {
        List<String> lines = new ArrayList<>();
        lines.add("out   " + bits(core.out()));
        lines.add("drive " + bits(core.drive()));
        for (int tally = 0; tally < 2; tally++) {
            int mode = core.tallyMode(tally);
            String name = TALLY_MODES.get(mode & 0xFF);
            String pin = (mode & 0xFF) > 1 ? " pin " + (mode >>> 8) : "";
            lines.add("tally%d %s  %s%s".formatted(tally, number(chip.tally(core.number(), tally)), name, pin));
            lines.add("  span%d %s  level%d %s"
                    .formatted(tally, number(core.tallySpan(tally)), tally, number(core.tallyLevel(tally))));
        }
        int top = scroll(lines.size(), area.rows());
        for (int row = 0; row < area.rows() && top + row < lines.size(); row++) {
            area.putCut(row, 0, lines.get(top + row), Ink.PLAIN, area.columns());
        }
    }

    private String bits(int word) {
        int pins = design.pins();
        if (pins == 0) {
            return "(no pins)";
        }
        String all = NumberBase.BINARY.write(word);
        return all.substring(all.length() - pins) + (pins <= 16 ? "  pins %d..0".formatted(pins - 1) : "");
    }

    private String number(int word) {
        return look.base() == NumberBase.HEXADECIMAL ? NumberBase.HEXADECIMAL.write(word) : Integer.toString(word);
    }

    // ---- turns ----

    private void turns(Area area) {
        List<String> lines = new ArrayList<>();
        lines.add(ownTurn());
        List<Event> past = moment.past();
        for (int i = past.size() - 1; i >= 0; i--) {
            Event event = past.get(i);
            if (event.kind() == Kind.ADMIT) {
                lines.add(
                        "%s core %2d, waited %s%s".formatted(event.cycle(), event.core(), event.a(), name(event.b())));
            }
        }
        int top = scroll(lines.size(), area.rows());
        for (int row = 0; row < area.rows() && top + row < lines.size(); row++) {
            area.putCut(row, 0, lines.get(top + row), top + row == 0 ? Ink.STRONG : Ink.PLAIN, area.columns());
        }
    }

    private String name(long address) {
        String name = scene.sentences().places().sharedName(address);
        return address < 0 ? "" : name.isEmpty() ? ", word " + address : ", " + name;
    }

    /** When the chosen core's next slot opens, or who is in line. */
    private String ownTurn() {
        @Nullable Rotation rotation = scene.sentences().rotation();
        if (rotation != null) {
            long slot = rotation.nextSlot(core.number(), moment.cycle());
            return slot == Rotation.NEVER
                    ? "core %d has no slot in the order".formatted(core.number())
                    : String.format(
                            Locale.ROOT,
                            "next slot of core %d: %d (in %d)",
                            core.number(),
                            slot,
                            slot - moment.cycle());
        }
        List<Integer> line = Sentences.inLine(chip);
        return line.isEmpty()
                ? "nobody is in line"
                : "in line: "
                        + String.join(" ", line.stream().map(String::valueOf).toList());
    }
}
