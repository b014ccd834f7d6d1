package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import octurn.arbiter.Chooser;
import octurn.arbiter.Memory;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReports;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Cores that think for a random while and then need the memory for one slot. The number k of cores that request or hold
 * it is a Markov chain, which is solved here; all values are derived. U is the part of the slots in use, R the mean
 * time in slots from request to the end of the access; by Little's law R = L / U with L the mean of k.
 */
class GeometricThinkTest {

    private static final int CORES = 8;
    private static final int SLOTS = 40_000;
    private static final int CHIP_SLOTS = 12_000;
    private static final int BATCHES = 20;
    private static final int SLOT_CYCLES = 64;

    /** A thinking core requests with probability p in each slot, and may again in the slot after its access. */
    @ParameterizedTest
    @CsvSource({
        "1, 0.125, 0.125000, 1",
        "2, 0.125, 0.247807, 1.070796",
        "3, 0.125, 0.367614, 1.160723",
        "4, 0.125, 0.483263, 1.277072",
        "5, 0.125, 0.593095, 1.430350",
        "6, 0.125, 0.694810, 1.635453",
        "7, 0.125, 0.785403, 1.912618",
        "8, 0.125, 0.861427, 2.286912",
        "8, 0.05, 0.394875, 1.259559",
        "8, 0.1, 0.739072, 1.824392",
        "8, 0.25, 0.999444, 5.004451",
    })
    void chain_solved_givesUseAndResponse(int cores, double p, double use, double response) {
        Chain chain = Chain.solve(cores, k -> cores - Math.max(k - 1, 0), p);

        assertThat(chain.use()).isCloseTo(use, within(1e-6));
        assertThat(chain.response()).isCloseTo(response, within(2e-6));
    }

    static Stream<Arguments> policiesAndChances() {
        return Stream.of(
                        new Admission.NextWaiting(),
                        new Admission.FirstCome(),
                        Lab.priority(CORES),
                        Lab.evenLottery(CORES),
                        Lab.lottery(9, 1, 4, 2, 8, 1, 1, 3))
                .flatMap(policy -> DoubleStream.of(0.05, 0.125, 0.25).mapToObj(p -> Arguments.of(policy, p)));
    }

    /** Whichever policy never idles while a request is up: the same U and R over all cores. */
    @ParameterizedTest
    @MethodSource("policiesAndChances")
    void slots_underAnyBusyPolicy_behaveAsTheChain(Admission policy, double p) {
        Chooser chooser = Chooser.of(Lab.design(CORES, 1, policy));
        Memory memory = new Memory(CORES - 1, (int) Admission.Lottery.DEFAULT_SEED);
        long[] since = new long[CORES];

        Slots slots =
                Slots.play(p, (slot, requests) -> requests == 0 ? -1 : chooser.choose(requests, since, memory), since);

        Chain chain = Chain.solve(CORES, k -> CORES - Math.max(k - 1, 0), p);
        slots.assertNear(chain.use(), chain.response());
    }

    /** Under rotation U = 1 - (1-p)^N and R = N / U - 1/p + 1 (derived). */
    @ParameterizedTest
    @CsvSource({"0.125, 0.656391, 5.187856", "0.25, 0.899887, 5.890004", "0.05, 0.336580, 4.768525"})
    void slots_underRotation_behaveAsTheFormula(double p, double use, double response) {
        double u = 1 - Math.pow(1 - p, CORES);
        assertThat(u).isCloseTo(use, within(1e-6));
        assertThat(CORES / u - 1 / p + 1).isCloseTo(response, within(1e-6));

        Rotation rotation = new Rotation(1, Design.plainOrder(CORES), CORES);
        Slots slots = Slots.play(
                p,
                (slot, requests) -> (requests >> rotation.owner(slot) & 1) == 1 ? rotation.owner(slot) : -1,
                new long[CORES]);

        slots.assertNear(use, response);
    }

    /**
     * The same on the chip itself, with random numbers that each core makes for itself. Since its draw takes a while, a
     * core can request in the second slot after its access at the earliest: k' = max(k-1, 0) + Bin(N-k, p).
     */
    private static final String THINKER = """
            core all
                    read  r4, core
                    add   r4, r4, 1
                    big   r1, 2654435769
                    mul   r1, r1, r4        ; a seed for each core
                    big   r6, %d            ; p x 2^32
            think:  shl   r3, r1, 13        ; xorshift32
                    xor   r1, r1, r3
                    shr   r3, r1, 17
                    xor   r1, r1, r3
                    shl   r3, r1, 5
                    xor   r1, r1, r3
                    read  r5, time
                    or    r5, r5, slot - 1
                    sub   r5, r5, 1
                    until r5                ; two cycles before the next slot
                    jump  think if r1 u>= r6
                    fetch r2, [0]           ; requests at its first cycle
                    jump  think
            """;

    @ParameterizedTest
    @MethodSource("chipPoliciesAndChances")
    void chip_underAnyBusyPolicy_behavesAsTheChain(Admission policy, double p) {
        Chain chain = Chain.solve(CORES, k -> CORES - k, p);

        assertChipNear(policy, p, chain.use(), chain.response());
    }

    static Stream<Arguments> chipPoliciesAndChances() {
        return Stream.of(
                Arguments.of(new Admission.NextWaiting(), 0.125),
                Arguments.of(new Admission.NextWaiting(), 0.25),
                Arguments.of(Lab.evenLottery(CORES), 0.125),
                Arguments.of(Lab.lottery(9, 1, 4, 2, 8, 1, 1, 3), 0.125),
                Arguments.of(Lab.priority(CORES), 0.05));
    }

