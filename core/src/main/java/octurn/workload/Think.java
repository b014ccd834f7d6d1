package octurn.workload;

/** How long cores think: from the end of an access's slot to the next request, in cycles. */
public sealed interface Think {

    /** The mean. */
    double mean();

    /** In a few words. */
    String text();

    /** Always the same. */
    record Fixed(long cycles) implements Think {
        @Override
        public double mean() {
            return cycles;
        }

        @Override
        public String text() {
            return "always %d cycles".formatted(cycles);
        }
    }

    /** Each length from the least to the most equally often. */
    record Uniform(long least, long most) implements Think {
        @Override
        public double mean() {
            return (least + most) / 2.0;
        }

        @Override
        public String text() {
            return "%d to %d cycles, each equally often".formatted(least, most);
        }
    }

    /**
     * In steps: after each step it is over with the same chance, whatever was before.
     *
     * @param meanCycles the mean, a step divided by the chance
     */
    record Geometric(long meanCycles) implements Think {
        @Override
        public double mean() {
            return meanCycles;
        }

        @Override
        public String text() {
            return "geometric, %d cycles on average".formatted(meanCycles);
        }
    }
}
