package octurn.lessons.value;

import org.jspecify.annotations.Nullable;

/** What the names in an expression stand for. */
public interface Names {

    /**
     * The number of this name, or null if there is none.
     *
     * @throws Unresolved if there should be one and cannot be
     */
    @Nullable
    Double number(String name) throws Unresolved;

    /**
     * The run of this name, or null if there is none.
     *
     * @throws Unresolved if there should be one and it cannot be run
     */
    @Nullable
    Measured run(String name) throws Unresolved;
}
