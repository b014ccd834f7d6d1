package octurn.signal;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.trace.Kind;
import octurn.trace.Sink;

/**
 * Keeps the waveforms of some pins of a run.
 *
 * <pre>{@code
 * WaveRecorder recorder = WaveRecorder.of(program.design(), scenario);
 * Run run = Run.of(program, scenario, limit, recorder);
 * run.finish();
 * Waveform wave = recorder.waveform(7, run.chip().cycle());
 * }</pre>
 */
public final class WaveRecorder implements Sink {

    /** The changes of all pins together that are kept where nothing else is said; they take about 50 MB. */
    public static final int DEFAULT_CHANGES = 4_000_000;

    private static final long NEVER = Long.MAX_VALUE;

    private final PinFold fold;
    private final Track[] tracks;
    private final int wanted;
    private final long from;
    private final int limit;
    private final Map<PinState, PinState> known = new HashMap<>();
    private int count;
    private long fullAt = NEVER;

    private static final class Track {
        private long[] cycles = new long[16];
        private int size;
        private final List<PinState> states = new ArrayList<>();

        private void add(long cycle, PinState state) {
            if (size == cycles.length) {
                cycles = Arrays.copyOf(cycles, size * 2);
            }
            cycles[size++] = cycle;
            states.add(state);
        }

        private void replaceLast(PinState state) {
            states.set(size - 1, state);
        }
    }

    /**
     * A recorder of some pins from some cycle on.
     *
     * @param wanted the pins, bit i for pin i
     * @param from what was before this cycle is not kept
     * @param changes how many changes of all these pins together are kept; where they are used up the waveforms end
     */
    public WaveRecorder(Design design, Scenario scenario, int wanted, long from, int changes) {
        this.fold = new PinFold(design, scenario, this::pin);
        this.wanted = wanted;
        this.from = from;
        this.limit = changes;
        this.tracks = new Track[design.pins()];
        for (int i = 0; i < tracks.length; i++) {
            tracks[i] = new Track();
        }
    }

    /** A recorder of all pins from cycle 0 on. */
    public static WaveRecorder of(Design design, Scenario scenario) {
        return new WaveRecorder(design, scenario, design.pinMask(), 0, DEFAULT_CHANGES);
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        fold.event(kind, cycle, core, a, b);
    }

    private void pin(int pin, long cycle, PinState state) {
        if ((wanted >>> pin & 1) == 0 || fullAt != NEVER) {
            return;
        }
        Track track = tracks[pin];
        PinState same = known.computeIfAbsent(state, it -> it);
        if (cycle <= from && track.size > 0) {
            track.replaceLast(same);
        } else if (count == limit) {
            fullAt = cycle;
        } else {
            count++;
            track.add(Math.max(cycle, from), same);
        }
    }

    /** Whether there were more changes than could be kept; the waveforms then end before the run. */
    public boolean isFull() {
        return fullAt != NEVER;
    }

    /**
     * The waveform of one of the wanted pins.
     *
     * @param to the present cycle of the run: the first after the waveform, unless there were too many changes
     * @throws IllegalArgumentException for another pin
     */
    public Waveform waveform(int pin, long to) {
        if (pin < 0 || pin >= tracks.length || (wanted >>> pin & 1) == 0) {
            throw new IllegalArgumentException("pin %d was not recorded".formatted(pin));
        }
        fold.close(to);
        Track track = tracks[pin];
        long end = Math.min(to, fullAt);
        return new Waveform(pin, end, Arrays.copyOf(track.cycles, track.size), List.copyOf(track.states))
                .between(from, end);
    }
}
