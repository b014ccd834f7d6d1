package octurn.cli.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

class FolderNameTest {

    @Test
    void of_plainNames_areLeftNearlyAsTheyAre() {
        assertThat(FolderName.of("Ada")).isEqualTo("Ada");
        assertThat(FolderName.of("Ada King 2")).isEqualTo("Ada-King-2");
    }

    @Test
    void of_anyName_isSafeAndToldApart() {
        Set<String> folders = new HashSet<>();
        List<String> names = List.of(
                "..",
                ".",
                "../../etc",
                "a/b",
                "a\\b",
                "\u00c5sa",
                "\u00c4sa",
                "\u001b[2J",
                "CON",
                "x".repeat(80),
                "x".repeat(79),
                "~",
                "-rf",
                " ",
                "a:b",
                "\u6f22");
        for (String name : names) {
            String folder = FolderName.of(name);
            assertThat(folder).matches("[A-Za-z0-9][A-Za-z0-9-]{0,50}");
            folders.add(folder);
        }
        assertThat(folders).hasSize(names.size());
    }
}
