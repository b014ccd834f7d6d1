package octurn.lessons.check;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.asm.Block;
import octurn.isa.Instruction;
import octurn.lessons.Check;
import octurn.lessons.Sitting;
import octurn.lessons.text.Prose;
import octurn.lessons.text.Template;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Measured;
import octurn.lessons.value.Names;
import octurn.lessons.value.Numbers;
import octurn.lessons.value.Unresolved;
import octurn.machine.End;
import octurn.measure.Spread;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import org.jspecify.annotations.Nullable;

/** One run of a student's work, held against the checks of its task. */
final class CheckedRun {

    private final Sitting sitting;
    private final Measured run;
    private final String on;
    private final Names names;
    private final Culprits culprits;

    CheckedRun(Sitting sitting, Measured run, String on) {
        this.sitting = sitting;
        this.run = run;
        this.on = on;
        this.names = sitting.names(run);
        this.culprits = new Culprits(run);
    }

    /** What came of a check. */
    Outcome outcome(Check check) throws Unresolved {
        String what = new CheckWords(names).of(check);
        Fault fault;
        try {
            fault = fault(check);
        } catch (Unresolved e) {
            // In a student's program a label may be missing that the check asks for.
            fault = new Fault(sentence(e.diagnostics().get(0).message()), Culprit.NONE);
        }
        if (fault == null) {
            return new Outcome(check, what, on, true, "", 0, -1, Prose.EMPTY);
        }
        Template say = check.say();
        Prose said = say == null ? Prose.EMPTY : sitting.prose(say, run);
        Culprit culprit = fault.culprit();
        return new Outcome(check, what, on, false, fault.message(), culprit.line(), culprit.cycle(), said);
    }

    /** What is wrong, and where. */
    private record Fault(String message, Culprit culprit) {}

    /** The message of a place, if there is one to name, behind what is wrong. */
    private static Fault fault(String message, Culprit culprit) {
        return new Fault(culprit.words().isEmpty() ? message : message + " " + culprit.words(), culprit);
    }

