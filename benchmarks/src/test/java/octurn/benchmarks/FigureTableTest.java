package octurn.benchmarks;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.Field;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.Param;

/** The rows of the table measure what there is, and the table says what was measured. */
class FigureTableTest {

    static List<Figure> figures() {
        return Figure.ALL;
    }

    @ParameterizedTest
    @MethodSource("figures")
    void figure_itsBenchmark_isThereWithItsParameters(Figure figure) throws ReflectiveOperationException {
        assertThat(figure.benchmark().getMethods())
                .filteredOn(method -> method.isAnnotationPresent(Benchmark.class))
                .extracting("name")
                .contains(figure.method());
        for (Map.Entry<String, String> parameter : figure.parameters().entrySet()) {
            Field field = figure.benchmark().getField(parameter.getKey());
            assertThat(field.isAnnotationPresent(Param.class)).isTrue();
            if (field.getType().isEnum()) {
                assertThat(field.getType().getEnumConstants())
                        .extracting(Object::toString)
                        .contains(parameter.getValue());
            }
        }
    }

    @Test
    void figures_names_areUniqueAndAimsPointBack() {
        Set<String> earlier = new HashSet<>();
        for (Figure figure : Figure.ALL) {
            if (figure.aim().of() != null) {
                assertThat(earlier).contains(figure.aim().of());
            }
            assertThat(earlier.add(figure.name())).as(figure.name()).isTrue();
        }
    }

    @Test
    void table_someFigures_saysEachBesideItsAim() {
        Map<String, Double> figures = Map.of(
                "plain instructions; 8 cores, rotation", 1134.4,
                "fetch, add, post; 8 cores, rotation", 250.0,
                "fetch, add, post; 8 cores, lottery", 125.0,
                "a step back anywhere in 100 million cycles, 256 MB", 50.5,
                "a run's report", 0.0123);

        assertThat(FigureTable.table(figures, "Measured on paper.")).isEqualTo("""
                        | what | measured | aim | reached |
                        |---|--:|--:|---|
                        | plain instructions; 8 cores, rotation | 1,134 million cycles/s | 150 | yes |
                        | fetch, add, post; 8 cores, rotation | 250 million cycles/s | 1,000 | no |
                        | fetch, add, post; 8 cores, lottery | 125 million cycles/s | 125 | yes |
                        | a step back anywhere in 100 million cycles, 256 MB | 50.5 ms at worst | 50.0 | no |
                        | a run's report | 0.0123 ms |  |  |

                        Measured on paper.
                        """);
    }
}
