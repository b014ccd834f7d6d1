/**
 * The pages in {@code docs} held to their word. Fenced blocks are live, told apart by their info strings:
 *
 * <ul>
 *   <li>{@code turn} is a program; {@code turn limit 10} one with a cycle limit; {@code turn wrong} one with mistakes;
 *       {@code turn NAME.turn} the text of that file in {@code lessons/programs};
 *   <li>{@code json design} and {@code json scenario} give the next program, or the one above, a chip or a world;
 *       {@code json design standard} is the standard chip in full;
 *   <li>{@code result} lists fields of the report, {@code json report} shows a part of it, {@code lanes} draws cores;
 *   <li>{@code sums} are computed again; {@code java} stands in a test of {@code core}.
 * </ul>
 */
@NullMarked
package octurn.docs;

import org.jspecify.annotations.NullMarked;
