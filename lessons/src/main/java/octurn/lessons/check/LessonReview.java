package octurn.lessons.check;

/** Placeholder. */
public final class LessonReview {
    private LessonReview() {}
}
