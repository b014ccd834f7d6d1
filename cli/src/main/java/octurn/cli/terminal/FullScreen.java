package octurn.cli.terminal;

import java.io.IOException;
import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.LongSupplier;
import octurn.cli.stepper.Show;
import octurn.cli.stepper.Show.Next;
import octurn.cli.view.Frame;
import octurn.cli.view.Frame.Zone;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Line;
import octurn.run.Progress;
import org.jline.keymap.BindingReader;
import org.jline.keymap.KeyMap;
import org.jline.terminal.Attributes;
import org.jline.terminal.MouseEvent;
import org.jline.terminal.Size;
import org.jline.terminal.Terminal;
import org.jline.terminal.Terminal.MouseTracking;
import org.jline.terminal.Terminal.Signal;
import org.jline.terminal.TerminalBuilder;
import org.jline.utils.AttributedString;
import org.jline.utils.ClosedException;
import org.jline.utils.Display;
import org.jline.utils.InfoCmp;
import org.jline.utils.InfoCmp.Capability;
import org.jline.utils.NonBlockingReader;
import org.jspecify.annotations.Nullable;

/**
 * A show on a terminal's full screen, from the first frame to the last key.
 *
 * <p>One thread does all: it draws, waits for a key, a signal or the next moment of playing, and does what that says.
 * Signals only leave a note for it. Whatever happens, {@link #close} gives the terminal back as it was found.
 */
public final class FullScreen implements AutoCloseable {

    /** How often to look for notes of signals while no key comes. */
    private static final long LOOK_MILLIS = 50;

    /** Playing shows so many frames a second at most. */
    private static final int FRAMES = 20;

    private static final long PROGRESS_NANOS = TimeUnit.MILLISECONDS.toNanos(100);

    private final Terminal terminal;
    private final Show show;
    private final Glyphs glyphs;
    private final boolean colour;
    private final LongSupplier nanoTime;
    private final Suspension suspension;

    private final Display display;
    private final BindingReader keys;
    private final KeyMap<String> keyMap;
    private final AtomicBoolean resized = new AtomicBoolean(true);
    private final AtomicBoolean interrupted = new AtomicBoolean();
    private final AtomicBoolean suspended = new AtomicBoolean();

    private @Nullable Attributes attributes;
    private boolean entered;
    private int rows;
    private int columns;
    private Frame frame = new Frame(0, List.of(), -1, -1, List.of());
    private List<AttributedString> shown = List.of();
    private long playedUntil;

    /** Stops the whole process until it is told to go on. */
    @FunctionalInterface
    public interface Suspension {
        /** Returns when the process goes on; false if it could not be stopped. */
        boolean stop();
    }

    /**
     * A show on the process's own terminal, or null if that has no cursor that can be moved about.
     *
     * @param type of the terminal, by its name in {@code TERM}; null if it has none
     * @param charset of the terminal
     * @param colour whether colours may be used
     * @param nanoTime a clock that only moves on
     * @param suspension what Ctrl-Z does
     */
    public static @Nullable FullScreen open(
            Show show,
            @Nullable String type,
            Charset charset,
            boolean colour,
            LongSupplier nanoTime,
            Suspension suspension)
            throws IOException {
        if (type != null) {
            describe(type);
        }
        // Where JLine has a native library for this machine, there is no need to look for other ways, one of which
        // starts a process before it is known whether it is wanted.
        Terminal terminal = openSystem(charset, "jni");
        if (isDumb(terminal)) {
            terminal.close();
            terminal = openSystem(charset, null);
        }
        if (isDumb(terminal)) {
            terminal.close();
            return null;
        }
        return new FullScreen(terminal, show, new Glyphs(charset), colour, nanoTime, suspension);
    }

    /** Has JLine use its own description of a well-known terminal; it would start a process for another one. */
    private static void describe(String type) {
        String description = InfoCmp.getDefaultInfoCmp(type);
        if (description != null) {
            InfoCmp.setLoadedInfoCmp(type, description);
        }
    }

    private static Terminal openSystem(Charset charset, @Nullable String provider) throws IOException {
        // Asking the terminal what it can do costs up to half a second where it does not answer.
        return TerminalBuilder.builder()
                .system(true)
                .provider(provider)
                .dumb(true)
                .encoding(charset)
                .graphemeCluster(false)
                .nativeSignals(true)
                .build();
    }

