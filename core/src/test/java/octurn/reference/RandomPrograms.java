package octurn.reference;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalLong;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.IntConsumer;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.report.RunReport;

/**
 * Random programs with a design and a scenario to run them under, each from a seed and always the same from it. Most of
 * what they do is legal and goes on for a while; corner values, and mistakes of every kind, come in between. Each
 * program has its own taste: some kinds of statement are frequent in it and others absent.
 */
public final class RandomPrograms {

    /**
     * One of them.
     *
     * @param text the program file
     * @param limit the cycle limit; the scenario has the same
     */
    public record Generated(long seed, String text, Design design, Scenario scenario, long limit) {
        /** All that is needed to run it by hand. */
        @Override
        public String toString() {
            return "seed %d, limit %d%n%s%n%s%n%s".formatted(seed, limit, design, scenario, text);
        }
    }

    /** What a group of lines is about. */
    private enum Topic {
        ARITHMETIC,
        PRIVATE,
        ACCESS,
        SKIP,
        LOOP,
        CALL,
        FAR,
        MODIFY_SELF,
        MODIFY_SHARED,
        LATCHES,
        TALLY,
        PULSE,
        READ,
        HOLD,
        AWAIT,
        MEET,
        START,
        STOP,
        FAULT
    }

    private static final int[] PINS = {0, 1, 2, 4, 8, 16, 31, 32};
    private static final String[] CONDITIONS = {"==", "!=", "<", "<=", ">", ">=", "u<", "u<=", "u>", "u>="};
    private static final String[] THREES = {
        "add", "sub", "and", "or", "xor", "shl", "shr", "sar", "rol", "mul", "mulh", "add", "sub", "xor"
    };
    private static final String[] ACCESSES = {"fetch", "post", "swap", "bump"};
    private static final int DATA_WORDS = 12;
    private static final int MAX_NESTING = 3;

    private final long seed;
    private final Random random;
    private final int cores;
    private final int slot;
    private final int plain;
    private final int pins;
    private final int cells;
    private final int images;
    private final int codes;
    private final boolean ownPort;
    /** Whether its cores tend to end in faults and in waits for what never comes. */
    private final boolean doomed;
    /** Whether its cores mostly compute, on and on. */
    private final boolean hot;

    private final int[] taste = new int[Topic.values().length];
    private final StringBuilder text = new StringBuilder();

    private int labels;
    /** Words of the section being written, and the most that a private one has. */
    private int words;

    private int mostPrivate;
    private int sharedWords;
    private boolean inShared;
    private int nesting;
    private int room;
    private boolean inSub;

    private RandomPrograms(long seed) {
        this.seed = seed;
        // A linear generator's first numbers resemble each other from seed to seed.
        random = new Random(seed * 0x9E3779B97F4A7C15L ^ seed >>> 7);
        cores = pick(1, 2, 2, 3, 3, 4, 4, 5, 8, 8, 16, 32, between(1, 32));
        slot = pick(1, 1, 2, 3, 3, 4, 5, 7, between(1, 64));
        plain = pick(1, 1, 1, 1, 2, 3, between(1, 64));
        pins = pick(PINS);
        cells = between(1, 5);
        images = between(0, 3);
        codes = between(0, 3);
        ownPort = chance(35);
        hot = chance(4);
        doomed = !hot && chance(15);
        for (Topic topic : Topic.values()) {
            taste[topic.ordinal()] = pick(0, 1, 2, 2, 4, 12);
        }
        taste[Topic.ARITHMETIC.ordinal()] = 3;
        if (hot) {
            List<Topic> rare = List.of(Topic.ACCESS, Topic.FAR, Topic.START, Topic.STOP, Topic.HOLD, Topic.LATCHES);
            for (Topic topic : Topic.values()) {
                taste[topic.ordinal()] = rare.contains(topic) ? pick(0, 0, 0, 1) : 0;
            }
            for (Topic topic : List.of(Topic.ARITHMETIC, Topic.PRIVATE, Topic.SKIP, Topic.LOOP, Topic.CALL)) {
                taste[topic.ordinal()] = pick(3, 6, 9);
            }
            taste[Topic.MODIFY_SELF.ordinal()] = pick(0, 0, 1, 3);
        } else if (chance(25)) {
            // Cores that meet, stop and start each other.
            for (Topic topic : List.of(Topic.MEET, Topic.STOP, Topic.START)) {
                taste[topic.ordinal()] = 8;
            }
        }
        if (chance(15)) {
            // Pins and what watches them.
            for (Topic topic : List.of(Topic.LATCHES, Topic.TALLY, Topic.PULSE, Topic.AWAIT)) {
                taste[topic.ordinal()] = 6;
            }
        }
        taste[Topic.FAULT.ordinal()] = pick(0, 0, 0, 1, 1, 3);
    }

