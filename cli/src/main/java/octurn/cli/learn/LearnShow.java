package octurn.cli.learn;

import java.util.List;
import octurn.cli.stepper.Show;
import octurn.cli.stepper.Typing;
import octurn.cli.view.Frame;
import octurn.cli.view.Glyphs;
import octurn.cli.view.LearnScene;
import octurn.cli.view.LearnScreen;
import octurn.cli.view.Scene.Prompt;
import octurn.cli.view.Section;
import octurn.run.Progress;
import org.jspecify.annotations.Nullable;

/** A course on a whole screen: pages that are turned, an answer that is typed, and the stepper where there is something to see. */
public final class LearnShow implements Show {

    private static final int WHEEL = 3;
    private static final long PATIENCE_NANOS = 3_000_000_000L;

    private final Learner learner;
    private final Glyphs glyphs;
    private final Typing typing = new Typing();

    private String message;
    private boolean isError;
    private int scroll;
    private boolean helping;

    /** The size of the screen when it was drawn last. */
    private int rows = 24;

    private int columns = 80;

    /** This learner, on a screen that can show these characters. */
    public LearnShow(Learner learner, Glyphs glyphs) {
        this.learner = learner;
        this.glyphs = glyphs;
        this.message = learner.takeTrouble();
        this.isError = !message.isEmpty();
    }

    @Override
    public Frame frame(int newRows, int newColumns) {
        rows = newRows;
        columns = newColumns;
        Walk walk = learner.walk();
        return walk != null ? walk.show().frame(rows, columns) : LearnScreen.render(scene(), rows, columns, glyphs);
    }

    private LearnScene scene() {
        if (helping) {
            List<Section> help = learner.help();
            return new LearnScene.Page(
                    "help", "", help, List.of(), scroll, "", null, "", false, "PgDn PgUp more  Esc goes back");
        }
        String text = typing.text();
        return learner.scene(message, isError, scroll, new Prompt(text, typing.cursor(), text.length(), ""));
    }

    // ---- keys ----

    @Override
    public Next press(String key, Progress progress) {
        Walk walk = learner.walk();
        if (walk != null) {
            return inWalk(walk, key, progress);
        }
        if (key.equals("pageup") || key.equals("pagedown")) {
            turn(key.equals("pagedown") ? page() : -page());
            return Next.GO_ON;
        }
        if (helping) {
            return inHelp(key);
        }
        if (learner.isAsking()
                && (isForTyping(key) || (key.equals("enter") && !typing.text().isBlank()))) {
            return type(key, progress);
        }
        boolean forward = key.equals("enter") || key.equals("space");
        if (forward && more() > 0) {
            turn(page());
            return Next.GO_ON;
        }
        if (learner.isInLesson() && (key.equals("up") || key.equals("down"))) {
            turn(key.equals("down") ? 1 : -1);
            return Next.GO_ON;
        }
        String line = learner.table().line(key);
        if (line.isEmpty()) {
            if (!key.equals("unknown")) {
                say("the key %s means nothing here; ? lists those that do".formatted(key), true);
            }
            return Next.GO_ON;
        }
        return run(line, progress);
    }

    /** Keys that belong to the answer; while there is none, those that move about do so. */
    private boolean isForTyping(String key) {
        boolean character = key.codePointCount(0, key.length()) == 1;
        if (typing.text().isEmpty()) {
            return character && !key.equals("?");
        }
        return character
                || List.of("space", "left", "right", "home", "end", "backspace", "delete")
                        .contains(key)
                || List.of("ctrl-a", "ctrl-e", "ctrl-u", "ctrl-k", "ctrl-w").contains(key);
    }

    private Next type(String key, Progress progress) {
        if (!key.equals("enter")) {
            typing.press(key);
            say("", false);
            return Next.GO_ON;
        }
        String answer = typing.text().strip();
        return run("answer " + answer, progress);
    }

