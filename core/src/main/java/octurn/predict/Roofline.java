package octurn.predict;

/**
 * The roofline model (Williams, Waterman, Patterson, CACM 52(4), 2009): what a machine can do at the most is the lesser
 * of its peak and of what its memory lets through.
 *
 * @param peak operations a unit of time at the most; here instructions a cycle
 * @param bandwidth transfers a unit of time at the most; here accesses a cycle
 */
public record Roofline(double peak, double bandwidth) {

    /**
     * Operations a unit of time at the most.
     *
     * @param intensity operations for each transfer
     */
    public double attainable(double intensity) {
        return Math.min(peak, bandwidth * intensity);
    }

    /** The intensity from which on the peak is the limit, not the memory. */
    public double ridge() {
        return peak / bandwidth;
    }
}