    private static boolean isDumb(Terminal terminal) {
        return terminal.getType().startsWith(Terminal.TYPE_DUMB);
    }

    /**
     * A show on this terminal, which will be closed with it.
     *
     * @param glyphs what the terminal can show
     * @param colour whether colours may be used
     * @param nanoTime a clock that only moves on
     * @param suspension what Ctrl-Z does
     */
    FullScreen(
            Terminal terminal, Show show, Glyphs glyphs, boolean colour, LongSupplier nanoTime, Suspension suspension) {
        this.terminal = terminal;
        this.show = show;
        this.glyphs = glyphs;
        this.colour = colour;
        this.nanoTime = nanoTime;
        this.suspension = suspension;
        this.display = new Display(terminal, true);
        this.keys = new BindingReader(terminal.reader());
        this.keyMap = Keys.of(terminal);
    }

    /** Runs until the user leaves. */
    public void run() throws IOException {
        terminal.handle(Signal.WINCH, signal -> resized.set(true));
        terminal.handle(Signal.INT, signal -> interrupted.set(true));
        terminal.handle(Signal.TSTP, signal -> suspended.set(true));
        terminal.handle(Signal.CONT, signal -> resized.set(true));
        enter();
        try {
            boolean goOn = true;
            while (goOn) {
                draw();
                String key = nextKey();
                goOn = key.isEmpty() || press(key);
            }
        } catch (ClosedException e) {
            // The terminal is gone: so is the user.
        } finally {
            leave();
        }
    }

    @Override
    public void close() throws IOException {
        leave();
        terminal.close();
    }

    // ---- the terminal's state ----

    private synchronized void enter() {
        if (!entered) {
            attributes = terminal.enterRawMode();
            terminal.puts(Capability.enter_ca_mode);
            terminal.puts(Capability.keypad_xmit);
            terminal.puts(Capability.cursor_invisible);
            terminal.trackMouse(MouseTracking.Normal);
            terminal.flush();
            entered = true;
            resized.set(true);
        }
    }

    /** Gives the terminal back as it was found; may be called at any time, and more than once. */
    public synchronized void leave() {
        if (entered) {
            entered = false;
            terminal.trackMouse(MouseTracking.Off);
            terminal.puts(Capability.cursor_normal);
            terminal.puts(Capability.keypad_local);
            terminal.puts(Capability.exit_ca_mode);
            terminal.flush();
            if (attributes != null) {
                terminal.setAttributes(attributes);
            }
        }
    }

    // ---- drawing ----

    private synchronized void draw() {
        if (!entered) {
            return;
        }
        if (resized.getAndSet(false)) {
            Size size = terminal.getSize();
            rows = Math.max(1, size.getRows());
            columns = Math.max(1, size.getColumns());
            display.resize(Size.of(columns, rows));
            display.clear();
        }
        frame = show.frame(rows, columns);
        List<AttributedString> lines = new ArrayList<>(rows);
        for (Line line : frame.lines()) {
            lines.add(AttributedString.fromAnsi(line.onScreen(colour)));
        }
        send(lines);
    }

    private void send(List<AttributedString> lines) {
        shown = lines;
        boolean cursor = frame.cursorRow() >= 0;
        terminal.puts(Capability.cursor_invisible);
        int place = cursor ? frame.cursorRow() * (columns + 1) + frame.cursorColumn() : (rows - 1) * (columns + 1);
        display.update(lines, place);
        if (cursor) {
            terminal.puts(Capability.cursor_normal);
        }
        terminal.flush();
    }

    // ---- waiting ----

    /** The next key; empty when it is time to draw again. */
    private String nextKey() throws IOException {
        int speed = show.playingSpeed();
        long wait = speed == 0 ? Long.MAX_VALUE : frameNanos(speed);
        long begin = nanoTime.getAsLong();
        if (speed > 0 && playedUntil == 0) {
            playedUntil = begin;
        }
        while (true) {
            if (interrupted.getAndSet(false)) {
                return "ctrl-c";
            }
            if (suspended.getAndSet(false)) {
                suspend();
                return "";
            }
            if (resized.get()) {
                return "";
            }
            long left = speed == 0 ? Long.MAX_VALUE : wait - (nanoTime.getAsLong() - begin);
            if (left <= 0) {
                play(speed);
                return "";
            }
            long millis = Math.max(1, Math.min(LOOK_MILLIS, TimeUnit.NANOSECONDS.toMillis(left)));
            int character = terminal.reader().peek(millis);
            if (character == NonBlockingReader.EOF) {
                throw new ClosedException();
            }
            if (character != NonBlockingReader.READ_EXPIRED) {
                return readKey();
            }
            if (show.idle(new Watching())) {
                return "";
            }
        }
    }