    /** The program of this seed. */
    public static Generated of(long seed) {
        return new RandomPrograms(seed).generate();
    }

    private Generated generate() {
        line("; random program " + seed);
        line("base = " + between(1, 9));
        List<Runnable> sections = new ArrayList<>();
        sections.add(this::sharedData);
        for (int i = 0; i < codes; i++) {
            int number = i;
            sections.add(() -> sharedCode(number));
        }
        for (int i = 0; i < images; i++) {
            int number = i;
            sections.add(() -> image(number));
        }
        List<Integer> left = new ArrayList<>(Design.plainOrder(cores));
        Collections.shuffle(left, random);
        int started = pick(1, cores, cores, between(0, cores));
        left = new ArrayList<>(left.subList(0, started));
        while (!left.isEmpty()) {
            int count = pick(1, 1, 2, left.size(), between(1, left.size()));
            List<Integer> mine = new ArrayList<>(left.subList(0, Math.min(count, left.size())));
            left = new ArrayList<>(left.subList(mine.size(), left.size()));
            Collections.sort(mine);
            sections.add(() -> coreSection(mine));
        }
        Collections.shuffle(sections, random);
        sections.forEach(Runnable::run);
        sharedEdge();
        return finish();
    }

    /** Limits at which the run may be caught in the midst of something, given its report. */
    static Set<Long> telling(Generated generated, RunReport report) {
        Random random = new Random(generated.seed());
        Set<Long> limits = new TreeSet<>();
        long end = report.cycles();
        for (RunReport.CoreReport core : report.cores()) {
            if (core.fault() != null) {
                limits.add(core.fault().cycle());
                limits.add(core.fault().cycle() + 1);
            }
        }
        if (limits.size() > 4) {
            List<Long> some = new ArrayList<>(limits);
            Collections.shuffle(some, random);
            limits.retainAll(some.subList(0, 4));
        }
        limits.add(end - 1);
        for (int i = 0; i < 3 && end > 1; i++) {
            limits.add(1 + (long) random.nextInt((int) end));
        }
        limits.removeIf(limit -> limit < 1 || limit > generated.limit());
        return limits;
    }

    // ---- design and scenario ----

    private Generated finish() {
        int privateWords = Math.max(16, mostPrivate + pick(0, 0, 1, 5, 200));
        int sharedSize = Math.max(16, sharedWords + pick(0, 0, 1, 40, 2000));
        long limit = pick(
                between(1, 120),
                between(1, 1200),
                between(300, 4000),
                between(300, 4000),
                cores <= 3 && chance(15) ? between(10_000, 120_000) : between(1, 2500));
        if (hot) {
            limit = between(30_000, 300_000) / cores;
        }
        Cost cost = new Cost(
                plain,
                pick(1, 2, 2, between(1, 64)),
                pick(1, 2, 2, 3, between(1, 64)),
                pick(1, 4, between(1, 64)),
                pick(1, 16, between(1, 64)));
        Design design = new Design(
                "random",
                cores,
                privateWords,
                sharedSize,
                slot,
                admission(),
                cost,
                pins,
                new Clock(Clock.Source.CRYSTAL, between(1, 1_000_000_000), between(1, 64), between(0, 500_000)));
        return new Generated(seed, text.toString(), design, new Scenario(OptionalLong.of(limit), inputs(limit)), limit);
    }

