package octurn.benchmarks;

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

/** What the benchmarks may know: of Octurn only the core. */
class PackageEdgesTest {
    private static final Map<String, List<String>> EDGES =
            Map.of("octurn.benchmarks", List.of(), "octurn.benchmarks.jmh_generated", List.of("octurn.benchmarks"));

    /** What every package may know: the JDK, JMH and the core. */
    private static final List<String> EVERYWHERE = List.of(
            "java..",
            "org.openjdk.jmh..",
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
            "octurn.sweep");

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
