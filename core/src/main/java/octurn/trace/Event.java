package octurn.trace;

/**
 * One thing that happened.
 *
 * @param kind which
 * @param cycle from whose beginning on it holds
 * @param core whose, or -1
 * @param a as {@link Kind} says
 * @param b as {@link Kind} says
 */
public record Event(Kind kind, long cycle, int core, long a, long b) {}
