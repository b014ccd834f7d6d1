package octurn.cli;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.ArchConfiguration;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;

/**
 * Which package of this module may know which. A new edge is a change of this list, for a reviewer to see.
 *
 * <p>Only {@code terminal} knows the terminal library, and only {@code command} the one that reads the command line.
 */
class PackageEdgesTest {
    private static final Map<String, List<String>> EDGES = joined(
            Map.of(
                    "octurn.cli", List.of("octurn.cli.command", "octurn.cli.process"),
                    "octurn.cli.process", List.of("octurn.cli.view", "octurn.lessons.mark"),
                    "octurn.cli.json",
                            List.of("octurn.cli.export", "octurn.json", "octurn.lessons.mark", "tools.jackson.core.."),
                    "octurn.cli.command",
                            List.of(
                                    "octurn.cli.process",
                                    "octurn.cli.json",
                                    "octurn.cli.view",
                                    "octurn.cli.stepper",
                                    "octurn.cli.learn",
                                    "octurn.cli.terminal",
                                    "octurn.cli.export",
                                    "octurn.cli.plot",
                                    "octurn.cli.page",
                                    "octurn.cli.draw",
                                    "octurn.json",
                                    "octurn.lessons",
                                    "octurn.lessons.check",
                                    "octurn.lessons.mark",
                                    "octurn.lessons.pack",
                                    "octurn.lessons.text",
                                    "octurn.lessons.value",
                                    "picocli"),
                    "octurn.cli.man", List.of("octurn.cli.command", "octurn.cli.process", "picocli"),
                    "octurn.cli.view", List.of("octurn.lessons.mark", "octurn.lessons.text"),
                    "octurn.cli.stepper", List.of("octurn.cli.view"),
                    "octurn.cli.terminal", List.of("octurn.cli.view", "octurn.cli.stepper", "org.jline.."),
                    "octurn.cli.export", List.of("octurn.cli.view", "octurn.lessons.mark"),
                    "octurn.cli.plot",
                            List.of(
                                    "octurn.cli.view",
                                    "org.apache.batik.svggen..",
                                    "javax.imageio",
                                    "javax.xml..",
                                    "org.w3c.dom")),
            Map.of(
                    "octurn.cli.page",
                    List.of("octurn.json", "tools.jackson.core.."),
                    "octurn.cli.draw",
                    List.of("octurn.cli.view", "octurn.cli.plot", "javax.imageio", "javax.xml.stream"),
                    "octurn.cli.learn",
                    List.of(
                            "octurn.cli.view",
                            "octurn.cli.stepper",
                            "octurn.json",
                            "octurn.lessons",
                            "octurn.lessons.check",
                            "octurn.lessons.text",
                            "octurn.lessons.value")));

    private static Map<String, List<String>> joined(Map<String, List<String>> some, Map<String, List<String>> others) {
        Map<String, List<String>> all = new TreeMap<>(some);
        all.putAll(others);
        return all;
    }

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
            "octurn.record",
            "octurn.measure",
            "octurn.predict",
            "octurn.compare",
            "octurn.excerpt",
            "octurn.sweep",
            "octurn.signal",
            "octurn.workload");

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
