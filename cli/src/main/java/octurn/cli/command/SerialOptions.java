package octurn.cli.command;

import octurn.cli.process.Failure;
import octurn.signal.SerialFormat;
import org.jspecify.annotations.Nullable;

/** What options say of a serial line. */
final class SerialOptions {

    private SerialOptions() {}

    /** The format of {@code --format}, 8N1 without it. */
    static SerialFormat format(@Nullable String text) {
        return text == null
                ? SerialFormat.USUAL
                : SerialFormat.parse(text)
                        .orElseThrow(() -> new Failure(
                                ("--format: %s is none; right would be 8N1, 7E1, 8O2: data bits 5..9, parity N, O or E,"
                                                + " stop bits 1 or 2")
                                        .formatted(text)));
    }
}
