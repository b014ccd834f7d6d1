package octurn.asm;

import java.util.List;
import java.util.Map;

/**
 * What one section of a program file became: words one after the other in one memory.
 *
 * @param kind which sort of section
 * @param name the image's name; empty for the others
 * @param cores whose private RAM it fills, ascending; empty for the others
 * @param address of its first word: 0 in private RAM; a shared address for the others
 * @param words its words; for an image the count word and then the image's own words
 * @param lines for each word the line of the file that it comes from, from 1; the section's own line for a count word
 * @param code for each word whether the file wrote it as an instruction, not as data
 * @param labels the labels defined in it, in the order of the file, with the address that each stands for: shared
 *     addresses in a shared section, private ones in the others, images among them
 */
public record Block(
        Kind kind,
        String name,
        List<Integer> cores,
        int address,
        int[] words,
        int[] lines,
        boolean[] code,
        Map<String, Integer> labels) {

    /** The sorts of section. */
    public enum Kind {
        CORE,
        SHARED,
        IMAGE
    }
}
