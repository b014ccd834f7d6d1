package octurn.predict;

/** The theories that predictions come from, with what each takes for granted. */
public enum Theory {
    UNIFORM_PHASE(
            "uniform phase",
            "derived from the turns; background: Kelter, Falk, Marwedel, Chattopadhyay, Roychoudhury,"
                    + " Bus-Aware Multicore WCET Analysis through TDMA Offset Bounds, ECRTS 2011",
            "requests come at every phase of the rotation equally often"),
    TURN_BOUND(
            "bound of the turns",
            "derived from the turns; background: Kelter, Falk, Marwedel, Chattopadhyay, Roychoudhury,"
                    + " Bus-Aware Multicore WCET Analysis through TDMA Offset Bounds, ECRTS 2011",
            "nothing"),
    DEMAND_BOUND("bound of the queue", "derived: each other core can be served at most once before", "nothing"),
    FIXED_THINK(
            "fixed think in turn",
            "derived from the turns: the period is a whole number of rotations",
            "each core thinks equally long before every access"),
    GEOMETRIC_THINK(
            "geometric think",
            "derived: a Markov chain at the ends of slots, solved exactly",
            "in every cycle of thinking the next request comes with the same chance; all cores alike, without end"),
    ASYMPTOTIC_BOUNDS(
            "asymptotic bounds",
            "Denning and Buzen, The Operational Analysis of Queueing Network Models, ACM Computing Surveys 1978",
            "nothing; reached if all cores think equally long before every access"),
    MEAN_VALUE_ANALYSIS(
            "mean value analysis",
            "Reiser and Lavenberg, Mean-Value Analysis of Closed Multichain Queuing Networks, JACM 27(2), 1980",
            "service and think times are exponential; all cores alike, without end"),
    MEMORY_STALLS(
            "memory-stall equation",
            "Patterson and Hennessy, Computer Organization and Design, chapter on memory",
            "the stall of an access is the one that theory gives"),
    ROOFLINE(
            "roofline",
            "Williams, Waterman, Patterson, Roofline, CACM 52(4), 2009",
            "work and accesses overlap perfectly; a bound"),
    LOTTERY_SITTING_OUT(
            "lottery, winner sits out",
            "derived: a reversible Markov chain of the winners",
            "every core's request is up at every draw but the one after its own access"),
    LOTTERY_SHARE(
            "lottery share",
            "Waldspurger and Weihl, Lottery Scheduling, OSDI 1994",
            "every core's request is up at every draw"),
    AMDAHL(
            "Amdahl's law",
            "Amdahl, Validity of the Single Processor Approach .., AFIPS 1967; serial part by Karp and Flatt 1990",
            "the serial part stays the same, the rest is split evenly and costs nothing more"),
    GUSTAFSON(
            "Gustafson's law",
            "Gustafson, Reevaluating Amdahl's Law, CACM 31(5), 1988",
            "the parallel part grows with the cores, the serial part stays the same");

    private final String text;
    private final String source;
    private final String assumes;

    Theory(String text, String source, String assumes) {
        this.text = text;
        this.source = source;
        this.assumes = assumes;
    }

    /** Its name. */
    public String text() {
        return text;
    }

    /** Where it is published, or how it is derived. */
    public String source() {
        return source;
    }

    /** What it takes for granted. */
    public String assumes() {
        return assumes;
    }
}
