package octurn;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaAccess.Predicates.target;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.equivalentTo;
import static com.tngtech.archunit.core.domain.properties.HasName.Predicates.name;
import static com.tngtech.archunit.core.domain.properties.HasOwner.Predicates.With.owner;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.GeneralCodingRules.ACCESS_STANDARD_STREAMS;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static java.util.Map.entry;

import com.tngtech.archunit.ArchConfiguration;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;

/** Which package of the core may know which. A new edge is a change of this list, for a reviewer to see. */
class PackageEdgesTest {
    private static final Map<String, Set<String>> EDGES = Map.ofEntries(
            entry("diag", Set.of()),
            entry("isa", Set.of()),
            entry("design", Set.of()),
            entry("trace", Set.of()),
            entry("arbiter", Set.of("design")),
            entry("asm", Set.of("isa", "design", "diag")),
            entry("machine", Set.of("isa", "design", "arbiter", "trace")),
            entry("run", Set.of("machine", "asm", "design", "trace")),
            entry("report", Set.of("run", "machine", "asm", "design", "isa", "arbiter", "trace")),
            entry("record", Set.of("report", "run", "trace", "machine", "asm", "design", "isa")),
            entry("measure", Set.of("report", "run", "trace", "machine", "asm", "design", "isa")),
            entry("excerpt", Set.of("report", "run", "trace", "machine", "asm", "design")),
            entry("predict", Set.of("measure", "report", "machine", "design", "arbiter")),
            entry("compare", Set.of("predict", "report", "machine", "asm", "design")),
            entry("sweep", Set.of("compare", "report", "run", "asm", "design", "diag", "machine")),
            entry("signal", Set.of("design", "isa", "trace")),
            entry("workload", Set.of("design")));

    /** Of java.base only what computes: no files, streams of bytes, threads or clocks. */
    private static final List<String> JAVA = List.of(
            "java.lang",
            "java.lang.invoke",
            "java.lang.runtime",
            "java.math",
            "java.nio",
            "java.nio.charset",
            "java.util",
            "java.util.function",
            "java.util.regex",
            "java.util.stream",
            "java.util.zip",
            "org.jspecify.annotations");

    /** What else a package may use: the engine writes bytecode with ASM, and makes an instance of what it wrote. */
    private static final Map<String, List<String>> LIBRARIES =
            Map.of("machine", List.of("org.objectweb.asm", "java.lang.reflect"));

    private static final List<String> PACKAGES =
            EDGES.keySet().stream().sorted().toList();

    private static final JavaClasses CORE = importCore();

    @ParameterizedTest
    @FieldSource("PACKAGES")
    void package_dependencies_areListed(String name) {
        String[] known = Stream.of(
                        JAVA.stream(),
                        names(Stream.concat(Stream.of(name), EDGES.get(name).stream())),
                        LIBRARIES.getOrDefault(name, List.of()).stream())
                .flatMap(packages -> packages)
                .toArray(String[]::new);
        classes()
                .that()
                .resideInAPackage("octurn." + name)
                .should()
                .onlyDependOnClassesThat()
                .resideInAnyPackage(known)
                .allowEmptyShould(true)
                .check(CORE);
    }

    @Test
    void classes_all_resideInAListedPackage() {
        classes()
                .should()
                .resideInAnyPackage(names(PACKAGES.stream()).toArray(String[]::new))
                .allowEmptyShould(true)
                .check(CORE);
    }

    @Test
    void packages_dependencies_formNoCycle() {
        slices().matching("octurn.(*)")
                .should()
                .beFreeOfCycles()
                .allowEmptyShould(true)
                .check(CORE);
    }

    @Test
    void classes_all_useOfSystemOnlyArraycopy() {
        noClasses().should(ACCESS_STANDARD_STREAMS).allowEmptyShould(true).check(CORE);
        noClasses()
                .should()
                .callMethodWhere(target(owner(equivalentTo(System.class))).and(not(target(name("arraycopy")))))
                .allowEmptyShould(true)
                .check(CORE);
    }

    private static JavaClasses importCore() {
        // Names are all the rules need; looking up each class of the JDK takes seconds.
        ArchConfiguration.get().setResolveMissingDependenciesFromClassPath(false);
        return new ClassFileImporter().importPath(Path.of("target", "classes"));
    }

    private static Stream<String> names(Stream<String> packages) {
        return packages.map(name -> "octurn." + name);
    }
}
