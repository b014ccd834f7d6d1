package octurn.cli.stepper;

import java.math.BigDecimal;
import java.math.RoundingMode;
import octurn.run.Watch;
import octurn.trace.Kind;

/** Moving in time. */
final class Moves {

    private static final int FASTEST = 1_000_000;

    private Moves() {}

    static Answer step(Stepper stepper, Words words) {
        long count = words.count();
        words.end();
        return stepper.moveTo(plus(stepper.cycle(), count));
    }

    static Answer back(Stepper stepper, Words words) {
        long count = words.count();
        words.end();
        return stepper.moveTo(stepper.cycle() - count);
    }

    private static long plus(long cycle, long count) {
        return Math.min(Numerals.MOST, cycle + count);
    }

    static Answer instruction(Stepper stepper, Words words) {
        boolean back = words.take("back");
        long count = words.count();
        words.end();
        int core = stepper.core();
        Answer answer = Answer.moved();
        for (long i = 0; i < count; i++) {
            answer = stepper.seek(Watches.instruction(core), !back, "further instruction of core " + core);
        }
        return answer;
    }

    static Answer slot(Stepper stepper, Words words) {
        boolean back = words.take("back");
        long count = words.count();
        words.end();
        if (stepper.sentences().rotation() == null) {
            Answer answer = Answer.moved();
            for (long i = 0; i < count; i++) {
                answer = stepper.seek(Watches.event(Kind.ADMIT, Watches.ANY), !back, "admission");
            }
            return answer;
        }
        int slot = stepper.design().slotCycles();
        long cycle = stepper.cycle();
        long slots = back ? (cycle + slot - 1) / slot - count : cycle / slot + count;
        return stepper.moveTo(slots > Numerals.MOST / slot ? Numerals.MOST : slots * slot);
    }

    static Answer rotation(Stepper stepper, Words words) {
        boolean back = words.take("back");
        long count = words.count();
        words.end();
        long cycles = Math.min(Numerals.MOST / 2, count) * stepper.design().rotationCycles();
        return stepper.moveTo(back ? stepper.cycle() - cycles : plus(stepper.cycle(), cycles));
    }

    static Answer next(Stepper stepper, Words words) {
        return seek(stepper, words, true);
    }

    static Answer previous(Stepper stepper, Words words) {
        return seek(stepper, words, false);
    }

    private static Answer seek(Stepper stepper, Words words, boolean forward) {
        String what = words.oneOf("what to look for", Offer.EVENTS);
        String name = what;
        Watch watch;
        switch (what) {
            case "pin" -> {
                boolean all = words.isEnd() || words.take("any");
                int pin = all ? -1 : pin(stepper, words);
                name = all ? "pin change" : "change of pin " + pin;
                watch = Watches.pins(all ? -1 : 1 << pin, Watches.Edge.CHANGES);
            }
            case "clash" -> watch = Watches.clash();
            case "fault" -> watch = Watches.event(Kind.FAULT, words.isEnd() ? Watches.ANY : who(stepper, words));
            default -> {
                int core = who(stepper, words);
                Kind kind = what.equals("request") ? Kind.REQUEST : what.equals("idle") ? Kind.IDLE : Kind.ADMIT;
                name = what.equals("idle") ? "core that becomes idle" : what;
                name = core == Watches.ANY ? name : "%s of core %d".formatted(what, core);
                watch = Watches.event(kind, core);
            }
        }
        words.end();
        return stepper.seek(watch, forward, name);
    }

    /** {@code any}, {@code core N}, or the chosen core. */
    private static int who(Stepper stepper, Words words) {
        if (words.isEnd()) {
            return stepper.core();
        }
        if (words.take("any")) {
            return Watches.ANY;
        }
        words.take("core");
        return (int) words.number("core", 0, stepper.design().cores() - 1L);
    }

    static int pin(Stepper stepper, Words words) {
        if (stepper.design().pins() == 0) {
            throw new Mistake("this chip has no pins");
        }
        return (int) words.number("pin", 0, stepper.design().pins() - 1L);
    }

