package octurn.cli.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

class LessonFolderTest {

    @TempDir
    Path folder;

    private LessonFolder open() {
        return LessonFolder.open(folder.toString());
    }

    private void write(String name, String text) throws IOException {
        Files.writeString(folder.resolve(name), text);
    }

    @Test
    void open_filesAndFolders_areListedInOrder() throws IOException {
        write("z.md", "z");
        write("a.turn", "a");
        Files.createDirectory(folder.resolve("more"));

        LessonFolder opened = open();

        assertThat(opened.names()).containsExactly("a.turn", "z.md");
        assertThat(opened.folders()).containsExactly("more");
        assertThat(opened.read("z.md")).containsExactly('z');
        assertThat(opened.read("y.md")).isNull();
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void open_linksAndOddNames_areNeitherReadNorFollowed() throws Exception {
        Path outside = Files.writeString(Files.createTempFile("outside", ".md"), "secret");
        Files.createSymbolicLink(folder.resolve("link.md"), outside);
        Files.createSymbolicLink(folder.resolve("above"), folder.getParent());
        write("Big Name.md", "x");
        write("con\u001b[2Jtrol.md", "x");
        assertThat(new ProcessBuilder("mkfifo", folder.resolve("pipe.md").toString())
                        .start()
                        .waitFor())
                .isZero();

        LessonFolder opened = open();

        assertThat(opened.names()).isEmpty();
        assertThat(opened.folders()).isEmpty();
        assertThat(opened.others())
                .containsExactlyInAnyOrder("link.md", "above", "Big Name.md", "con\u001b[2Jtrol.md", "pipe.md");
        for (String name : opened.others()) {
            assertThat(opened.read(name)).isNull();
        }
        assertThat(opened.read("../" + outside.getFileName())).isNull();
        Files.delete(outside);
    }

    /** The listing saw a file; before it is read somebody puts a link in its place. */
    @Test
    @DisabledOnOs(OS.WINDOWS)
    void read_linkPutInTheFilesPlace_isNotFollowed() throws IOException {
        write("a.md", "fine");
        LessonFolder opened = open();
        Files.delete(folder.resolve("a.md"));
        Files.createSymbolicLink(folder.resolve("a.md"), Path.of("/etc/hosts"));

        assertThatThrownBy(() -> opened.read("a.md")).isInstanceOf(Failure.class);
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void open_folderReachedByALink_isRead() throws IOException {
        Path real = Files.createDirectory(folder.resolve("real"));
        Files.writeString(real.resolve("a.md"), "a");
        Path link = Files.createSymbolicLink(folder.resolve("way-in"), real);

        assertThat(LessonFolder.open(link.toString()).names()).containsExactly("a.md");
    }

    @Test
    void read_largeFile_isCut() throws IOException {
        Files.write(folder.resolve("large.md"), new byte[3 << 20]);

        assertThat(open().read("large.md")).hasSize(LessonFolder.MOST_BYTES);
    }

    @Test
    void open_tooManyFiles_isRefused() throws IOException {
        for (int i = 0; i <= LessonFolder.MOST_FILES; i++) {
            write(i + ".md", "");
        }

        assertThatThrownBy(this::open).hasMessageContaining("holds more than 500 files");
    }

    @Test
    void open_nothingOrAFile_isToldInOneLine() throws IOException {
        write("a.md", "");
        String file = folder.resolve("a.md").toString();

        assertThatThrownBy(() -> LessonFolder.open(file)).hasMessage(file + ": is no folder");
        assertThatThrownBy(() -> LessonFolder.open(file + "x")).hasMessage(file + "x: there is no such folder");
        assertThatThrownBy(() -> LessonFolder.open("")).hasMessage("a file's name is empty");
        assertThatThrownBy(() -> open().folder("..")).isInstanceOf(Failure.class);
    }
}
