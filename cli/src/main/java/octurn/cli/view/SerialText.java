package octurn.cli.view;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import octurn.signal.SerialDecoder;
import octurn.signal.SerialFrame;
import octurn.signal.SerialReading;

/** What was read off a serial line, in words. */
public final class SerialText {

    private static final int MOST_FLAWS = 20;
    private static final int MOST_TEXT = 4000;

    private SerialText() {}

    /** How it was read, the bytes as text between quotes, how many there are, and those with a flaw, one by one. */
    public static List<String> lines(SerialReading reading, long clockHertz, Glyphs glyphs) {
        List<String> lines = new ArrayList<>();
        lines.add("%s, %s cycles a bit = %s baud, %s"
                .formatted(
                        reading.format().text(),
                        Numbers.groupedSignificant(reading.cyclesPerBit(), 8),
                        Numbers.significant(clockHertz / reading.cyclesPerBit(), 6),
                        reading.origin().text()));
        bytes(lines, reading.frames(), glyphs);
        return lines;
    }

    private static void bytes(List<String> lines, List<SerialFrame> frames, Glyphs glyphs) {
        List<SerialFrame> flawed =
                frames.stream().filter(frame -> !frame.isGood()).toList();
        if (frames.isEmpty()) {
            lines.add("No byte: the line never falls from rest for half a bit.");
            return;
        }
        lines.add('"' + text(frames, glyphs) + '"');
        lines.add("%s byte%s, %s"
                .formatted(
                        Numbers.grouped(frames.size()),
                        frames.size() == 1 ? "" : "s",
                        flawed.isEmpty() ? "all good" : Numbers.grouped(flawed.size()) + " not good, left out above"));
        for (SerialFrame frame : flawed.subList(0, Math.min(MOST_FLAWS, flawed.size()))) {
            lines.add("cycle %s: %s, read as %d (0x%02X)"
                    .formatted(Numbers.grouped(frame.cycle()), frame.flaw().text(), frame.value(), frame.value()));
        }
        if (flawed.size() > MOST_FLAWS) {
            lines.add("and %s more".formatted(Numbers.grouped(flawed.size() - MOST_FLAWS)));
        }
    }

    /** UTF-8 if it is, with escapes as in programs; else byte by byte. */
    private static String text(List<SerialFrame> frames, Glyphs glyphs) {
        byte[] bytes = SerialDecoder.bytes(frames);
        boolean wide = frames.stream().anyMatch(frame -> frame.isGood() && frame.value() > 255);
        StringBuilder text = new StringBuilder();
        try {
            if (wide) {
                throw new CharacterCodingException();
            }
            String decoded = StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes))
                    .toString();
            text.append(decoded.replace("\\", "\\\\")
                    .replace("\"", "\\\"")
                    .replace("\n", "\\n")
                    .replace("\r", "\\r")
                    .replace("\t", "\\t"));
        } catch (CharacterCodingException e) {
            for (SerialFrame frame : frames) {
                if (frame.isGood()) {
                    boolean plain = frame.value() >= ' ' && frame.value() <= '~';
                    text.append(plain ? Character.toString(frame.value()) : "\\x%02X".formatted(frame.value()));
                }
            }
        }
        return glyphs.cut(glyphs.visible(text.toString()), MOST_TEXT);
    }
}