    /**
     * Between an access and its next slot a core draws N - 1 times, between an unused slot and the next one N times. With
     * a and b the chances that the next slot is used, U = U a + (1-U) b; and R = N / U - 1/p.
     */
    @ParameterizedTest
    @CsvSource({"0.125", "0.25"})
    void chip_underRotation_behavesAsTheFormula(double p) {
        double a = 1 - Math.pow(1 - p, CORES - 1);
        double b = 1 - Math.pow(1 - p, CORES);
        double use = b / (1 - a + b);

        assertChipNear(Lab.rotation(CORES), p, use, CORES / use - 1 / p);
    }

    private static void assertChipNear(Admission policy, double p, double use, double response) {
        String text = THINKER.formatted(Math.round(p * 0x1p32));
        Run run = Lab.run(text, Lab.design(CORES, SLOT_CYCLES, policy), (long) SLOT_CYCLES * CHIP_SLOTS);
        double[] uses = new double[BATCHES];
        double[] responses = new double[BATCHES];
        long busy = 0;
        long waits = 0;
        long accesses = 0;
        for (int batch = 0; batch < BATCHES; batch++) {
            run.runTo((long) SLOT_CYCLES * CHIP_SLOTS / BATCHES * (batch + 1));
            var cores = RunReports.of(run).cores();
            long accessesNow = cores.stream().mapToLong(CoreReport::accesses).sum();
            long waitsNow =
                    cores.stream().mapToLong(core -> core.waits().total()).sum();
            uses[batch] = (double) (run.chip().busyCycles() - busy) * BATCHES / (SLOT_CYCLES * CHIP_SLOTS);
            responses[batch] = (double) (waitsNow - waits) / (accessesNow - accesses) / SLOT_CYCLES + 1;
            busy = run.chip().busyCycles();
            waits = waitsNow;
            accesses = accessesNow;
        }
        assertMeanNear(uses, use);
        assertMeanNear(responses, response);
    }

    /** The mean of the batches lies within four of its standard errors, and a little for the start. */
    private static void assertMeanNear(double[] batches, double expected) {
        double mean = Arrays.stream(batches).average().orElseThrow();
        double squares =
                Arrays.stream(batches).map(x -> (x - mean) * (x - mean)).sum();
        double error = Math.sqrt(squares / (batches.length - 1) / batches.length);
        assertThat(error).as("standard error").isLessThan(0.02 * expected);
        assertThat(mean).isCloseTo(expected, within(4 * error + 0.001 * expected));
    }

    /** The stationary distribution of the chain k' = max(k-1, 0) + Bin(thinking(k), p). */
    private record Chain(double[] share) {

        static Chain solve(int cores, IntToDoubleFunction thinking, double p) {
            double[] share = new double[cores + 1];
            share[0] = 1;
            for (int step = 0; step < 5_000; step++) {
                double[] next = new double[cores + 1];
                for (int k = 0; k <= cores; k++) {
                    int free = (int) thinking.applyAsDouble(k);
                    double chance = Math.pow(1 - p, free);
                    for (int more = 0; more <= free; more++) {
                        next[Math.max(k - 1, 0) + more] += share[k] * chance;
                        chance *= (free - more) * p / ((more + 1) * (1 - p));
                    }
                }
                share = next;
            }
            return new Chain(share);
        }

        double use() {
            return 1 - share[0];
        }

        double response() {
            double load = 0;
            for (int k = 0; k < share.length; k++) {
                load += k * share[k];
            }
            return load / use();
        }
    }

    /** Who is admitted in a slot: a core, or -1. */
    @FunctionalInterface
    private interface Admitter {
        int admit(long slot, int requests);
    }

    /** What a game of slots came to, in batches. */
    private record Slots(double[] use, double[] response) {

        static Slots play(double p, Admitter admitter, long[] since) {
            Random random = new Random(20);
            double[] use = new double[BATCHES];
            double[] response = new double[BATCHES];
            int requests = 0;
            for (int slot = 0; slot < SLOTS; slot++) {
                for (int core = 0; core < CORES; core++) {
                    if ((requests >> core & 1) == 0 && random.nextDouble() < p) {
                        requests |= 1 << core;
                        since[core] = slot;
                    }
                }
                int batch = slot / (SLOTS / BATCHES);
                response[batch] += Integer.bitCount(requests);
                int admitted = admitter.admit(slot, requests);
                if (admitted >= 0) {
                    requests &= ~(1 << admitted);
                    use[batch]++;
                }
            }
            for (int batch = 0; batch < BATCHES; batch++) {
                response[batch] /= use[batch];
                use[batch] /= (double) SLOTS / BATCHES;
            }
            return new Slots(use, response);
        }

        void assertNear(double expectedUse, double expectedResponse) {
            assertMeanNear(use, expectedUse);
            assertMeanNear(response, expectedResponse);
        }
    }

    /** The check can fail: the chip's chain is not that of cores which may request at once. */
    @Test
    void chains_withAndWithoutADelay_differ() {
        double quick =
                Chain.solve(CORES, k -> CORES - Math.max(k - 1, 0), 0.125).use();
        double slow = Chain.solve(CORES, k -> CORES - k, 0.125).use();

        assertThat(quick - slow).isGreaterThan(0.02);
    }
}
