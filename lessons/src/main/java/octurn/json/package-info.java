/**
 * Designs, scenarios and run reports as JSON (RFC 8259), and what readers of other forms need for theirs: {@code Document},
 * {@code Fields}, {@code Problems}, and {@code Passage}, a text that knows its place.
 *
 * <p>In: a file's name and bytes, or a record of core. Out: that record or everything that is wrong with the file
 * ({@link octurn.json.Reading}), or bytes to a stream. Reading is in three steps: bytes to text
 * ({@code SourceText}), text to values that know their place ({@code JsonTree}, the only reader that uses Jackson),
 * values to records ({@code DesignReader}, {@code ScenarioReader}). It opens no file and knows no terminal.
 */
@NullMarked
package octurn.json;

import org.jspecify.annotations.NullMarked;