    private static String sentence(String text) {
        return text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1) + ".";
    }

    private @Nullable Fault fault(Check check) throws Unresolved {
        if (check instanceof Check.MemoryWords words) {
            return memoryWords(words);
        } else if (check instanceof Check.Register register) {
            return register(register);
        } else if (check instanceof Check.Budget budget) {
            return budget(budget);
        } else if (check instanceof Check.Measure measure) {
            double value = measure.measure().value(names);
            String complaint = complaint(value, measure.bounds());
            return complaint == null ? null : new Fault("It is " + complaint, Culprit.NONE);
        } else if (check instanceof Check.Serial serial) {
            return serial(serial);
        } else if (check instanceof Check.Pulse pulse) {
            return pulse(pulse);
        } else if (check instanceof Check.Level level) {
            return level(level);
        } else if (check instanceof Check.Never never) {
            return never(never.mishap());
        } else if (check instanceof Check.Ends ends) {
            return ends(ends.how());
        } else {
            return uses((Check.Uses) check);
        }
    }

    // ---- memory and registers

    private int core(Expression core) throws Unresolved {
        return (int) core.whole(names, 0, run.design().cores() - 1L);
    }

    private int word(Expression expression) throws Unresolved {
        return (int) expression.whole(names, Integer.MIN_VALUE, 0xFFFF_FFFFL);
    }

    private @Nullable Fault memoryWords(Check.MemoryWords check) throws Unresolved {
        Expression coreExpression = check.core();
        int core = coreExpression == null ? -1 : core(coreExpression);
        int first = check.place().address(names, run, core);
        int size = core < 0 ? run.design().sharedWords() : run.design().privateWords();
        if (first + check.words().size() > size) {
            return new Fault(
                    "%d words from address %d on do not fit in memory."
                            .formatted(check.words().size(), first),
                    Culprit.NONE);
        }
        List<Culprits.Wanted> wrong = new ArrayList<>();
        for (int i = 0; i < check.words().size(); i++) {
            int wanted = word(check.words().get(i));
            int value = core < 0
                    ? run.chip().sharedWord(first + i)
                    : run.chip().core(core).privateWord(first + i);
            if (value != wanted) {
                wrong.add(new Culprits.Wanted(first + i, wanted));
            }
        }
        if (wrong.isEmpty()) {
            return null;
        }
        Culprits.Write write = culprits.wrongWrite(core, wrong);
        int address = write.wanted().address();
        int value = core < 0
                ? run.chip().sharedWord(address)
                : run.chip().core(core).privateWord(address);
        String message = "%s is %d at the end, not %d."
                .formatted(placeName(core, address), value, write.wanted().value());
        String others = wrong.size() == 1 ? "" : " %d words are wrong.".formatted(wrong.size());
        return fault(message + others, write.culprit());
    }

    private String placeName(int core, int address) {
        String name = core < 0
                ? run.places().sharedName(address)
                : run.places().privateLabels(core).getOrDefault(address, "");
        String where = core < 0 ? "shared word %d".formatted(address) : "private word %d".formatted(address);
        return name.isEmpty() ? sentence(where).replaceAll("\\.$", "") : name;
    }

    private @Nullable Fault register(Check.Register check) throws Unresolved {
        int core = core(check.core());
        int wanted = word(check.is());
        int value = run.chip().core(core).register(check.register());
        return value == wanted
                ? null
                : fault(
                        "r%d of core %d is %d at the end, not %d.".formatted(check.register(), core, value, wanted),
                        culprits.wrongRegister(core, check.register(), wanted));
    }

    // ---- how much

    /** What is wrong with a number, as in "18, more than 15 by 3."; null if it keeps its bounds. */
    private @Nullable String complaint(double value, Check.Bounds bounds) throws Unresolved {
        Expression least = bounds.least();
        Expression most = bounds.most();
        if (most != null && value > most.value(names)) {
            double bound = most.value(names);
            return "%s, %s more than %s.".formatted(shown(value), shown(value - bound), shown(bound));
        }
        if (least != null && value < least.value(names)) {
            double bound = least.value(names);
            return "%s, %s less than %s.".formatted(shown(value), shown(bound - value), shown(bound));
        }
        return null;
    }

    private static String shown(double number) {
        return Numbers.grouped(number, 3);
    }

    private @Nullable Fault budget(Check.Budget check) throws Unresolved {
        Expression coreExpression = check.core();
        Expression lineExpression = check.line();
        int core = coreExpression == null ? -1 : core(coreExpression);
        List<Integer> lines = lineExpression == null ? List.of() : lineExpression.lines(names, run, core);
        double value = value(check.amount(), core, lines);
        String complaint = complaint(value, check.bounds());
        if (complaint == null) {
            return null;
        }
        Expression most = check.bounds().most();
        boolean over = most != null && value > most.value(names);
        String message = (check.amount() == Check.Amount.CYCLES ? "The run takes cycles: " : "It is ") + complaint;
        if (check.amount() == Check.Amount.CYCLES && run.report().ended() == End.LIMIT) {
            message = "The run has no end: it was stopped after %s cycles.".formatted(shown(value));
        }
        return fault(
                message, over && most != null ? culprit(check.amount(), most.value(names), core, lines) : Culprit.NONE);
    }

    private Culprit culprit(Check.Amount amount, double most, int core, List<Integer> lines) {
        return switch (amount) {
            case CYCLES -> culprits.at((long) Math.ceil(most));
            case WAITS -> culprits.waitsOver(most, core, lines);
            case LONGEST_WAIT -> culprits.waitOver(most, core, lines);
            case INSTRUCTIONS, CODE_WORDS -> Culprit.NONE;
        };
    }

    private double value(Check.Amount amount, int core, List<Integer> lines) {
        RunReport report = run.report();
        return switch (amount) {
            case CYCLES -> report.cycles();
            case WAITS -> waits(core, lines).total();
            case LONGEST_WAIT -> waits(core, lines).max();
            case INSTRUCTIONS ->
                report.cores().stream()
                        .filter(one -> core < 0 || one.core() == core)
                        .mapToLong(CoreReport::instructions)
                        .sum();
            case CODE_WORDS -> codeWords(core);
        };
    }

    private Spread waits(int core, List<Integer> lines) {
        return run.report().hotSpots().stream()
                .filter(spot -> core < 0 || spot.core() == core)
                .filter(spot -> lines.isEmpty() || lines.contains(spot.line()))
                .map(spot -> new Spread(spot.count(), spot.total(), spot.min(), spot.max()))
                .reduce(Spread.NONE, Spread::and);
    }

    private long codeWords(int core) {
        long words = 0;
        for (Block block : run.program().blocks()) {
            if (core < 0 || block.cores().contains(core)) {
                for (boolean code : block.code()) {
                    words += code ? 1 : 0;
                }
            }
        }
        return words;
    }

    // ---- pins

    private @Nullable Fault noSuchPin(int pin) {
        return pin < run.design().pins() ? null : new Fault("The design has no pin %d.".formatted(pin), Culprit.NONE);
    }

    private @Nullable Fault serial(Check.Serial check) throws Unresolved {
        Fault noPin = noSuchPin(check.pin());
        if (noPin != null) {
            return noPin;
        }
        double cyclesPerBit = run.design().clock().chipHertz() / check.baud().value(names);
        if (!(cyclesPerBit >= 1) || Double.isInfinite(cyclesPerBit)) {
            return new Fault("The clock of this design is too slow for that rate.", Culprit.NONE);
        }
        PinWords.Flaw flaw = PinWords.serial(run.waveform(check.pin()), cyclesPerBit, check.text());
        return flaw == null ? null : fault(flaw.message(), culprits.driving(check.pin(), flaw.cycle()));
    }

    private @Nullable Fault pulse(Check.Pulse check) throws Unresolved {
        Fault noPin = noSuchPin(check.pin());
        if (noPin != null) {
            return noPin;
        }
        PinWords.Flaw flaw =
                PinWords.pulses(run.waveform(check.pin()).levels(), range(check.high()), range(check.period()));
        return flaw == null ? null : fault(flaw.message(), culprits.driving(check.pin(), flaw.cycle()));
    }

    private PinWords.@Nullable Range range(Check.@Nullable Bounds bounds) throws Unresolved {
        if (bounds == null) {
            return null;
        }
        Expression least = bounds.least();
        Expression most = bounds.most();
        return new PinWords.Range(
                least == null ? 0 : least.value(names), most == null ? Double.MAX_VALUE : most.value(names));
    }

    private @Nullable Fault level(Check.Level check) throws Unresolved {
        Fault noPin = noSuchPin(check.pin());
        if (noPin != null) {
            return noPin;
        }
        long at = check.at().whole(names, 0, 1L << 53);
        if (at >= run.report().cycles()) {
            return new Fault(
                    "The run is over in cycle %d.".formatted(run.report().cycles()), Culprit.NONE);
        }
        boolean high = run.waveform(check.pin()).at(at).high();
        return high == (check.is() == 1)
                ? null
                : fault(
                        "In cycle %d pin %d is %s.".formatted(at, check.pin(), high ? "high" : "low"),
                        culprits.driving(check.pin(), at));
    }

    // ---- what happens and what is used

    private @Nullable Fault never(Check.Mishap mishap) {
        return switch (mishap) {
            case FAULT -> inFault();
            case CLASH ->
                run.report().clashCycles() == 0
                        ? null
                        : fault(
                                "In %d cycles two fight for a pin."
                                        .formatted(run.report().clashCycles()),
                                culprits.firstClash());
            case STUCK -> run.report().ended() == End.STUCK ? stuck() : null;
        };
    }

    private @Nullable Fault inFault() {
        for (CoreReport core : run.report().cores()) {
            RunReport.FaultReport fault = core.fault();
            if (fault != null) {
                Culprit culprit = new Culprit(
                        fault.line(),
                        fault.cycle(),
                        "Core %d is in fault from cycle %d on%s: %s."
                                .formatted(core.core(), fault.cycle(), culprits.atLine(fault.line()), fault.message()));
                return new Fault(culprit.words(), culprit);
            }
        }
        return null;
    }

    private Fault stuck() {
        return fault(
                "The run is stuck in cycle %d: nothing can ever happen again."
                        .formatted(run.report().cycles()),
                culprits.at(run.report().cycles()));
    }

    private @Nullable Fault ends(End how) {
        End ended = run.report().ended();
        if (ended == how) {
            return null;
        }
        return switch (ended) {
            case ALL_IDLE ->
                new Fault(
                        "All cores are idle from cycle %d on."
                                .formatted(run.report().cycles()),
                        Culprit.NONE);
            case STUCK -> stuck();
            case LIMIT ->
                fault(
                        "The run has no end: it was stopped after %s cycles."
                                .formatted(Numbers.grouped(run.report().cycles())),
                        culprits.at(run.report().cycles()));
        };
    }

    private @Nullable Fault uses(Check.Uses check) {
        for (Block block : run.program().blocks()) {
            for (int i = 0; i < block.words().length; i++) {
                Instruction instruction = block.code()[i] ? Instruction.decode(block.words()[i]) : null;
                if (instruction != null
                        && check.mnemonics().contains(instruction.op().mnemonic())) {
                    return check.wanted() ? null : unwanted(instruction.op().mnemonic(), block.lines()[i]);
                }
            }
        }
        if (!check.wanted()) {
            return carriedOut(check.mnemonics());
        }
        String wanted = check.mnemonics().stream().collect(Collectors.joining(" or "));
        return new Fault("There is no %s in the program.".formatted(wanted), Culprit.NONE);
    }

    /** An instruction can be written as data, or be put together by the program: then it counts if it is carried out. */
    private @Nullable Fault carriedOut(List<String> mnemonics) {
        if (memory().noneMatch(word -> isOneOf(mnemonics, word))) {
            return null;
        }
        Culprit culprit = culprits.firstOf(word -> isOneOf(mnemonics, word));
        return culprit.words().isEmpty() ? null : new Fault(culprit.words(), culprit);
    }

    /** All words that are in memory at the beginning or at the end of the run. */
    private IntStream memory() {
        IntStream begin = run.program().blocks().stream().flatMapToInt(block -> IntStream.of(block.words()));
        Stream<Integer> shared = run.report().shared().values().stream();
        Stream<Integer> privates = run.report().cores().stream().flatMap(core -> core.privateWords().values().stream());
        return IntStream.concat(begin, Stream.concat(shared, privates).mapToInt(Integer::intValue));
    }

    private static boolean isOneOf(List<String> mnemonics, int word) {
        Instruction instruction = Instruction.decode(word);
        return instruction != null && mnemonics.contains(instruction.op().mnemonic());
    }

    private static Fault unwanted(String mnemonic, int line) {
        return new Fault("Line %d has a %s.".formatted(line, mnemonic), new Culprit(line, -1, ""));
    }
}
