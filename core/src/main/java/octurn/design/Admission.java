package octurn.design;

import java.util.List;

/** Which core is admitted to the shared memory, and when: the policy with its settings. */
public sealed interface Admission {

    /** The policies, as written in a design file. */
    List<String> POLICIES = List.of("rotation", "next-waiting", "priority", "first-come", "lottery", "own-port");

    /** As written in a design file. */
    String policy();

    /**
     * A policy with the settings that a design file need not give.
     *
     * @throws IllegalArgumentException if there is no such policy
     */
    static Admission plain(String policy, int cores) {
        return switch (policy) {
            case "rotation" -> new Rotation(Design.plainOrder(cores));
            case "next-waiting" -> new NextWaiting();
            case "priority" -> new Priority(Design.plainOrder(cores));
            case "first-come" -> new FirstCome();
            case "lottery" -> new Lottery(Design.plainWeights(cores), Lottery.DEFAULT_SEED);
            case "own-port" -> new OwnPort();
            default -> throw new IllegalArgumentException("admission.policy: there is no \"%s\"".formatted(policy));
        };
    }

    /** The same policy for another number of cores: an order or weights that are plain become those of the new number. */
    default Admission forCores(int before, int after) {
        if (this instanceof Lottery lottery && lottery.weights().equals(Design.plainWeights(before))) {
            return new Lottery(Design.plainWeights(after), lottery.seed());
        }
        return equals(plain(policy(), before)) ? plain(policy(), after) : this;
    }

    /**
     * Slots in strict rotation, whether their owners want them or not.
     *
     * @param order the owners of the slots, over and over: 1..256 core numbers; a core may come again or be missing
     */
    record Rotation(List<Integer> order) implements Admission {
        public Rotation {
            order = List.copyOf(order);
            if (order.isEmpty() || order.size() > 256) {
                throw new IllegalArgumentException("admission.order: %d entries, not 1..256".formatted(order.size()));
            }
        }

        @Override
        public String policy() {
            return "rotation";
        }
    }

    /** When the memory is free: the next requesting core after the one admitted last. */
    record NextWaiting() implements Admission {
        @Override
        public String policy() {
            return "next-waiting";
        }
    }

    /**
     * When the memory is free: the requesting core that stands first in the order.
     *
     * @param order every core once, the most urgent first
     */
    record Priority(List<Integer> order) implements Admission {
        public Priority {
            order = List.copyOf(order);
        }

        @Override
        public String policy() {
            return "priority";
        }
    }

    /** When the memory is free: the oldest request; of equals, the lowest core. */
    record FirstCome() implements Admission {
        @Override
        public String policy() {
            return "first-come";
        }
    }

    /**
     * When the memory is free: a draw among the requesting cores.
     *
     * @param weights one for each core, 1..1000
     * @param seed of the generator, 1..4294967295
     */
    record Lottery(List<Integer> weights, long seed) implements Admission {
        /** The seed of a design that gives none. */
        public static final long DEFAULT_SEED = 2463534242L;

        public Lottery {
            weights = List.copyOf(weights);
            if (seed < 1 || seed > 0xFFFF_FFFFL) {
                throw new IllegalArgumentException("admission.seed: %d, not 1..4294967295".formatted(seed));
            }
        }

        @Override
        public String policy() {
            return "lottery";
        }
    }

    /** No contention: every request is admitted at once. */
    record OwnPort() implements Admission {
        @Override
        public String policy() {
            return "own-port";
        }
    }
}
