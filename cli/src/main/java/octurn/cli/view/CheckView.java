package octurn.cli.view;

import java.util.List;
import octurn.asm.Block;
import octurn.asm.Program;

/** What is said of a program without errors. */
public final class CheckView {

    private CheckView() {}

    /** The lines for a program about which there were so many warnings. */
    public static List<Line> lines(Program program, int warnings, Glyphs glyphs) {
        int cores = 0;
        int privateWords = 0;
        int sharedWords = 0;
        for (Block block : program.blocks()) {
            cores += block.cores().size();
            if (block.kind() == Block.Kind.CORE) {
                privateWords += block.words().length;
            } else {
                sharedWords += block.words().length;
            }
        }
        String sizes = "%s, %s private and %s shared words"
                .formatted(counted(cores, "core"), Numbers.grouped(privateWords), Numbers.grouped(sharedWords));
        String found = warnings == 0 ? "no errors" : "no errors, " + counted(warnings, "warning");
        return List.of(Line.of(Ink.STRONG, glyphs.visible(program.name())).and(": %s (%s)".formatted(found, sizes)));
    }

    private static String counted(int number, String noun) {
        return "%s %s%s".formatted(Numbers.grouped(number), noun, number == 1 ? "" : "s");
    }
}
