package octurn.lessons;

import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import octurn.json.Passage;

/** The page {@code docs/concepts.md}: which lesson introduces, uses and examines each concept. */
final class ConceptMap {

    private final Course course;
    private final List<Lesson> lessons;

    ConceptMap(Course course, List<Lesson> lessons) {
        this.course = course;
        this.lessons = lessons;
    }

    String markdown() {
        StringBuilder page = new StringBuilder();
        page.append("""
                # The course, and what it is about

                %d lessons, called *%s*. `octurn learn` opens them. This page is for whoever teaches with them, or looks for the lesson on one thing: it is made from the lessons themselves.

                ## The lessons

                | | lesson | minutes | what one can do after it | needs |
                |---:|---|---:|---|---|
                """.formatted(lessons.size(), course.title()));
        for (int i = 0; i < lessons.size(); i++) {
            Lesson lesson = lessons.get(i);
            page.append("| %d | %s, `%s` | %d | %s | %s |%n"
                    .formatted(
                            i + 1,
                            lesson.title(),
                            lesson.id(),
                            lesson.minutes(),
                            lesson.aim(),
                            lesson.needs().stream()
                                    .map(need -> String.valueOf(course.lessons().indexOf(need.text()) + 1))
                                    .collect(Collectors.joining(", "))));
        }
        page.append("""

                ## The concepts

                By the number of the lesson that introduces each, those that take it for known, and those that examine it with a question or a task.

                | concept | what it is | introduced | used | examined |
                |---|---|---:|---|---|
                """);
        course.concepts()
                .forEach((name, line) -> page.append("| %s | %s | %s | %s | %s |%n"
                        .formatted(
                                name,
                                line,
                                where(name, Lesson::introduces),
                                where(name, Lesson::uses),
                                where(name, Lesson::examines))));
        return page.toString().replace(System.lineSeparator(), "\n");
    }

    private String where(String concept, Function<Lesson, List<Passage>> concepts) {
        return IntStream.range(0, lessons.size())
                .filter(i -> concepts.apply(lessons.get(i)).stream()
                        .anyMatch(one -> one.text().equals(concept)))
                .mapToObj(i -> String.valueOf(i + 1))
                .collect(Collectors.joining(", "));
    }
}