    private Next inHelp(String key) {
        switch (key) {
            case "up" -> turn(-1);
            case "down" -> turn(1);
            case "esc", "q", "?", "enter", "ctrl-c", "ctrl-d" -> {
                helping = false;
                scroll = 0;
            }
            case "space" -> turn(page());
            default -> {
                // Help is only read.
            }
        }
        return Next.GO_ON;
    }

    private Next inWalk(Walk walk, String key, Progress progress) {
        boolean typed = walk.show().isTyping();
        if (!typed && walk.isLed() && key.equals("enter")) {
            return run("next", progress);
        }
        if (!typed && walk.isLed() && key.equals("backspace")) {
            return run("back", progress);
        }
        return afterStepper(walk.show().press(key, progress));
    }

    private Next afterStepper(Next next) {
        if (next == Next.LEAVE) {
            show(learner.leaveWalk(false));
        }
        return Next.GO_ON;
    }

    @Override
    public Next command(String line, Progress progress) {
        Walk walk = learner.walk();
        if (walk != null) {
            return afterStepper(walk.show().command(line, progress));
        }
        if (line.startsWith("scroll")) {
            turn(line.endsWith("up") ? -WHEEL : WHEEL);
            return Next.GO_ON;
        }
        return helping ? Next.GO_ON : run(line, progress);
    }

    private Next run(String line, Progress progress) {
        if (line.equals("help")) {
            helping = true;
            scroll = 0;
            return Next.GO_ON;
        }
        return show(learner.run(line, progress));
    }

    private Next show(Reply reply) {
        switch (reply.kind()) {
            case MOVED -> {
                scroll = 0;
                typing.set("");
                say(reply.line(), false);
            }
            case DONE -> {
                say(reply.line(), false);
                if (!reply.news().isEmpty()) {
                    typing.set("");
                    toResults();
                }
            }
            case REFUSED -> say(reply.line(), true);
            case EDIT -> {
                return Next.ERRAND;
            }
            case QUIT -> {
                return Next.LEAVE;
            }
        }
        String trouble = learner.takeTrouble();
        if (!trouble.isEmpty()) {
            say(trouble, true);
        }
        return Next.GO_ON;
    }

    private void say(String line, boolean error) {
        message = line;
        isError = error;
    }

    // ---- pages ----

    private int page() {
        return Math.max(1, LearnScreen.room(rows) - 1);
    }

    private LearnScene.@Nullable Page lines() {
        return scene() instanceof LearnScene.Page page ? page : null;
    }

    /** Lines below those in sight. */
    private int more() {
        LearnScene.Page page = lines();
        return page == null ? 0 : LearnScreen.below(page, rows, columns, glyphs);
    }

    private void turn(int by) {
        LearnScene.Page page = lines();
        int most = page == null ? 0 : LearnScreen.length(page, columns, glyphs) - LearnScreen.room(rows);
        scroll = Math.max(0, Math.min(Math.max(0, most), scroll + by));
    }

    /** Brings the beginning of the results in sight, if they are not all there already. */
    private void toResults() {
        LearnScene.Page page = lines();
        if (page != null && more() > 0) {
            int most = LearnScreen.length(page, columns, glyphs) - LearnScreen.room(rows);
            scroll = Math.max(0, Math.min(most, LearnScreen.resultsStart(page, columns, glyphs)));
        }
    }

    // ---- time and files ----

    /** Keys typed ahead must not end what a lesson needs for its next page. */
    @Override
    public long patienceNanos() {
        return learner.walk() != null ? Show.super.patienceNanos() : PATIENCE_NANOS;
    }

    @Override
    public int playingSpeed() {
        Walk walk = learner.walk();
        return walk == null ? 0 : walk.show().playingSpeed();
    }

    @Override
    public void playOn(long cycles) {
        Walk walk = learner.walk();
        if (walk != null) {
            walk.show().playOn(cycles);
        }
    }

    @Override
    public boolean idle(Progress progress) {
        Reply reply = learner.checkIfSaved(progress);
        if (reply == null) {
            return false;
        }
        show(reply);
        return true;
    }

    @Override
    public void errand() {
        // Whatever the terminal shows meanwhile is the editor's.
        show(learner.editNow(Progress.NONE));
    }
}
