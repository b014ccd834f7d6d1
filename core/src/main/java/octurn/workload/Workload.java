package octurn.workload;

import octurn.design.Cost;
import octurn.design.Design;

/**
 * A program whose cores think, access a word of shared memory, and so on. Random numbers are made on the chip, by
 * xorshift32 (Marsaglia 2003), from a seed; so the same workload is the same run on every machine.
 *
 * <p>The instructions that the loop needs are part of the think, so no think can be shorter than they take. What is
 * varied most stands in constants of the program: think, seed, number of accesses, share of writes.
 */
public final class Workload {

    /** The most accesses a core; the loop counts them in a register. */
    public static final long MOST_ACCESSES = 1_000_000_000;

    /** Thinks are at most this long. */
    public static final long MOST_THINK = 1_000_000_000;

    private final Design design;
    private final int cores;
    private final Think think;
    private final int writePercent;
    private final long accesses;
    private final long seed;

    /** Cycles of the loop besides the pause, with the costs of the design; for geometric thinks those of one step. */
    private final long least;

    private final boolean mixed;
    private final StringBuilder text = new StringBuilder();

    /**
     * @param design whose costs the thinks are reckoned for
     * @param cores how many take part: 0 .. cores-1
     * @param writePercent how many of 100 accesses write, 0..100
     * @param accesses of each core, 1..1,000,000,000
     * @param seed of the random numbers, 0..134217727
     * @throws IllegalArgumentException with what would be right, if a number is out of range or the think cannot be made
     */
    public Workload(Design design, int cores, Think think, int writePercent, long accesses, long seed) {
        check("cores", cores, 1, design.cores());
        check("writes", writePercent, 0, 100);
        check("accesses", accesses, 1, MOST_ACCESSES);
        check("seed", seed, 0, (1 << 27) - 1);
        this.design = design;
        this.cores = cores;
        this.think = think;
        this.writePercent = writePercent;
        this.accesses = accesses;
        this.seed = seed;
        this.mixed = writePercent > 0 && writePercent < 100;
        this.least = least(design.cost(), think, mixed);
        checkThink();
    }

    private static void check(String name, long value, long min, long max) {
        if (value < min || value > max) {
            throw new IllegalArgumentException("%s: %d, not %d..%d".formatted(name, value, min, max));
        }
    }

    private void checkThink() {
        int plain = design.cost().plain();
        if (think instanceof Think.Fixed fixed) {
            boolean bare = fixed.cycles() == least;
            if (!bare) {
                check("think", fixed.cycles(), least + plain, MOST_THINK);
            }
        } else if (think instanceof Think.Uniform uniform) {
            check("the least think", uniform.least(), least + plain, MOST_THINK);
            check("the longest think", uniform.most(), uniform.least() + 1, MOST_THINK);
        } else {
            check("the mean think", (long) think.mean(), least + 1, MOST_THINK);
        }
    }

    /** The shortest think that the loop allows for this design, in cycles; for geometric thinks the length of a step. */
    public static long least(Design design, Think think, int writePercent) {
        return least(design.cost(), think, writePercent > 0 && writePercent < 100);
    }

    private static long least(Cost cost, Think think, boolean mixed) {
        int plain = cost.plain();
        long frame = (long) cost.taken() + plain;
        long mix = mixed ? plain + branch(cost) : 0;
        long draw = 6L * plain;
        if (think instanceof Think.Fixed) {
            return frame + mix + (mixed ? draw : 0);
        }
        if (think instanceof Think.Uniform) {
            return frame + mix + draw + plain + cost.multiply() + plain;
        }
        return frame + mix + draw + cost.taken() + askFiller(cost, mix);
    }

    /** Filled in where a geometric think is over, so that what fills up a step that goes on is no less than it can be. */
    private static long askFiller(Cost cost, long mix) {
        return cost.taken() + mix < cost.plain() ? cost.plain() : 0;
    }

