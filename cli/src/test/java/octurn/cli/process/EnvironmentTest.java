package octurn.cli.process;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;

class EnvironmentTest {

    private static final Path HOME = Path.of("home").toAbsolutePath();

    private static Environment of(String system, Map<String, String> variables) {
        return new Environment(variables, system, HOME, null);
    }

    /** POSIX.1-2017, 8.3: HOME is the user's home folder. */
    @Test
    void home_isThatOfTheEnvironment_orElseOfTheAccount() {
        Path given = Path.of("given").toAbsolutePath();

        assertThat(Environment.home(Map.of("HOME", given.toString()), HOME)).isEqualTo(given);
        assertThat(Environment.home(Map.of(), HOME)).isEqualTo(HOME);
        assertThat(Environment.home(Map.of("HOME", ""), HOME)).isEqualTo(HOME);
        assertThat(Environment.home(Map.of("HOME", "relative"), HOME)).isEqualTo(HOME);
    }

    /** XDG Base Directory Specification 0.8: $XDG_DATA_HOME, or $HOME/.local/share; relative paths are ignored. */
    @Test
    void dataFolder_linux_followsTheXdgSpecification() {
        Path given = Path.of("data").toAbsolutePath();

        assertThat(of("Linux", Map.of()).dataFolder()).isEqualTo(HOME.resolve(".local/share/octurn"));
        assertThat(of("Linux", Map.of("XDG_DATA_HOME", given.toString())).dataFolder())
                .isEqualTo(given.resolve("octurn"));
        assertThat(of("Linux", Map.of("XDG_DATA_HOME", "data")).dataFolder())
                .isEqualTo(HOME.resolve(".local/share/octurn"));
        assertThat(of("Linux", Map.of("XDG_DATA_HOME", "")).dataFolder())
                .isEqualTo(HOME.resolve(".local/share/octurn"));
    }

    @Test
    void dataFolder_otherSystems_isWhereProgramsKeepTheirDataThere() {
        Path roaming = Path.of("roaming").toAbsolutePath();

        assertThat(of("Mac OS X", Map.of()).dataFolder())
                .isEqualTo(
                        HOME.resolve("Library").resolve("Application Support").resolve("octurn"));
        assertThat(of("Windows 11", Map.of("APPDATA", roaming.toString())).dataFolder())
                .isEqualTo(roaming.resolve("octurn"));
        assertThat(of("Windows 11", Map.of()).dataFolder())
                .isEqualTo(HOME.resolve("AppData").resolve("Roaming").resolve("octurn"));
    }

    @Test
    void editor_visualGoesBeforeEditorAndMayHaveOptions() {
        assertThat(of("Linux", Map.of()).editor()).isEmpty();
        assertThat(of("Linux", Map.of("EDITOR", "  ")).editor()).isEmpty();
        assertThat(of("Linux", Map.of("EDITOR", "ed")).editor()).containsExactly("ed");
        assertThat(of("Linux", Map.of("VISUAL", "edit  --wait", "EDITOR", "ed")).editor())
                .containsExactly("edit", "--wait");
    }

    @Test
    void courseFolder_liesBesideTheProgramsArchives() {
        assertThat(of("Linux", Map.of()).courseFolder()).isNull();
        assertThat(new Environment(Map.of(), "Linux", HOME, HOME).courseFolder())
                .isEqualTo(HOME.resolve("lessons").resolve("course"));
    }
}