    static Answer line(Stepper stepper, Words words) {
        boolean back = words.take("back");
        int line = line(stepper, words, "line");
        words.end();
        int core = stepper.core();
        return stepper.seek(
                Watches.line(line, core, stepper.sentences().places()),
                !back,
                "cycle in which core %d begins line %d".formatted(core, line));
    }

    /** A line of the program: the one named, the chosen one, or the chosen core's. */
    static int line(Stepper stepper, Words words, String what) {
        int lines = stepper.timeline().program().source().size();
        if (!words.isEnd()) {
            return (int) words.number(what, 1, lines);
        }
        if (stepper.look().line() > 0) {
            return stepper.look().line();
        }
        int here = stepper.sentences().places().line(stepper.timeline().chip().core(stepper.core()));
        if (here == 0) {
            throw new Mistake("which line? 1..%d".formatted(lines));
        }
        return here;
    }

    static Answer go(Stepper stepper, Words words) {
        String where = words.next("a cycle or a bookmark");
        words.end();
        Long mark = stepper.marks().get(where);
        if (mark != null) {
            return stepper.moveTo(mark);
        }
        if (where.matches("[0-9.]+us")) {
            return stepper.moveTo(cycleAt(stepper, where.substring(0, where.length() - 2)));
        }
        if (!Numerals.isNumber(where)) {
            throw new Mistake("\"%s\" is neither a cycle nor a bookmark".formatted(where));
        }
        long number = Numerals.parse(where, "cycle");
        boolean relative = where.startsWith("+") || where.startsWith("-");
        return stepper.moveTo(
                relative
                        ? Math.max(0, Math.min(Numerals.MOST, stepper.cycle() + number))
                        : Math.min(Numerals.MOST, number));
    }

    /** The cycle that a moment lies in. */
    private static long cycleAt(Stepper stepper, String micros) {
        try {
            BigDecimal cycles = new BigDecimal(micros)
                    .multiply(BigDecimal.valueOf(stepper.design().clock().chipHertz()))
                    .movePointLeft(6);
            return cycles.min(BigDecimal.valueOf(Numerals.MOST))
                    .setScale(0, RoundingMode.FLOOR)
                    .longValueExact();
        } catch (NumberFormatException e) {
            throw new Mistake("\"%s\" is no time".formatted(micros));
        }
    }

    static Answer begin(Stepper stepper, Words words) {
        words.end();
        return stepper.moveTo(0);
    }

    static Answer end(Stepper stepper, Words words) {
        words.end();
        return stepper.moveTo(Numerals.MOST);
    }

    static Answer run(Stepper stepper, Words words) {
        boolean back = words.take("back");
        words.end();
        if (stepper.state().stops().isEmpty()) {
            throw new Mistake("there are no stops; set one with o or stop, or go to the %s with %s"
                    .formatted(back ? "start" : "end", back ? "begin" : "end"));
        }
        return stepper.runToStop(!back);
    }

    static Answer play(Stepper stepper, Words words) {
        if (words.isEnd() && stepper.isPlaying()) {
            stepper.play(false);
            return Answer.done("paused");
        }
        int speed = words.isEnd() ? stepper.state().speed() : (int) words.number("cycles a second", 1, FASTEST);
        words.end();
        if (stepper.timeline().isOver()) {
            throw new Mistake("the run is at its end; begin goes back to its start");
        }
        stepper.set(stepper.state().withSpeed(speed));
        stepper.play(true);
        return Answer.done("");
    }

    static Answer faster(Stepper stepper, Words words) {
        words.end();
        return speed(stepper, Math.min(FASTEST, 2 * stepper.state().speed()));
    }

    static Answer slower(Stepper stepper, Words words) {
        words.end();
        return speed(stepper, Math.max(1, stepper.state().speed() / 2));
    }

    private static Answer speed(Stepper stepper, int speed) {
        stepper.set(stepper.state().withSpeed(speed));
        return Answer.done("%d cycle%s a second when playing".formatted(speed, speed == 1 ? "" : "s"));
    }
}