    private Admission admission() {
        if (ownPort) {
            return new Admission.OwnPort();
        }
        List<Integer> order = new ArrayList<>(Design.plainOrder(cores));
        return switch (random.nextInt(6)) {
            case 0 -> new Admission.NextWaiting();
            case 1 -> {
                Collections.shuffle(order, random);
                yield new Admission.Priority(order);
            }
            case 2 -> new Admission.FirstCome();
            case 3 -> {
                int most = pick(1, 3, 1000);
                yield new Admission.Lottery(
                        IntStream.range(0, cores)
                                .map(core -> between(1, most))
                                .boxed()
                                .toList(),
                        chance(30) ? Admission.Lottery.DEFAULT_SEED : 1 + (random.nextInt() & 0x7FFFFFFFL) * 2);
            }
            default -> {
                if (chance(60)) {
                    // Weighted, with cores missing now and then.
                    int length = pick(1, cores, between(1, 2 * cores), between(1, 256));
                    order = IntStream.range(0, length)
                            .map(i -> random.nextInt(cores))
                            .boxed()
                            .toList();
                }
                yield new Admission.Rotation(order);
            }
        };
    }

    private List<Input> inputs(long limit) {
        List<Input> inputs = new ArrayList<>();
        int share = doomed ? pick(0, 0, 10) : pick(0, 20, 60, 100);
        for (int pin = 0; pin < pins; pin++) {
            if (chance(share)) {
                inputs.add(input(pin, (int) limit));
            }
        }
        Collections.shuffle(inputs, random);
        return inputs;
    }

    private Input input(int pin, int limit) {
        int reach = pick(40, limit, 2 * limit);
        switch (random.nextInt(3)) {
            case 0 -> {
                List<Input.Change> changes = new ArrayList<>();
                long at = pick(0, 0, between(0, reach));
                for (int count = between(0, 6); count > 0; count--) {
                    changes.add(new Input.Change(at, random.nextInt(2)));
                    at += pick(1, 1, 2, between(1, 30), between(1, reach));
                }
                return new Input.Changes(pin, changes);
            }
            case 1 -> {
                long from = pick(0, 0, 1, between(0, reach));
                long period = pick(1, 2, 3, between(1, 40), between(1, reach));
                long high = pick(0, 1, (int) period - 1, (int) period, (int) period + 1, between(0, (int) period));
                long until = chance(40) ? Input.NEVER : from + pick(1, 2, between(1, reach), (int) period);
                return new Input.Square(pin, from, period, Math.max(0, high), until);
            }
            default -> {
                return new Input.Serial(
                        pin,
                        pick(0, 1, between(0, reach)),
                        pick(1, 2, between(1, 40), between(1, reach)),
                        "Uo~\u00e9\0\u20ac\uD83C\uDF31".substring(0, pick(0, 1, 2, 4, 6, 8)));
            }
        }
    }

    // ---- sections ----

    private void sharedData() {
        int gap = pick(0, 0, 0, between(1, 50));
        begin(gap > 0 ? "shared at " + (sharedWords + gap) : "shared", true);
        words = sharedWords + gap;
        for (int i = 0; i < cells; i++) {
            line("cell%d: word %d".formatted(i, interesting()), 1);
        }
        line("badzero: word 0", 1);
        line("badlong: word " + pick(70_000, 3000, between(100, 600)), 1);
        line("badpast: word -1", 1);
        line("tiny: word 1, 0xC8000000", 2);
        line("tinybad: word 2, 0x20020000, 7", 3);
        line("tinynop: word 1, 0x20020000", 2);
        line("space " + DATA_WORDS, DATA_WORDS);
        sharedWords = words;
    }

