package octurn.cli.page;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Objects;
import octurn.asm.Program;
import octurn.design.Scenario;
import octurn.machine.End;
import octurn.record.Recorder;
import octurn.run.Run;

/**
 * A page in the making: it has a run, from which it records what it is told to, and is written at the end.
 *
 * <pre>{@code
 * RunPage page = new RunPage(program, scenario, limit);
 * page.run().runTo(from);
 * page.begin();
 * page.run().runTo(to);
 * page.write(out);
 * }</pre>
 */
public final class RunPage {

    /** What a page takes at the most, in bytes. */
    public static final int MOST_BYTES = 5_000_000;

    /** Changes that a browser goes through in a few seconds, from one end to the other. */
    static final long MOST_MARKS = 1L << 26;

    /** What an instruction takes in the page besides its text, about. */
    private static final int INSTRUCTION_BYTES = 48;

    private static final int PART_BYTES = 24;

    private final Recorder recorder;
    private final PageFacts facts;
    private final String style = resource("page.css");
    private final String script = resource("page.js");
    private final String frame = resource("page.html");

    private final ByteArrayOutputStream recording = new ByteArrayOutputStream();
    private final List<PageFacts.Part> index = new ArrayList<>();
    /** Bytes for whatever is not recorded. */
    private final long fixedBytes;

    private int instructionsCounted;
    private long instructionBytes;
    private long from;
    private long lastThatFits;
    private boolean full;

    /**
     * A page of a run that is at the beginning of cycle 0.
     *
     * @param limit the cycle at which the run ends at the latest
     */
    public RunPage(Program program, Scenario scenario, long limit) {
        this.recorder = new Recorder(program, scenario, limit, this::take);
        this.facts = new PageFacts(recorder, scenario);
        // Facts of a few hundred bytes come in later.
        this.fixedBytes = 1000L + style.length() + script.length() + frame.length() + facts(0).length;
    }

    private static String resource(String name) {
        try (InputStream in = RunPage.class.getResourceAsStream(name)) {
            byte[] bytes = Objects.requireNonNull(in, name).readAllBytes();
            return new String(bytes, StandardCharsets.UTF_8).replace("\r\n", "\n");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The run; to be taken to where the recording begins, and after {@link #begin} on to where it ends. */
    public Run run() {
        return recorder.run();
    }

    /** Begins the recording at the run's present cycle. */
    public void begin() {
        from = run().chip().cycle();
        lastThatFits = from;
        recorder.begin();
    }

    private void take(long firstCycle, byte[] part) {
        if (!full) {
            index.add(new PageFacts.Part(firstCycle, part.length));
            recording.writeBytes(part);
            full = bytes() > MOST_BYTES || recorder.marks() > MOST_MARKS;
            if (full) {
                lastThatFits = Math.max(from, firstCycle - 1);
            }
        }
    }

    /** What the page takes with all that has been recorded so far, at the most. */
    private long bytes() {
        List<Recorder.Instruction> known = recorder.instructions();
        for (; instructionsCounted < known.size(); instructionsCounted++) {
            // Any character may be escaped; the mark of an escaped one takes six.
            instructionBytes +=
                    INSTRUCTION_BYTES + known.get(instructionsCounted).text().length() * 6L;
        }
        long base64 = (recording.size() + 2) / 3 * 4L;
        return fixedBytes + base64 + instructionBytes + (long) PART_BYTES * index.size();
    }

    /** Whether more has been recorded than a page takes; then it cannot be written. */
    public boolean isFull() {
        return full;
    }

    /** When it is full: the last cycle up to which it would not have been. */
    public long lastThatFits() {
        return lastThatFits;
    }

    /** The cycle at which the recording begins. */
    public long from() {
        return from;
    }

    private byte[] facts(long to) {
        ByteArrayOutputStream json = new ByteArrayOutputStream();
        try {
            facts.write(from, to, index, json);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        // In a script element nothing is an escape, and only this character can end it.
        return json.toString(StandardCharsets.UTF_8)
                .replace("<", "\\u003c")
                .strip()
                .getBytes(StandardCharsets.UTF_8);
    }

    /** Ends the recording at the run's present cycle; after that {@link #isFull} is final, and the page can be written. */
    public void end() {
        recorder.end();
    }

    /**
     * Writes the page.
     *
     * @throws IOException if the stream does
     * @throws IllegalStateException if it {@link #isFull}
     */
    public void write(OutputStream out) throws IOException {
        if (full) {
            throw new IllegalStateException("more than a page takes");
        }
        String policy = "default-src 'none'; script-src '%s'; style-src '%s'; base-uri 'none'; form-action 'none'"
                .formatted(hash(script), hash(style));
        String rest = frame;
        for (String name : List.of("policy", "style", "facts", "recording", "script")) {
            int at = rest.indexOf("@" + name + "@");
            out.write(rest.substring(0, at).getBytes(StandardCharsets.UTF_8));
            out.write(
                    switch (name) {
                        case "policy" -> policy.getBytes(StandardCharsets.UTF_8);
                        case "style" -> style.getBytes(StandardCharsets.UTF_8);
                        case "facts" -> facts(run().chip().cycle());
                        case "recording" -> Base64.getEncoder().encode(recording.toByteArray());
                        default -> script.getBytes(StandardCharsets.UTF_8);
                    });
            rest = rest.substring(at + name.length() + 2);
        }
        out.write(rest.getBytes(StandardCharsets.UTF_8));
    }

    /** What a content security policy calls a script or a style by (W3C, Content Security Policy Level 3). */
    private static String hash(String text) {
        try {
            byte[] digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
            return "sha256-" + Base64.getEncoder().encodeToString(digest);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Whether the run was seen to end, so that the page shows its end. */
    public boolean showsTheEnd() {
        End ended = recorder.ended();
        return ended != null && recorder.endCycle() == run().chip().cycle();
    }
}
