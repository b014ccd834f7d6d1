package octurn.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Designs that are at hand by name, each the default one with one thing changed: what is it worth? */
public final class NamedDesigns {

    private static final List<Named> ALL = List.of(
            new Named("default", "eight cores in plain rotation, slots of 3 cycles", Design.DEFAULT),
            slot("half-slot", "slots of 2 cycles (half of 3, rounded up)", 2),
            slot("shortest-slot", "slots of 1 cycle", 1),
            slot("double-slot", "slots of 6 cycles", 6),
            cores("four-cores", "four cores, and so half the rotation", 4),
            cores("sixteen-cores", "sixteen cores, and so twice the rotation", 16),
            admission("weighted", "core 0 has every second slot", new Admission.Rotation(everySecond(8))),
            policy("next-waiting", "on demand: the next requesting core after the last"),
            policy("priority", "on demand: the lowest requesting core"),
            policy("first-come", "on demand: the oldest request"),
            policy("lottery", "on demand: a draw among the requesting cores"),
            policy("own-port", "a port for each core: access for access, no memory beats it"));

    private NamedDesigns() {}

    /**
     * One of them.
     *
     * @param name by which it is asked for; the default one but for this is also that of the design
     * @param what it is, in a few words
     */
    public record Named(String name, String what, Design design) {}

    /** All of them, the default one first. */
    public static List<Named> all() {
        return ALL;
    }

    /** The design of this name. */
    public static Optional<Design> of(String name) {
        return ALL.stream()
                .filter(named -> named.name().equals(name))
                .map(Named::design)
                .findFirst();
    }

    private static Named slot(String name, String what, int cycles) {
        return new Named(
                name, what, Field.SLOT_CYCLES.with(Design.DEFAULT, cycles).withName(name));
    }

    private static Named cores(String name, String what, int cores) {
        return new Named(name, what, Field.CORES.with(Design.DEFAULT, cores).withName(name));
    }

    private static Named policy(String policy, String what) {
        return admission(policy, what, Admission.plain(policy, Design.DEFAULT.cores()));
    }

    private static Named admission(String name, String what, Admission admission) {
        return new Named(name, what, Design.DEFAULT.withAdmission(admission).withName(name));
    }

    /** 0 1 0 2 0 3 and so on. */
    private static List<Integer> everySecond(int cores) {
        List<Integer> order = new ArrayList<>();
        for (int core = 1; core < cores; core++) {
            order.add(0);
            order.add(core);
        }
        return order;
    }
}