    /** Images at the end of shared memory, where that is just as long as it need be. */
    private void sharedEdge() {
        begin("shared", true);
        line("edgefits: word 2, 0xC8000000", 2);
        line("edgepast: word 1", 1);
        sharedWords += words;
    }

    private void sharedCode(int number) {
        begin("shared", true);
        words = sharedWords;
        line("code%d:".formatted(number));
        body(between(2, 14), pick(8, 20, 60));
        switch (random.nextInt(12)) {
            case 0 -> line("halt", 1);
            case 1 -> line("far code" + random.nextInt(codes), 1);
            case 2 -> line("near 0", 1);
            default -> line("near r13", 1);
        }
        sharedWords = words;
    }

    private void image(int number) {
        begin("image image" + number, false);
        program(pick(3, 6, 12), pick(4, 20, 60));
        sharedWords += words + 1;
        mostPrivate = Math.max(mostPrivate, words);
    }

    private void coreSection(List<Integer> numbers) {
        begin("core " + numbers.stream().map(String::valueOf).collect(Collectors.joining(", ")), false);
        if (chance(1)) {
            return;
        }
        program(pick(3, 8, 16, 24), pick(10, 60, 160));
        mostPrivate = Math.max(mostPrivate, words);
    }

    private void begin(String header, boolean shared) {
        line(header);
        inShared = shared;
        words = 0;
        inSub = false;
    }

    /** Private code with its data. */
    private void program(int groups, int space) {
        line("set r8, data", 1);
        line("set r9, cell" + random.nextInt(cells), 1);
        for (int i = between(0, 4); i > 0; i--) {
            big("r" + random.nextInt(8), interesting());
        }
        String main = label("main");
        line(main + ":");
        body(groups, space);
        switch (hot ? 3 : random.nextInt(doomed ? 4 : 10)) {
            case 0 -> {}
            case 1 -> line(doomed ? "near 70000" : "jump " + main, 1);
            case 2 -> line(doomed ? "await r12, -2" : "jump " + main, 1);
            case 3, 4 -> line(doomed ? "await r12, r1" : "jump " + main, 1);
            default -> line("halt", 1);
        }
        line("data: word %d, %d, %d, %d".formatted(interesting(), interesting(), interesting(), interesting()), 4);
        line("space " + (DATA_WORDS - 4), DATA_WORDS - 4);
    }

    private void body(int groups, int space) {
        int before = words;
        room = before + space;
        for (int i = 0; i < groups && words < room; i++) {
            group();
        }
    }

    // ---- groups of lines ----

    private void group() {
        int sum = IntStream.of(taste).sum();
        int at = random.nextInt(sum);
        for (Topic topic : Topic.values()) {
            at -= taste[topic.ordinal()];
            if (at < 0) {
                group(topic);
                return;
            }
        }
    }

