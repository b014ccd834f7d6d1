package octurn.cli.terminal;

import static octurn.cli.stepper.Steppers.UNICODE;
import static octurn.cli.stepper.Steppers.lesson;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Predicate;
import octurn.cli.stepper.Stepper;
import octurn.cli.stepper.StepperShow;
import octurn.cli.stepper.Steppers;
import org.jline.terminal.Attributes;
import org.jline.terminal.Attributes.LocalFlag;
import org.jline.terminal.Size;
import org.jline.terminal.Terminal.Signal;
import org.jline.utils.ScreenTerminal;
import org.jline.utils.ScreenTerminal.VirtualTerminal;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** The stepper on a terminal made of nothing but memory. */
class FullScreenTest {

    private static final long PATIENCE = TimeUnit.SECONDS.toNanos(30);

    private final ExecutorService threads = Executors.newSingleThreadExecutor();
    private final AtomicInteger suspensions = new AtomicInteger();

    private VirtualTerminal virtual;
    private FullScreen screen;
    private Future<?> run;
    private Attributes before;

    private void start(Stepper stepper) throws IOException {
        virtual = ScreenTerminal.withTerminal("test", "xterm-256color", 80, 24);
        before = new Attributes(virtual.terminal().getAttributes());
        screen = new FullScreen(
                virtual.terminal(),
                new StepperShow(stepper, UNICODE),
                UNICODE,
                true,
                System::nanoTime,
                () -> suspensions.incrementAndGet() > 0);
        run = threads.submit(() -> {
            screen.run();
            return null;
        });
        await(text -> text.contains("now"));
    }

    @AfterEach
    void stop() throws Exception {
        if (run != null) {
            type("\u0003");
            run.get(30, TimeUnit.SECONDS);
            screen.close();
        }
        threads.shutdownNow();
    }

    private void type(String keys) throws IOException {
        virtual.terminal().processInputBytes(keys.getBytes(StandardCharsets.UTF_8));
    }

    private String text() {
        return virtual.screen().toString();
    }

    private void await(Predicate<String> condition) {
        long end = System.nanoTime() + PATIENCE;
        while (!condition.test(text())) {
            assertThat(System.nanoTime() < end).as(text()).isTrue();
            try {
                TimeUnit.MILLISECONDS.sleep(5);
            } catch (InterruptedException e) {
                throw new AssertionError(e);
            }
        }
    }

    private void typeAndAwait(String keys, String shown) throws IOException {
        type(keys);
        await(text -> text.contains(shown));
    }

    @Test
    void run_arrowKeysInBothForms_step() throws IOException {
        start(lesson("eight-cores.turn"));

        typeAndAwait("\u001b[C", "cycle 1 ");
        typeAndAwait("\u001bOC", "cycle 2 ");
        typeAndAwait("\u001b[D", "cycle 1 ");
        typeAndAwait("\u001b[F", "cycle 488 ");
        typeAndAwait("\u001b[1~", "cycle 0 ");
        typeAndAwait("5w", "Core 5 asked");
        typeAndAwait("\t", " shared memory ");
        typeAndAwait("\u001b[Z", " registers of core 5");
        typeAndAwait("\u001b[B", "registers of core 6");
    }

    @Test
    void run_commandLine_takesTextAndGivesIt() throws IOException {
        start(lesson("eight-cores.turn"));

        typeAndAwait(":", "\n:");
        typeAndAwait("go 5", ":go 5");
        typeAndAwait("\u007f77\r", "cycle 77 ");
        typeAndAwait("gx\r", "is neither a cycle nor a bookmark");
        typeAndAwait(":fly", ":fly");
        type("\u001b");
        await(text -> !text.contains(":fly"));
        typeAndAwait("~", "the key ~ means nothing here");
    }

    @Test
    void run_whyAndEscape_comeAndGo() throws IOException {
        start(lesson("eight-cores.turn"));

        typeAndAwait("5wy", "why core 5 waits");
        type("\u001b");
        await(text -> !text.contains("why core 5 waits"));
        typeAndAwait("?", "Moving in time");
        typeAndAwait("\u001b[6~\u001b[6~", "rotation [back]");
    }

    @Test
    void run_resize_drawsAnew() throws IOException {
        start(lesson("eight-cores.turn"));

        resize(120, 40);
        await(text -> text.contains("works  w waits"));
        resize(60, 20);
        await(text -> text.contains("This window has 60 columns and 20 rows"));
        resize(80, 24);
        await(text -> text.contains("registers of core 0") && !text.contains("This window"));
    }

    @SuppressWarnings("deprecation") // the one way to resize a virtual screen
    private void resize(int columns, int rows) {
        virtual.screen().setSize(columns, rows);
        virtual.terminal().setSize(Size.of(columns, rows));
        virtual.terminal().raise(Signal.WINCH);
    }

    @Test
    void run_mouse_choosesCoreLineAndCycle() throws IOException {
        start(lesson("eight-cores.turn"));

        // SGR form: button, column and row from 1; M pressed. Row 8 is the lane of core 3.
        typeAndAwait("\u001b[<0;50;8M\u001b[<0;50;8m", "registers of core 3");
        typeAndAwait("\u001b[<0;30;3M\u001b[<0;30;3m", "cycle 2 ");
        typeAndAwait("\u001b[<0;20;17M\u001b[<0;20;17m", "is chosen");
        typeAndAwait("\u001b[<64;50;8M", "registers of core 2");
    }

    @Test
    void run_play_goesOnByItselfUntilPaused() throws IOException {
        start(lesson("eight-cores.turn"));

        typeAndAwait(":play 2000\r", "cycle 488 ");
        typeAndAwait("\u001b[1~", "cycle 0 ");
        typeAndAwait("-----------", "1 cycle a second");
        typeAndAwait(" ", "playing, 1 a second");
        typeAndAwait(" ", "paused");
    }

    @Test
    void run_longMove_canBeEndedByAKey() throws IOException {
        start(Steppers.text("core all\nmore: add r1, r1, 1\n jump more\n"));

        typeAndAwait("\u001b[F", "any key stops");
        typeAndAwait("z", "interrupted at cycle");
    }

    @Test
    void run_suspend_givesTheTerminalBackAndTakesItAgain() throws IOException {
        start(lesson("eight-cores.turn"));

        virtual.terminal().raise(Signal.TSTP);
        await(text -> suspensions.get() == 1 && text.contains("now"));
        typeAndAwait("\u001b[C", "cycle 1 ");
    }

    @Test
    void run_quit_leavesTheTerminalAsItWas() throws Exception {
        start(lesson("eight-cores.turn"));
        assertThat(virtual.terminal().getAttributes().getLocalFlag(LocalFlag.ICANON))
                .isFalse();

        type("q");
        run.get(30, TimeUnit.SECONDS);

        assertThat(virtual.terminal().getAttributes().getLocalFlags()).isEqualTo(before.getLocalFlags());
        assertThat(virtual.terminal().getAttributes().getInputFlags()).isEqualTo(before.getInputFlags());
        run = null;
    }

    @Test
    void run_interrupt_leavesTheTerminalAsItWas() throws Exception {
        start(lesson("eight-cores.turn"));

        type("\u0003");
        run.get(30, TimeUnit.SECONDS);

        assertThat(virtual.terminal().getAttributes().getLocalFlags()).isEqualTo(before.getLocalFlags());
        run = null;
    }
}