    /** What the branch to read or write takes, each way filled up to the same time. */
    private static long branch(Cost cost) {
        return cost.plain() + readFiller(cost);
    }

    /** Filled in where the branch is not taken: until it is as long as the other way, or a plain time longer. */
    private static long readFiller(Cost cost) {
        int shorter = cost.taken() - cost.plain();
        if (shorter == 0 || shorter >= cost.plain()) {
            return shorter;
        }
        // A filler takes a plain time at the least, so the other way gets one as well.
        return cost.plain() + Math.max(0L, shorter);
    }

    /** Filled in where the branch is taken. */
    private static long writeFiller(Cost cost) {
        return branch(cost) - cost.taken();
    }

    // ---- the text

    /** The program file's text. */
    public String text() {
        text.setLength(0);
        heading();
        constants();
        code();
        return text.toString();
    }

    private void line(String line) {
        text.append(line.stripTrailing()).append('\n');
    }

    private void code(String label, String instruction, String comment) {
        String start = "%-8s%s".formatted(label.isEmpty() ? "" : label + ":", instruction);
        commented(start, comment);
    }

    private void commented(String start, String comment) {
        line(comment.isEmpty() ? start : "%-31s ; %s".formatted(start, comment));
    }

    private void heading() {
        line("; A workload");
        line(";");
        line("; %s: each thinks, then accesses a word of its own in shared memory,"
                .formatted(cores == 1 ? "One core" : cores + " cores"));
        line("; %,d times. Of 100 accesses %d write.".formatted(accesses, writePercent));
        line("; Think, from the end of a slot to the next request:");
        line("; %s.".formatted(think.text()));
        line(";");
        Cost cost = design.cost();
        line("; Reckoned for the costs plain %d, taken %d, multiply %d; with others the thinks"
                .formatted(cost.plain(), cost.taken(), cost.multiply()));
        line("; are others, too.");
        if (think instanceof Think.Fixed) {
            line("; Theory: in rotation the period of a core is a whole number of rotations; on");
            line("; demand the asymptotic bounds are reached.");
        } else if (think instanceof Think.Uniform) {
            line("; Theory: the more the thinks spread over the rotation, the nearer the mean wait");
            line("; comes to that of requests at every phase equally often.");
        } else {
            line("; The think goes in steps of %d cycles; after each the core asks with the same".formatted(least));
            line("; chance. Theory: for slots of a whole number of steps the chain of geometric");
            line("; thinks is exact, for others it comes near.");
        }
        line("; octurn predict shows theory and run side by side.");
        line("");
    }

    private void constant(String name, String value, String comment) {
        String start = "%-8s = %s".formatted(name, value);
        commented(start, comment);
    }

    private void constants() {
        constant("accesses", Long.toString(accesses), "of each core");
        if (think instanceof Think.Fixed fixed) {
            constant("think", Long.toString(fixed.cycles()), "cycles");
            if (fixed.cycles() > least) {
                constant("hold", "think - %d".formatted(least), "the loop itself takes %d".formatted(least));
            }
        } else if (think instanceof Think.Uniform uniform) {
            constant("least", Long.toString(uniform.least()), "the shortest think");
            constant("most", Long.toString(uniform.most()), "the longest");
            constant("span", "most - least + 1", "");
            constant("hold", "least - %d".formatted(least), "the loop itself takes %d".formatted(least));
        } else {
            constant("think", Long.toString((long) think.mean()), "cycles on average");
            constant("step", Long.toString(least), "what one turn of the loop takes");
            constant("chance", "(step << 32) / think", "of 2^32: asks after a step");
        }
        if (mixed) {
            constant("writes", Integer.toString(writePercent), "of 100 accesses");
        }
        if (random()) {
            constant("seed", Long.toString(seed), "another one: another run");
        }
        line("");
    }

    /** Whether the program needs random numbers. */
    private boolean random() {
        return mixed || !(think instanceof Think.Fixed);
    }

