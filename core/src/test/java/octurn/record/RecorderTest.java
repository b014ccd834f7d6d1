package octurn.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.Engines;
import octurn.machine.Trial;
import octurn.reference.RandomPrograms;
import octurn.reference.RandomPrograms.Generated;
import octurn.report.Sentences;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** A recording and nothing else tells the same of a run as the chip itself. */
class RecorderTest {

    private static final String LOOP = """
            core all
                    big   r1, 200000
            more:   add   r2, r2, 3
                    bump  r3, [40]
                    again r1, more
                    halt
            """;

    private record Part(long firstCycle, byte[] bytes) {}

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 300);
    }

    private static Playback play(Recorder recorder, List<Part> parts) {
        Playback playback = new Playback(recorder, parts.get(0).bytes());
        for (Part part : parts.subList(1, parts.size())) {
            playback.block(part.firstCycle(), part.bytes());
        }
        return playback;
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void recording_atAnyCycle_saysWhatTheChipIs(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = Trial.assemble(generated.design(), generated.text());
        Run run = Run.of(program, generated.scenario(), generated.limit(), Engines.FAST.maker());
        run.finish();
        long cycles = run.chip().cycle();
        Random random = new Random(seed);
        long from = seed % 2 == 0 ? 0 : (long) (random.nextDouble() * cycles);
        long to = seed % 3 == 0 ? from + (long) (random.nextDouble() * (cycles - from)) : cycles;

        List<Part> parts = new ArrayList<>();
        Recorder recorder = new Recorder(
                program, generated.scenario(), generated.limit(), (first, bytes) -> parts.add(new Part(first, bytes)));
        recorder.run().runTo(from);
        recorder.begin();
        recorder.run().runTo(to);
        recorder.end();

        Playback playback = play(recorder, parts);
        Sentences sentences = new Sentences(program);
        Run again = Run.of(program, generated.scenario(), generated.limit(), Engines.CLEAR.maker());
        long span = to - from;
        LongStream.concat(LongStream.of(from, to), random.longs(60, from, from + span + 1))
                .sorted()
                .forEach(cycle -> {
                    again.runTo(cycle);
                    playback.moveTo(cycle);
                    assertThat(playback.text())
                            .as("cycle %d of %d..%d, %s", cycle, from, to, generated)
                            .isEqualTo(Playback.text(again.chip(), sentences));
                });
        assertThat(recorder.endCycle()).isEqualTo(to == cycles ? cycles : -1);
    }

    @Test
    void recording_ofALongLoop_isSmall() {
        Program program = Trial.assemble(Design.DEFAULT, LOOP);
        long[] bytes = new long[2];
        Recorder recorder = new Recorder(program, Scenario.QUIET, 1_000_000, (first, part) -> {
            bytes[0] += part.length;
            bytes[1]++;
        });
        recorder.begin();
        recorder.run().finish();
        recorder.end();
        assertThat(recorder.marks()).isGreaterThan(1_000_000);
        assertThat(bytes[1]).isGreaterThan(10);
        assertThat(bytes[0]).as("bytes of %d marks", recorder.marks()).isLessThan(500_000);
    }

    @Test
    void recording_twice_isTheSame() {
        Program program = Trial.assemble(Design.DEFAULT, LOOP);
        List<byte[]> first = new ArrayList<>();
        List<byte[]> second = new ArrayList<>();
        for (List<byte[]> parts : List.of(first, second)) {
            Recorder recorder = new Recorder(program, Scenario.QUIET, 100_000, (cycle, part) -> parts.add(part));
            recorder.begin();
            recorder.run().finish();
            recorder.end();
        }
        assertThat(first).hasSizeGreaterThan(2).usingRecursiveComparison().isEqualTo(second);
    }
}