    private void group(Topic topic) {
        switch (topic) {
            case ARITHMETIC -> arithmetic();
            case PRIVATE -> {
                if (chance(80)) {
                    line("%s %s, %s".formatted(pick("load", "store"), free(), privatePlace()), 1);
                } else {
                    // A word of its own code, perhaps.
                    line("and r12, %s, 15".formatted(free()), 1);
                    line("load %s, [r12%+d]".formatted(free(), between(0, 5)), 1);
                }
            }
            case ACCESS -> line("%s %s, %s".formatted(pick(ACCESSES), free(), sharedPlace()), 1);
            case SKIP ->
                nest(depth -> {
                    String skip = label("skip");
                    String right = chance(50) ? free() : String.valueOf(pick(0, 1, -1, -128, 127, between(-9, 9)));
                    line("jump %s if %s %s %s".formatted(skip, free(), pick(CONDITIONS), right), 1);
                    some(between(1, 3));
                    line(skip + ":");
                });
            case LOOP ->
                nest(depth -> {
                    String loop = label("loop");
                    String counter = "r" + (depth == 1 ? 10 : depth == 2 ? 11 : 14);
                    line("set %s, %d".formatted(counter, hot ? between(1, 40) : pick(1, 2, 3, between(1, 9))), 1);
                    line(loop + ":");
                    some(between(1, 4));
                    line("again %s, %s".formatted(counter, loop), 1);
                });
            case CALL -> call();
            case FAR -> far();
            case MODIFY_SELF -> modifySelf();
            case MODIFY_SHARED -> modifyShared();
            case LATCHES -> {
                set("r12", pick(0, 1, 2, 3, -1, between(0, 255), random.nextInt()));
                String port = pick("out", "drive", "drive");
                line("write %s, r12".formatted(port), 1);
                if (chance(20)) {
                    line("read %s, %s".formatted(free(), port), 1);
                }
            }
            case TALLY -> tally();
            case PULSE -> pulse();
            case READ ->
                line(
                        "read %s, %s"
                                .formatted(
                                        free(),
                                        pick(
                                                "pins", "pins", "out", "drive", "time", "core", "tally0", "tally0",
                                                "tally1", "mode0", "span1", "level0")),
                        1);
            case HOLD -> hold();
            case AWAIT -> await();
            case MEET -> {
                // The next multiple of a power of two: cores that do this go on together.
                line("read r12, time", 1);
                line("or r12, r12, " + pick(15, 63, 63, 255), 1);
                line("until r12", 1);
            }
            case START -> start();
            case STOP -> {
                target("r12");
                line("stop r12", 1);
            }
            case FAULT -> fault();
        }
    }

    private void some(int groups) {
        for (int i = 0; i < groups && words < room; i++) {
            group();
        }
    }

    private void nest(IntConsumer inside) {
        // A conditional jump reaches 255 words.
        if (nesting == MAX_NESTING || words >= room) {
            arithmetic();
            return;
        }
        nesting++;
        inside.accept(nesting);
        nesting--;
    }

    private void arithmetic() {
        for (int i = between(1, 3); i > 0; i--) {
            switch (random.nextInt(9)) {
                case 8 -> {
                    if (chance(20)) {
                        // The one quotient that does not fit.
                        big("r4", Integer.MIN_VALUE);
                        line("%s %s, r4, -1".formatted(pick("div", "rem", "mulh"), free()), 1);
                    }
                }
                case 0 -> big(free(), interesting());
                case 1 -> line("upper %s, %d".formatted(free(), between(0, 1023)), 1);
                case 2 -> {
                    line("or r7, r7, 1", 1);
                    line(
                            "%s %s, %s, %s"
                                    .formatted(pick("div", "rem"), free(), free(), pick("r7", "-1", "3", "-7", "1000")),
                            1);
                }
                case 3 -> line(pick("nop", "copy r3, r5", "not r2, r2"), 1);
                default ->
                    line(
                            "%s %s, %s, %s"
                                    .formatted(
                                            pick(THREES),
                                            free(),
                                            free(),
                                            chance(60)
                                                    ? free()
                                                    : String.valueOf(
                                                            pick(0, 1, -1, 31, 32, -65536, 65535, between(-40, 40)))),
                            1);
            }
        }
    }

    private String privatePlace() {
        int offset = random.nextInt(DATA_WORDS);
        return chance(50) || inShared ? "[r8+%d]".formatted(offset) : "[data+%d]".formatted(offset);
    }

    private String sharedPlace() {
        int cell = random.nextInt(cells);
        return switch (random.nextInt(4)) {
            case 0 -> "[r9]";
            case 1 -> "[r9+%d]".formatted(random.nextInt(cells));
            default -> "[cell%d]".formatted(cell);
        };
    }

