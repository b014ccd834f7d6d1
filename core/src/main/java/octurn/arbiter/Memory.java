package octurn.arbiter;

/** What an arbiter remembers between admissions. */
public final class Memory {

    /** The core admitted last; before the first admission the highest-numbered one. */
    public int lastAdmitted;

    /** The state of the lottery's generator: the number drawn last, or the seed. */
    public int random;

    public Memory(int lastAdmitted, int random) {
        this.lastAdmitted = lastAdmitted;
        this.random = random;
    }

    public void copyFrom(Memory other) {
        lastAdmitted = other.lastAdmitted;
        random = other.random;
    }
}
