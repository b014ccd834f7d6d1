package octurn.lessons.check;

import static org.assertj.core.api.Assertions.assertThat;

import octurn.lessons.Folder;
import org.junit.jupiter.api.Test;

class LessonReviewTest {

    @Test
    void review_ofALessonInOrder_findsNothing() {
        Folder folder = Folder.twoBeds();
        assertThat(LessonReview.review(folder.accepted(), folder, LessonReview.Around.NOTHING))
                .isEmpty();
    }
}