    private static long frameNanos(int speed) {
        return TimeUnit.SECONDS.toNanos(1) / Math.min(speed, FRAMES);
    }

    /** Goes on by as many cycles as the time since the last frame is worth. */
    private void play(int speed) {
        long now = nanoTime.getAsLong();
        long cycles = (now - playedUntil) / (TimeUnit.SECONDS.toNanos(1) / speed);
        // A machine that cannot keep up plays slower; it does not save up.
        long most = Math.max(1, speed / 4);
        if (cycles > 0) {
            playedUntil = cycles > most ? now : playedUntil + cycles * (TimeUnit.SECONDS.toNanos(1) / speed);
            show.playOn(Math.min(cycles, most));
        }
        if (show.playingSpeed() == 0) {
            playedUntil = 0;
        }
    }

    private String readKey() throws ClosedException {
        String name = keys.readBinding(keyMap);
        if (name == null) {
            throw new ClosedException();
        }
        return name.equals(Keys.CHARACTER) ? keys.getLastBinding() : name;
    }

    private void suspend() {
        leave();
        suspension.stop();
        // Meanwhile the terminal may have said the same again.
        suspended.set(false);
        enter();
    }

    // ---- doing ----

    /** Does what a key says; false to leave. */
    private boolean press(String key) {
        if (key.equals("ctrl-z")) {
            suspend();
            return true;
        }
        if (key.equals("ctrl-l")) {
            resized.set(true);
            return true;
        }
        Next next = key.equals(Keys.MOUSE) ? mouse() : show.press(key, new Watching());
        if (show.playingSpeed() > 0) {
            playedUntil = nanoTime.getAsLong();
        }
        if (next == Next.ERRAND) {
            leave();
            show.errand();
            enter();
        }
        return next != Next.LEAVE;
    }

    private Next mouse() {
        MouseEvent event = terminal.readMouseEvent(keys::readCharacter, keys.getLastBinding());
        int row = event.getY();
        int column = event.getX();
        String line = "";
        if (event.getType() == MouseEvent.Type.Wheel) {
            boolean up = event.getButton() == MouseEvent.Button.WheelUp;
            line = frame.command(row, column, up ? Zone::wheelUp : Zone::wheelDown);
        } else if (event.getType() == MouseEvent.Type.Pressed && event.getButton() == MouseEvent.Button.Button1) {
            line = frame.command(row, column, Zone::click);
        }
        return line.isEmpty() ? Next.GO_ON : show.command(line, new Watching());
    }

    /** Tells how far a long move has come, and lets a key or Ctrl-C end it. */
    private final class Watching implements Progress {
        private final long begin = nanoTime.getAsLong();
        private long told = begin;

        @Override
        public boolean goOn(long cycle, long target) {
            long now = nanoTime.getAsLong();
            if (interrupted.getAndSet(false)) {
                return false;
            }
            if (now - begin < show.patienceNanos() || now - told < PROGRESS_NANOS) {
                return true;
            }
            told = now;
            tell(cycle);
            return !keyWaits();
        }

        private void tell(long cycle) {
            if (rows < 1 || shown.size() < rows) {
                return;
            }
            String text = cycle == 0 ? " working .. any key stops" : " cycle %,d .. any key stops".formatted(cycle);
            List<AttributedString> lines = new ArrayList<>(shown);
            lines.set(rows - 1, new AttributedString(glyphs.cut(text, columns)));
            List<AttributedString> before = shown;
            send(lines);
            shown = before;
        }

        private boolean keyWaits() {
            try {
                if (terminal.reader().peek(1) == NonBlockingReader.READ_EXPIRED) {
                    return false;
                }
                keys.readBinding(keyMap);
                return true;
            } catch (IOException e) {
                return true;
            }
        }
    }
}
