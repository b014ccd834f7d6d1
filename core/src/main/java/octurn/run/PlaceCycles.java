package octurn.run;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * The cycles that each core has spent on each of its instructions so far: from the end of the one before to its own end,
 * waits and the fetching of its code included. Only instructions that have finished are counted.
 */
public final class PlaceCycles implements Sink {

    private static final int PAGE = 64;
    private static final int PAGE_BYTES = 8 * PAGE + 64;

    private final int privatePages;
    private final long[] since;
    /** By core, then by private and after that by shared address; null where there is nothing to count. */
    private final @Nullable Page[][] pages;
    /** The pages that there are. */
    private final List<Page> used = new ArrayList<>();

    PlaceCycles(int cores, int privateWords, int sharedWords) {
        since = new long[cores];
        privatePages = pages(privateWords);
        pages = new @Nullable Page[cores][privatePages + pages(sharedWords)];
    }

    private static int pages(int words) {
        return (words + PAGE - 1) / PAGE;
    }

    private int page(boolean inShared, int address) {
        return (inShared ? privatePages : 0) + address / PAGE;
    }

    /** The cycles of one core's instruction at this address, which is inside that memory. */
    public long cycles(int core, boolean inShared, int address) {
        Page page = pages[core][page(inShared, address)];
        return page == null ? 0 : page.cycles[address % PAGE];
    }

    /** The cycle at which a core's instruction under way began to count. */
    public long since(int core) {
        return since[core];
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        switch (kind) {
            case FINISH -> {
                add(core, page(Kind.inShared(a), Kind.address(a)), Kind.address(a) % PAGE, cycle - since[core]);
                since[core] = cycle;
            }
            case START, LOADING -> since[core] = cycle;
            default -> {
                // Not the end of an instruction.
            }
        }
    }

    private void add(int core, int number, int place, long cycles) {
        Page page = pages[core][number];
        if (page == null) {
            page = new Page(core, number, new long[PAGE]);
            pages[core][number] = page;
            used.add(page);
        }
        page.cycles[place] += cycles;
    }

    /** A copy of all of this; pages that are the same as in an earlier copy are shared with it. */
    Saved save(@Nullable Saved before) {
        List<Page> copies = new ArrayList<>(used.size());
        for (int i = 0; i < used.size(); i++) {
            Page page = used.get(i);
            Page old = before != null && i < before.pages.size() ? before.pages.get(i) : null;
            boolean same = old != null
                    && old.core == page.core
                    && old.number == page.number
                    && Arrays.equals(old.cycles, page.cycles);
            copies.add(same ? old : new Page(page.core, page.number, page.cycles.clone()));
        }
        return new Saved(since.clone(), copies);
    }

    void restore(Saved saved) {
        System.arraycopy(saved.since, 0, since, 0, since.length);
        for (Page page : used) {
            pages[page.core][page.number] = null;
        }
        used.clear();
        for (Page page : saved.pages) {
            Page copy = new Page(page.core, page.number, page.cycles.clone());
            pages[page.core][page.number] = copy;
            used.add(copy);
        }
    }

    /** The counts at one moment, kept. */
    static final class Saved {
        private final long[] since;
        private final List<Page> pages;

        private Saved(long[] since, List<Page> pages) {
            this.since = since;
            this.pages = pages;
        }

        /** Counts a keeper; returns about how many bytes more are kept in memory. */
        long keep() {
            long bytes = 8L * since.length + 4L * pages.size();
            for (Page page : pages) {
                if (page.keepers++ == 0) {
                    bytes += PAGE_BYTES;
                }
            }
            return bytes;
        }

        /** Takes back one {@link #keep}; returns about how many bytes less are kept. */
        long letGo() {
            long bytes = 8L * since.length + 4L * pages.size();
            for (Page page : pages) {
                if (--page.keepers == 0) {
                    bytes += PAGE_BYTES;
                }
            }
            return bytes;
        }
    }

    private static final class Page {
        private final int core;
        private final int number;
        private final long[] cycles;
        private int keepers;

        private Page(int core, int number, long[] cycles) {
            this.core = core;
            this.number = number;
            this.cycles = cycles;
        }
    }
}
