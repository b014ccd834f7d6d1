package octurn.lessons.mark;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;

/** Reads when work is due: ISO 8601, as in {@code 2026-03-01}, {@code 2026-03-01T18:00} or {@code ..T18:00+01:00}. */
public final class Due {

    private Due() {}

    /**
     * The moment after which work is late.
     *
     * @param text a date, which ends with its last second; or a date and a time; or both with a distance from UTC
     * @param zone where the first two are meant
     * @throws IllegalArgumentException if it is none of these; the message says what would be right
     */
    public static Instant parse(String text, ZoneId zone) {
        try {
            return OffsetDateTime.parse(text).toInstant();
        } catch (DateTimeParseException e) {
            // One of the others, perhaps.
        }
        try {
            return LocalDateTime.parse(text).atZone(zone).toInstant();
        } catch (DateTimeParseException e) {
            // A date, perhaps.
        }
        try {
            return LocalDate.parse(text).atTime(LocalTime.MAX).atZone(zone).toInstant();
        } catch (DateTimeParseException e) {
            throw new IllegalArgumentException(
                    "%s is no time; right would be 2026-03-01, 2026-03-01T18:00 or 2026-03-01T18:00+01:00"
                            .formatted(text),
                    e);
        }
    }
}