    private void call() {
        if (inSub) {
            arithmetic();
            return;
        }
        nest(depth -> {
            String sub = label("sub");
            String after = label("after");
            if (chance(80)) {
                line("call " + sub, 1);
            } else {
                String register = pick("r12", "r15");
                line("set %s, %s".formatted(register, sub), 1);
                line("call " + register, 1);
            }
            line("jump " + after, 1);
            line(sub + ":");
            inSub = true;
            some(between(0, 3));
            inSub = false;
            line(chance(80) ? "ret" : "jump r15", 1);
            line(after + ":");
        });
    }

    private void far() {
        if (codes == 0 || inShared || inSub) {
            arithmetic();
            return;
        }
        String back = label("back");
        line("set r13, " + back, 1);
        if (chance(70)) {
            line("far code" + random.nextInt(codes), 1);
        } else {
            line("set r12, code" + random.nextInt(codes), 1);
            line("far r12", 1);
        }
        line(back + ":");
        if (chance(20)) {
            // In private code a plain jump.
            String there = label("there");
            line("near " + there, 1);
            line(there + ":");
        }
    }

    private String replacement() {
        return pick(
                "add r1, r1, 1",
                "nop",
                "fetch r1, [cell0]",
                "bump r2, [cell0]",
                "pause 3",
                "mul r3, r3, r3",
                "read r4, pins",
                chance(20) ? "halt" : "xor r1, r2, -1",
                chance(10) ? "word 5" : "sub r1, r1, 5");
    }

    private void modifySelf() {
        if (inShared) {
            arithmetic();
            return;
        }
        String spot = label("spot");
        String over = label("over");
        String fresh = label("new");
        line("load r6, [%s]".formatted(fresh), 1);
        if (chance(40)) {
            // The two change places: each time round the other one is done.
            line("load r5, [%s]".formatted(spot), 1);
            line("store r5, [%s]".formatted(fresh), 1);
        }
        line("store r6, [%s]".formatted(spot), 1);
        line("%s: %s".formatted(spot, replacement()), 1);
        line("jump " + over, 1);
        line("%s: %s".formatted(fresh, replacement()), 1);
        line(over + ":");
    }

    /** Changes a word of code or of an image in shared memory, perhaps while others fetch it. */
    private void modifyShared() {
        if (inShared || codes + images == 0) {
            arithmetic();
            return;
        }
        boolean code = images == 0 || (codes > 0 && chance(50));
        String place = code
                ? "code%d + %d".formatted(random.nextInt(codes), random.nextInt(3))
                : "image%d + %d".formatted(random.nextInt(images), pick(1, 2, 3, 4, chance(10) ? 0 : 5));
        String fresh = label("new");
        String over = label("over");
        line("load r6, [%s]".formatted(fresh), 1);
        line("%s r6, [%s]".formatted(pick("post", "post", "swap"), place), 1);
        line("jump " + over, 1);
        line("%s: %s".formatted(fresh, replacement()), 1);
        line(over + ":");
    }

    private void mode(int tally, int mode) {
        int pin = mode <= 1 || pins == 0 ? 0 : random.nextInt(pins);
        set("r12", mode | pin << 8);
        line("write mode%d, r12".formatted(tally), 1);
        if (mode == 6 && chance(80)) {
            set("r12", chance(60) ? 1 << pin : -1);
            line("write drive, r12", 1);
        }
    }

    private void tally() {
        int tally = random.nextInt(2);
        if (chance(40)) {
            set("r12", pick(0, 1, -1, -2, Integer.MAX_VALUE, between(0, 50)));
            line("write tally%d, r12".formatted(tally), 1);
        }
        mode(tally, pins == 0 ? random.nextInt(2) : random.nextInt(6));
        if (chance(50)) {
            some(1);
            if (chance(30)) {
                // While it counts.
                line("write %s%d, %s".formatted(pick("tally", "tally", "mode"), tally, pick("r12", "r0")), 1);
            }
            line("read %s, tally%d".formatted(free(), tally), 1);
        }
    }

