package octurn.lessons;

import java.util.List;
import octurn.json.Passage;
import octurn.lessons.text.Template;
import octurn.lessons.value.Expression;
import org.jspecify.annotations.Nullable;

/** One thing to do in a lesson. */
public sealed interface Step {

    /** As lessons write it: tell, watch, predict, do. */
    String kind();

    /** Something to read. */
    record Tell(Template text) implements Step {
        @Override
        public String kind() {
            return "tell";
        }
    }

    /**
     * A moment to look at in the stepper.
     *
     * @param run the name of the run
     * @param script what to do there, in order; the first leads to the place
     */
    record Watch(Template text, String run, List<Cue> script) implements Step {
        public Watch {
            script = List.copyOf(script);
        }

        @Override
        public String kind() {
            return "watch";
        }
    }

    /**
     * One line of a script.
     *
     * @param command a command of the stepper's command line
     * @param say what there is to see then, if anything
     */
    record Cue(Template command, @Nullable Template say) {}

    /** A question whose answer comes from a run. */
    record Predict(Template ask, Answer answer, Template explain) implements Step {
        @Override
        public String kind() {
            return "predict";
        }
    }

    /** What is right. */
    sealed interface Answer {}

    /**
     * A number.
     *
     * @param unit what is counted, as in {@code cycles}; may be empty
     * @param tolerance how far an answer may be off and still be right, or null for not at all
     * @param wrong what the author knows to be answered wrongly
     * @param known what is answered wrongly everywhere
     */
    record NumberAnswer(
            Expression number, String unit, @Nullable Expression tolerance, List<WrongNumber> wrong, List<Known> known)
            implements Answer {
        public NumberAnswer {
            wrong = List.copyOf(wrong);
            known = List.copyOf(known);
        }
    }

    /** The number of a core. */
    record CoreAnswer(Expression core, List<WrongNumber> wrong) implements Answer {
        public CoreAnswer {
            wrong = List.copyOf(wrong);
        }
    }

    /**
     * One of several things.
     *
     * @param options at least two
     * @param greatest whether the one with the greatest value is right; else the one with the least
     */
    record ChoiceAnswer(List<Option> options, boolean greatest, List<WrongChoice> wrong) implements Answer {
        public ChoiceAnswer {
            options = List.copyOf(options);
            wrong = List.copyOf(wrong);
        }
    }

    /** One thing to choose. */
    record Option(Template text, Expression value) {}

    /** A wrong number, and what is said to whoever gives it. */
    record WrongNumber(Expression gives, Template say) {}

    /**
     * A wrong choice, and what is said to whoever makes it.
     *
     * @param choice which, from 1
     */
    record WrongChoice(int choice, Template say) {}

    /**
     * A program, or a design, to be changed until its checks pass.
     *
     * @param start the file that a student begins with
     * @param model the author's own answer
     * @param load the program that runs on a student's design; null where a program is to be changed
     * @param on what it is to run on; for a design that is changed, the designs in it do not count
     * @param checks at least one
     * @param hints one at a time, in order
     */
    record Task(
            Template text,
            Passage start,
            Passage model,
            @Nullable Passage load,
            List<RunSetup> on,
            List<Check> checks,
            List<Template> hints)
            implements Step {
        public Task {
            on = List.copyOf(on);
            checks = List.copyOf(checks);
            hints = List.copyOf(hints);
        }

        @Override
        public String kind() {
            return "do";
        }

        /** Whether a design is to be changed, not a program. */
        public boolean isDesign() {
            return load != null;
        }
    }
}
