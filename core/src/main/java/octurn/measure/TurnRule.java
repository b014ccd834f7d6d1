package octurn.measure;

/**
 * The rule of turns: how much work can be added before an access, or must be removed, until it changes anything. An
 * access is admitted at the first slot of its core that starts when its request is up, so it moves from one slot to
 * another or not at all. With w the wait of an access, and G the cycles from the core's slot before to the one in which
 * it is admitted (the rotation, if the core has one slot in it):
 *
 * <ul>
 *   <li>up to w cycles of work more before it change nothing that comes after; w+1 cost a turn;
 *   <li>fewer than G-w cycles of work less change nothing; G-w or more win a turn.
 * </ul>
 *
 * <p>The work meant is what the core does between its slot before (or its start) and the access, once for each access.
 * {@code docs/stalls.md} derives the rule and says where it ends.
 *
 * @param freeCycles work that can be added before every access at no cost: the least wait
 * @param leastCycles work to be removed until any access at all is admitted earlier: the least G-w; 0 if no access has a
 *     slot before its own
 * @param everyCycles work to be removed until every access is admitted earlier: the greatest G-w; 0 likewise
 * @param workCycles what there is to remove: cycles between the slot before (or the core's start) and the access
 *     instruction, sleep included
 * @param winnable accesses before which there is enough work for a turn to be won by removing it
 */
public record TurnRule(long freeCycles, long leastCycles, long everyCycles, Spread workCycles, long winnable) {

    /** The same for two access instructions taken together, as one line of several cores. */
    public TurnRule and(TurnRule other) {
        return new TurnRule(
                Math.min(freeCycles, other.freeCycles),
                least(leastCycles, other.leastCycles),
                Math.max(everyCycles, other.everyCycles),
                workCycles.and(other.workCycles),
                winnable + other.winnable);
    }

    private static long least(long one, long other) {
        return one == 0 || other == 0 ? Math.max(one, other) : Math.min(one, other);
    }
}