    private void code() {
        line("core 0%s".formatted(cores == 1 ? "" : ".." + (cores - 1)));
        code("", "read  r8, core", "");
        code("", "add   r8, r8, cells", "the core's word");
        code("", "big   r2, accesses", "");
        if (think instanceof Think.Fixed fixed && fixed.cycles() > least) {
            code("", "big   r5, hold", "");
        } else if (think instanceof Think.Uniform) {
            code("", "big   r5, hold", "");
            code("", "big   r6, 2 * span", "");
        } else if (think instanceof Think.Geometric) {
            code("", "big   r6, chance", "");
        }
        if (mixed) {
            code("", "set   r4, writes * 65536 / 100", "");
        }
        if (random()) {
            seeding();
        }
        think();
        access();
        line("");
        line("shared");
        code("cells", "space %d".formatted(cores), "");
    }

    private void seeding() {
        code("", "big   r1, (seed & 0x7FFFFFF) * 32", "each core and seed has a stream");
        code("", "read  r3, core", "of its own");
        code("", "add   r1, r1, r3", "");
        code("", "big   r3, 0x9E3779B9", "");
        code("", "mul   r1, r1, r3", "");
        code("", "or    r1, r1, 1", "the state may not be 0");
        code("", "set   r7, 8", "");
        draw("warm", "the first numbers are thrown away");
        code("", "again r7, warm", "");
    }

    /** One step of the generator: r1 becomes the next number. */
    private void draw(String label, String comment) {
        code(label, "shl   r3, r1, 13", comment);
        code("", "xor   r1, r1, r3", "");
        code("", "shr   r3, r1, 17", "");
        code("", "xor   r1, r1, r3", "");
        code("", "shl   r3, r1, 5", "");
        code("", "xor   r1, r1, r3", "");
    }

    private void think() {
        Cost cost = design.cost();
        if (think instanceof Think.Geometric) {
            draw("next", "a new random number");
            code("", "jump  ask if r1 u< r6", "the think is over");
            // A step that goes on takes the same time: draw, branch not taken, filler, jump back.
            code("", "pause %d".formatted(least - 7L * cost.plain() - cost.taken()), "");
            code("", "jump  next", "");
            return;
        }
        String label = "next";
        if (random()) {
            draw(label, "a new random number");
            label = "";
        }
        if (think instanceof Think.Uniform) {
            code("", "shr   r3, r1, 1", "0 .. 2^31-1");
            code("", "mulh  r3, r3, r6", "0 .. span-1");
            code("", "add   r3, r3, r5", "");
            code("", "pause r3", "");
        } else if (think.mean() > least) {
            code(label, "pause r5", "");
        }
    }

    private void access() {
        boolean labelled = think instanceof Think.Geometric;
        boolean bare = !random() && think.mean() == least;
        String label = labelled ? "ask" : bare ? "next" : "";
        long askFiller = askFiller(design.cost(), mixed ? design.cost().plain() + branch(design.cost()) : 0);
        if (labelled && askFiller > 0) {
            code(label, "pause %d".formatted(askFiller), "");
            label = "";
        }
        if (!mixed) {
            code(label, writePercent == 0 ? "fetch r9, [r8]" : "post  r2, [r8]", "");
            code("", "again r2, next", "");
            code("", "halt", "");
            return;
        }
        Cost cost = design.cost();
        code(label, "and   r3, r1, 0xFFFF", "");
        code("", "jump  put if r3 u< r4", "");
        filler(readFiller(cost));
        code("", "fetch r9, [r8]", "");
        code("", "again r2, next", "");
        code("", "halt", "");
        if (writeFiller(cost) > 0) {
            code("put", "pause %d".formatted(writeFiller(cost)), "");
            code("", "post  r2, [r8]", "");
        } else {
            code("put", "post  r2, [r8]", "");
        }
        code("", "again r2, next", "");
        code("", "halt", "");
    }

    private void filler(long cycles) {
        if (cycles > 0) {
            code("", "pause %d".formatted(cycles), "as long as the way to write");
        }
    }
}