    private void pulse() {
        if (pins == 0) {
            tally();
            return;
        }
        int tally = random.nextInt(2);
        int span = pick(0, 1, 2, 3, between(1, 60), -1, Integer.MIN_VALUE);
        int level = pick(0, 1, span, span - 1, span + 1, span >>> 1, between(0, 30), -1);
        List<Runnable> steps = new ArrayList<>(List.of(
                () -> {
                    set("r12", span);
                    line("write span%d, r12".formatted(tally), 1);
                },
                () -> {
                    set("r12", level);
                    line("write level%d, r12".formatted(tally), 1);
                },
                () -> mode(tally, 6)));
        if (chance(40)) {
            steps.add(() -> {
                set("r12", pick(0, 1, span - 1, span, span + 1, -1, -2));
                line("write tally%d, r12".formatted(tally), 1);
            });
        }
        if (chance(30)) {
            steps.remove(random.nextInt(steps.size()));
        }
        Collections.shuffle(steps, random);
        steps.forEach(Runnable::run);
    }

    private void hold() {
        switch (random.nextInt(7)) {
            case 0 -> line("pause " + pick(-5, 0, 1, plain - 1, plain, plain + 1, between(2, 70)), 1);
            case 1 -> {
                line("and r12, %s, 63".formatted(free()), 1);
                line("pause r12", 1);
            }
            case 2 -> line("until " + pick(-1, 0, between(0, 3000), 65535), 1);
            case 3 -> {
                line("read r12, time", 1);
                // Where the sleep is just nothing: time + 3 plain.
                line("add r12, r12, " + (3 * plain + pick(-1, 0, 1, 2, between(0, 200))), 1);
                line("until r12", 1);
            }
            case 4 -> {
                line("read r12, time", 1);
                line("xor r12, r12, " + pick(1, 16, 64, 255), 1);
                line("until r12", 1);
            }
            case 5 -> {
                if (chance(15)) {
                    set("r12", pick(Integer.MAX_VALUE, Integer.MIN_VALUE, 1_000_000));
                    line("%s r12".formatted(pick("until", "pause")), 1);
                } else {
                    line("pause %d".formatted(between(1, 400)), 1);
                }
            }
            default -> line("pause %s".formatted(chance(10) ? free() : "9"), 1);
        }
    }

    private void await() {
        int mask = pins == 0 ? pick(0, 1) : pick(1 << random.nextInt(pins), 1 << random.nextInt(pins), 3, -1);
        switch (random.nextInt(4)) {
            case 0 -> {
                // True at once, unless a pin changes in between.
                set("r12", mask);
                line("read r6, pins", 1);
                line("and r6, r6, r12", 1);
                line("await r12, r6", 1);
            }
            case 1 -> {
                // Waits for a change.
                set("r12", mask);
                line("read r6, pins", 1);
                line("and r6, r6, r12", 1);
                line("xor r6, r6, r12", 1);
                line("await r12, r6", 1);
            }
            case 2 -> {
                set("r12", mask);
                line("await r12, " + (mask <= 65535 && mask >= -65536 ? mask : 0), 1);
            }
            default -> {
                set("r12", mask);
                line("await r12, 0", 1);
            }
        }
    }

    /** Some core's number, the same for all who ask or counted from the asker's own. */
    private void target(String register) {
        if (chance(50)) {
            line("set %s, %d".formatted(register, random.nextInt(cores)), 1);
        } else {
            line("read %s, core".formatted(register), 1);
            line("add %s, %s, %d".formatted(register, register, random.nextInt(cores)), 1);
            line("rem %s, %s, %d".formatted(register, register, cores), 1);
        }
    }

