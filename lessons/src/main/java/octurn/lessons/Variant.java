package octurn.lessons;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.text.Normalizer;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

/**
 * The numbers of a lesson that are one student's own.
 *
 * <p>Which of the n choices for a number is a student's: take the name in Unicode form NFC and in lower case, with the
 * blanks around it taken off and those inside made single; then a line feed, the lesson's id, a line feed, and the
 * number's name. The first eight bytes of the SHA-256 (FIPS 180-4) of that in UTF-8, read as an unsigned number with the
 * highest byte first, modulo n, is the choice, from 0. So it stays the same on every machine and in every version, and
 * does not change when the lesson gets other numbers as well.
 *
 * @param student the name as it was given; empty for nobody in particular
 * @param numbers the numbers by name
 */
public record Variant(String student, Map<String, Long> numbers) {

    public Variant {
        numbers = Collections.unmodifiableMap(new LinkedHashMap<>(numbers));
    }

    /** The numbers for nobody in particular: the middle one of each. */
    public static Variant standard(Lesson lesson) {
        return of(lesson, "");
    }

    /** The numbers for a student; for a blank name those for nobody in particular. */
    public static Variant of(Lesson lesson, String student) {
        Map<String, Long> numbers = new LinkedHashMap<>();
        lesson.vary()
                .forEach((name, vary) -> numbers.put(
                        name,
                        student.isBlank()
                                ? vary.standard()
                                : vary.choices().get(choice(student, lesson.id(), name, vary))));
        return new Variant(student, numbers);
    }

    private static int choice(String student, String lesson, String number, Vary vary) {
        String text = canonical(student) + "\n" + lesson + "\n" + number;
        long first =
                ByteBuffer.wrap(sha256(text.getBytes(StandardCharsets.UTF_8))).getLong();
        return (int) Long.remainderUnsigned(first, vary.choices().size());
    }

    private static String canonical(String student) {
        String name = Normalizer.normalize(student, Normalizer.Form.NFC);
        return name.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
    }

    private static byte[] sha256(byte[] bytes) {
        try {
            return MessageDigest.getInstance("SHA-256").digest(bytes);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
