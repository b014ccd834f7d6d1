package octurn.lessons;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.ArchConfiguration;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;

/** Which package of this module may know which. A new edge is a change of this list, for a reviewer to see. */
class PackageEdgesTest {
    private static final Map<String, List<String>> EDGES = Map.of(
            "octurn.json", List.of("tools.jackson.core.."),
            "octurn.lessons", List.of("octurn.json", "octurn.lessons.text", "octurn.lessons.value"),
            "octurn.lessons.check",
                    List.of("octurn.json", "octurn.lessons", "octurn.lessons.text", "octurn.lessons.value"),
            "octurn.lessons.mark",
                    List.of(
                            "octurn.json",
                            "octurn.lessons",
                            "octurn.lessons.check",
                            "octurn.lessons.text",
                            "octurn.lessons.value"),
            "octurn.lessons.pack", List.of("octurn.json"),
            "octurn.lessons.text", List.of("octurn.json", "octurn.lessons.value", "org.commonmark.."),
            "octurn.lessons.value", List.of("octurn.json"));

    /** What every package may know: the JDK and the core. */
    private static final List<String> EVERYWHERE = List.of(
            "java..",
            "org.jspecify.annotations",
            "octurn.diag",
            "octurn.isa",
            "octurn.design",
            "octurn.arbiter",
            "octurn.trace",
            "octurn.asm",
            "octurn.machine",
            "octurn.run",
            "octurn.report",
            "octurn.measure",
            "octurn.signal");

    private static final List<String> PACKAGES =
            EDGES.keySet().stream().sorted().toList();

    private static final JavaClasses MODULE = importModule();

    @ParameterizedTest
    @FieldSource("PACKAGES")
    void package_dependencies_areListed(String name) {
        String[] known = Stream.of(EVERYWHERE, List.of(name), EDGES.get(name))
                .flatMap(List::stream)
                .toArray(String[]::new);
        classes()
                .that()
                .resideInAPackage(name)
                .should()
                .onlyDependOnClassesThat()
                .resideInAnyPackage(known)
                .allowEmptyShould(true)
                .check(MODULE);
    }

    @Test
    void classes_all_resideInAListedPackage() {
        classes()
                .should()
                .resideInAnyPackage(PACKAGES.toArray(String[]::new))
                .allowEmptyShould(true)
                .check(MODULE);
    }

    @Test
    void packages_dependencies_formNoCycle() {
        slices().matching("octurn.(**)")
                .should()
                .beFreeOfCycles()
                .allowEmptyShould(true)
                .check(MODULE);
    }

    private static JavaClasses importModule() {
        // Names are all the rules need; looking up each class of the JDK takes seconds.
        ArchConfiguration.get().setResolveMissingDependenciesFromClassPath(false);
        return new ClassFileImporter().importPath(Path.of("target", "classes"));
    }
}