    private void start() {
        String register = pick("r12", "r5");
        if (chance(50)) {
            target(register);
        } else {
            line("set %s, -1".formatted(register), 1);
        }
        if (images > 0 && (hot || chance(85))) {
            line("set r6, image" + random.nextInt(images), 1);
        } else {
            switch (random.nextInt(6)) {
                case 0 -> set("r6", pick(-1, Integer.MIN_VALUE, 1 << 20));
                default ->
                    line(
                            "set r6, "
                                    + pick(
                                            "badzero",
                                            "badlong",
                                            "badpast",
                                            "tiny",
                                            "tiny",
                                            "tinybad",
                                            "tinynop",
                                            "edgefits",
                                            "edgepast"),
                            1);
            }
        }
        line("start %s, r6, %s".formatted(register, free()), 1);
    }

    private void fault() {
        boolean mostlyNot = chance(60);
        String skip = label("skip");
        if (mostlyNot) {
            line("jump %s if %s %s %s".formatted(skip, free(), pick(CONDITIONS), free()), 1);
        }
        switch (random.nextInt(13)) {
            case 0 -> line("div r1, r2, 0", 1);
            case 1 -> {
                set("r12", pick(-1, 70_000, Integer.MIN_VALUE));
                line("%s r1, [r12]".formatted(pick("load", "store")), 1);
            }
            case 2 -> {
                set("r12", pick(-1, 200_000, Integer.MIN_VALUE));
                line("%s r1, [r12]".formatted(pick(ACCESSES)), 1);
            }
            case 3 -> {
                set("r12", pick(-2, cores, 99, Integer.MIN_VALUE));
                line("start r12, r1, r1", 1);
            }
            case 4 -> {
                set("r12", pick(-1, cores, 99));
                line("stop r12", 1);
            }
            case 5 -> {
                set("r12", pick(7, 1 | 1 << 8, pins << 8 | 2, 1 << 13, -1));
                line("write mode%d, r12".formatted(random.nextInt(2)), 1);
            }
            case 6 -> {
                if (images > 0 && chance(50)) {
                    // Its count word.
                    line("set r12, image" + random.nextInt(images), 1);
                } else {
                    set("r12", pick(-1, 200_000, Integer.MAX_VALUE));
                }
                line("far r12", 1);
            }
            case 7 -> {
                set("r12", pick(-1, 70_000, Integer.MAX_VALUE));
                line("near r12", 1);
            }
            case 8 -> {
                set("r12", pick(-1, 200_000));
                line("%s r12".formatted(pick("jump", "call")), 1);
            }
            case 9 -> line("word " + pick(0, 1, -1), 1);
            case 10 -> line("far " + pick(200_000, 0, 131071), 1);
            case 11 -> line("near " + pick(70_000, 0, 65535), 1);
            default -> line("rem r1, r2, r0", 1);
        }
        line(skip + ":");
    }

    // ---- lines ----

    private String free() {
        return "r" + random.nextInt(8);
    }

    private String label(String stem) {
        return stem + ++labels;
    }

    private void set(String register, int value) {
        if (value >= -2097152 && value <= 2097151) {
            line("set %s, %d".formatted(register, value), 1);
        } else {
            big(register, value);
        }
    }

    private void big(String register, int value) {
        line("big %s, %d".formatted(register, value), 2);
    }

    private void line(String line) {
        text.append(line).append('\n');
    }

    private void line(String line, int size) {
        text.append("        ").append(line).append('\n');
        words += size;
    }

    // ---- choices ----

    private int interesting() {
        return pick(
                0,
                1,
                -1,
                2,
                Integer.MIN_VALUE,
                Integer.MAX_VALUE,
                between(-9, 9),
                between(0, 255),
                random.nextInt(),
                random.nextInt());
    }

    private boolean chance(int percent) {
        return random.nextInt(100) < percent;
    }

    private int between(int low, int high) {
        return low + random.nextInt(high - low + 1);
    }

    private int pick(int... values) {
        return values[random.nextInt(values.length)];
    }

    private String pick(String... values) {
        return values[random.nextInt(values.length)];
    }
}
