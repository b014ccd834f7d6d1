package octurn.arbiter;

/** The core whose request is oldest; of equals, the lowest number. */
final class FirstCome implements Chooser {

    @Override
    public int choose(int requests, long[] requestCycle, Memory memory) {
        int oldest = Integer.numberOfTrailingZeros(requests);
        for (int rest = requests & requests - 1; rest != 0; rest &= rest - 1) {
            int core = Integer.numberOfTrailingZeros(rest);
            if (requestCycle[core] < requestCycle[oldest]) {
                oldest = core;
            }
        }
        return oldest;
    }
}
