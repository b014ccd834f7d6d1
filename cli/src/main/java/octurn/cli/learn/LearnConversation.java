package octurn.cli.learn;

import java.io.BufferedReader;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import octurn.cli.stepper.Conversation;
import octurn.cli.view.ProseView;
import octurn.cli.view.Section;
import octurn.run.Progress;

/** A course as lines of words: one command or answer a line comes in, what it comes to goes out. */
public final class LearnConversation {

    private final Learner learner;
    private boolean refused;

    /** A conversation with this learner. */
    public LearnConversation(Learner learner) {
        this.learner = learner;
    }

    /**
     * Talks until there are no more lines, or one says to leave.
     *
     * @return whether every command was understood and possible; a wrong answer is no mistake
     */
    public boolean run(BufferedReader in, Conversation.Output out) throws IOException {
        List<String> begin = new ArrayList<>();
        trouble(begin);
        place(begin);
        out.say(begin);
        String line = in.readLine();
        while (line != null) {
            List<String> said = new ArrayList<>();
            boolean goOn = line(line, said);
            trouble(said);
            if (!said.isEmpty()) {
                out.say(said);
            }
            line = goOn ? in.readLine() : null;
        }
        return !refused;
    }

    private void trouble(List<String> said) {
        String trouble = learner.takeTrouble();
        if (!trouble.isEmpty()) {
            said.add("Note: " + trouble + ".");
        }
    }

    /** Where the student is: the page, or the moment of a walk, and how to go on. */
    private void place(List<String> said) {
        Walk walk = learner.walk();
        if (walk != null) {
            said.addAll(walk.conversation().present());
            said.addAll(walk.saying());
        } else {
            sections(learner.told(), said);
        }
        said.add(learner.prompt());
    }

    private static void sections(List<Section> sections, List<String> said) {
        for (Section section : sections) {
            List<String> text = ProseView.paragraphs(section.text());
            if (section.label().isEmpty()) {
                said.addAll(text);
            } else if (text.size() == 1) {
                said.add("%s%s %s"
                        .formatted(section.label(), section.label().matches(".*[.:?!]") ? "" : ":", text.get(0)));
            } else {
                said.add(section.label());
                said.addAll(text);
            }
        }
    }

    /** Does what a line says; false to leave. */
    private boolean line(String line, List<String> said) {
        // Whoever types a line has saved before: what is seen now will not change by itself.
        Reply saved = learner.checkIfSaved(Progress.NONE);
        saved = saved != null ? saved : learner.checkIfSaved(Progress.NONE);
        if (saved != null) {
            reply(saved, said);
        }
        String text = line.strip();
        if (text.startsWith("#")) {
            return true;
        }
        Walk walk = learner.walk();
        if (walk != null && !text.isEmpty()) {
            return inWalk(walk, text, said);
        }
        String command = text.isEmpty() ? "next" : text;
        boolean isAnswer = learner.isAsking() && !learner.isCommand(command);
        return reply(learner.run(isAnswer ? "answer " + command : command, Progress.NONE), said);
    }

    private boolean inWalk(Walk walk, String text, List<String> said) {
        // All else is the stepper's, which has another back, and a next that never stands alone.
        if (walk.isLed() && (text.equals("next") || text.equals("previous"))) {
            return reply(learner.run(text.equals("next") ? "next" : "back", Progress.NONE), said);
        }
        Conversation conversation = walk.conversation();
        boolean before = conversation.hasRefused();
        said.addAll(conversation.reply(text));
        refused |= conversation.hasRefused() && !before;
        if (conversation.hasLeft()) {
            reply(learner.leaveWalk(false), said);
        }
        return true;
    }

    private boolean reply(Reply reply, List<String> said) {
        if (!reply.line().isEmpty()) {
            String line =
                    Character.toUpperCase(reply.line().charAt(0)) + reply.line().substring(1);
            said.add((reply.kind() == Reply.Kind.REFUSED ? "Not done: " + reply.line() : line)
                    + (line.matches(".*[.!?]") ? "" : "."));
        }
        switch (reply.kind()) {
            case MOVED -> place(said);
            case DONE -> {
                if (learner.walk() != null) {
                    place(said);
                } else {
                    sections(reply.news(), said);
                    said.add(learner.prompt());
                }
            }
            case REFUSED -> refused = true;
            case EDIT -> reply(learner.editNow(Progress.NONE), said);
            case QUIT -> {
                return false;
            }
        }
        return true;
    }
}
