package octurn.cli.learn;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** Where a student works: files in a folder of their own, and an editor. What goes wrong is told as {@link Refused}. */
public interface Desk {

    /** The file of this name in the student's folder, as the student would type it. */
    String file(String name);

    /** The file's name without its folder. */
    String shortName(String file);

    /** Whether it is there. */
    boolean exists(String file);

    /** Writes a file that is not there yet, whole or not at all. */
    void write(String file, byte[] contents);

    /** What is in a file. */
    byte[] read(String file);

    /** Something that is another whenever the file has been saved anew; null if it is not there. */
    @Nullable
    String stamp(String file);

    /** The command that opens an editor, in words; empty if there is none. */
    List<String> editor();

    /** Lets the student edit the file, and returns when the editor does. */
    void edit(String file);
}
