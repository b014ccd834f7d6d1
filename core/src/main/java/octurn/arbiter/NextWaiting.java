package octurn.arbiter;

/** The first requesting core after the one admitted last, in ascending number, wrapping round. */
final class NextWaiting implements Chooser {

    @Override
    public int choose(int requests, long[] requestCycle, Memory memory) {
        int above = memory.lastAdmitted >= 31 ? 0 : requests & -1 << (memory.lastAdmitted + 1);
        return Integer.numberOfTrailingZeros(above != 0 ? above : requests);
    }
}
