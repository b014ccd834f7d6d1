package octurn.cli.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import octurn.cli.Shell;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

class OutputFileTest {

    @TempDir
    Path folder;

    private Path target;
    private Surroundings surroundings;

    @BeforeEach
    void layOut() {
        target = folder.resolve("report.json");
        surroundings = new Shell().surroundings();
    }

    private List<String> names() throws IOException {
        try (var files = Files.list(folder)) {
            return files.map(file -> file.getFileName().toString()).sorted().toList();
        }
    }

    private OutputFile open() {
        return OutputFile.open(target.toString(), surroundings, List.of());
    }

    @Test
    void write_newFile_appearsWhole() throws IOException {
        try (OutputFile file = open()) {
            assertThat(target).doesNotExist();
            file.write(out -> out.write("all of it".getBytes(StandardCharsets.UTF_8)));
        }
        assertThat(target).hasContent("all of it");
        assertThat(names()).containsExactly("report.json");
    }

    @Test
    void write_thatFailsHalfway_leavesTheOldFile() throws IOException {
        Files.writeString(target, "old");
        try (OutputFile file = open()) {
            assertThatExceptionOfType(Failure.class)
                    .isThrownBy(() -> file.write(out -> {
                        out.write("half".getBytes(StandardCharsets.UTF_8));
                        throw new IOException("no space left");
                    }))
                    .withMessage("%s: no space left", target);
        }
        assertThat(target).hasContent("old");
        assertThat(names()).containsExactly("report.json");
    }

    @Test
    void close_withoutWriting_leavesNothing() throws IOException {
        open().close();
        assertThat(names()).isEmpty();
    }

    /** What the process does when it is told to end. */
    @Test
    void cleanups_whileOpen_leaveNothing() throws IOException {
        OutputFile file = open();
        assertThat(names()).hasSize(1);
        surroundings.cleanups().run();
        assertThat(names()).isEmpty();
        file.close();
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void write_overAFile_keepsItsPermissions() throws IOException {
        Files.writeString(target, "old");
        Files.setPosixFilePermissions(target, PosixFilePermissions.fromString("rw-r-----"));
        try (OutputFile file = open()) {
            file.write(out -> out.write('x'));
        }
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(target)))
                .isEqualTo("rw-r-----");
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void write_toADevice_isDirect() throws IOException {
        try (OutputFile file = OutputFile.open("/dev/null", surroundings, List.of())) {
            file.write(out -> out.write('x'));
        }
        assertThat(Files.isRegularFile(Path.of("/dev/null"))).isFalse();
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void write_toAFullDevice_isAFailure() {
        assertThatExceptionOfType(Failure.class)
                .isThrownBy(() -> {
                    try (OutputFile file = OutputFile.open("/dev/full", surroundings, List.of())) {
                        file.write(out -> out.write('x'));
                    }
                })
                .withMessageContaining("/dev/full: No space left on device");
    }
}
