package octurn.report;

/** Parts of a whole in whole units, so that they add up to the whole. */
public final class Shares {

    private Shares() {}

    /** The parts in whole percent of their sum; they add up to exactly 100, or are all 0 if the sum is 0. */
    public static int[] percent(long... parts) {
        return split(100, parts);
    }

    /**
     * So many units, shared out in proportion to the parts (largest remainder: each share is rounded down, and what is
     * left goes one by one to those that lost most, of equals to the earlier). All 0 if the parts' sum is 0.
     *
     * @param units from 0 to 1000
     * @param parts each from 0; their sum at most 2^53
     */
    public static int[] split(int units, long... parts) {
        long whole = 0;
        for (long part : parts) {
            whole += part;
        }
        int[] shares = new int[parts.length];
        if (whole == 0) {
            return shares;
        }
        long[] lost = new long[parts.length];
        int left = units;
        for (int i = 0; i < parts.length; i++) {
            shares[i] = (int) (units * parts[i] / whole);
            lost[i] = units * parts[i] % whole;
            left -= shares[i];
        }
        for (; left > 0; left--) {
            int most = 0;
            for (int i = 1; i < lost.length; i++) {
                most = lost[i] > lost[most] ? i : most;
            }
            shares[most]++;
            lost[most] = -1;
        }
        return shares;
    }
}
