package octurn.cli.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import octurn.lessons.mark.Handed;
import octurn.lessons.mark.Item;
import octurn.lessons.mark.Item.Kind;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SubmissionFolderTest {

    @TempDir
    private Path root;

    private Path folder;

    @BeforeEach
    void makeFolder() throws IOException {
        folder = Files.createDirectories(root.resolve("class"));
    }

    private SubmissionFolder open() {
        return SubmissionFolder.open(folder.toString());
    }

    private static Path write(Path file, String text) throws IOException {
        Files.createDirectories(file.getParent());
        return Files.writeString(file, text);
    }

    @Test
    void open_filesAndFolders_areListedByName() throws IOException {
        write(folder.resolve("ben.turn"), "core 0");
        write(folder.resolve("Anna/sub/count.turn"), "core 0");
        assertThat(open().entries()).extracting(Handed::entry).containsExactly("Anna", "ben.turn");
        assertThat(open().entries().get(0).items()).extracting(Item::path).containsExactly("Anna/sub/count.turn");
    }

    @Test
    void open_whatSystemsLeaveBehind_isPassedOver() throws IOException {
        write(folder.resolve(".DS_Store"), "x");
        write(folder.resolve("__MACOSX/x.turn"), "x");
        write(folder.resolve("anna/._count.turn"), "x");
        assertThat(open().ignored()).containsExactly(".DS_Store", "__MACOSX");
        assertThat(open().entries().get(0).items()).isEmpty();
    }

    @Test
    void open_linksAndPipes_areNamedAsSuchAndNotFollowed() throws IOException, InterruptedException {
        Path secret = write(root.resolve("secret"), "core 0");
        Files.createSymbolicLink(folder.resolve("a.turn"), secret);
        Files.createDirectories(folder.resolve("b"));
        Files.createSymbolicLink(folder.resolve("b/up"), Path.of(".."));
        Files.createSymbolicLink(folder.resolve("c"), root);
        assumeTrue(
                Files.isExecutable(Path.of("/usr/bin/mkfifo"))
                        && new ProcessBuilder("mkfifo", folder.resolve("d.turn").toString())
                                        .start()
                                        .waitFor()
                                == 0,
                "mkfifo is missing");
        assertThat(open().entries())
                .extracting(Handed::kind)
                .containsExactly(Kind.LINK, Kind.FOLDER, Kind.LINK, Kind.OTHER);
        assertThat(open().entries().get(1).items()).extracting(Item::kind).containsExactly(Kind.LINK);
    }

    @Test
    void read_aFileThatBecameALink_fails() throws IOException {
        write(folder.resolve("anna.turn"), "core 0");
        SubmissionFolder opened = open();
        Item item = opened.entries().get(0).items().get(0);
        Files.delete(folder.resolve("anna.turn"));
        Files.createSymbolicLink(folder.resolve("anna.turn"), write(root.resolve("secret"), "x"));
        assertThatThrownBy(() -> opened.read(item, 100)).isInstanceOf(IOException.class);
    }

    @Test
    void read_aLargeFile_stopsAtTheLimit() throws IOException {
        write(folder.resolve("anna.turn"), "x".repeat(1000));
        SubmissionFolder opened = open();
        assertThat(opened.read(opened.entries().get(0).items().get(0), 100)).hasSize(100);
    }

    @Test
    void open_foldersInFolders_areLookedIntoOnlySoDeep() throws IOException {
        write(folder.resolve("anna/1/2/3/here.turn"), "x");
        write(folder.resolve("anna/1/2/3/4/not-here.turn"), "x");
        assertThat(open().entries().get(0).items()).extracting(Item::name).containsExactly("here.turn");
    }

    @Test
    void open_whatIsNoFolder_isTold() throws IOException {
        Path file = write(folder.resolve("anna.turn"), "core 0");
        assertThatThrownBy(() -> SubmissionFolder.open(file.toString()))
                .hasMessageEndingWith("anna.turn: is no folder");
        assertThatThrownBy(() -> SubmissionFolder.open(file + "x")).hasMessageEndingWith("there is no such folder");
    }
}
