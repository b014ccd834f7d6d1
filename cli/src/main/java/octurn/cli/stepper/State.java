package octurn.cli.stepper;

import java.util.List;
import java.util.Map;
import octurn.cli.view.Look;
import octurn.run.Alteration;

/**
 * All that a command can change and that can be undone.
 *
 * @param cycle the present one
 * @param look what is looked at
 * @param stops where run comes to rest
 * @param marks bookmarks by name, in the order in which they were set
 * @param alterations changes made by hand
 * @param speed cycles a second when playing
 * @param wanted what was searched for last; empty for nothing
 */
record State(
        long cycle,
        Look look,
        List<Stop> stops,
        Map<String, Long> marks,
        List<Alteration> alterations,
        int speed,
        String wanted) {

    State withCycle(long newCycle) {
        return new State(newCycle, look, stops, marks, alterations, speed, wanted);
    }

    State withLook(Look newLook) {
        return new State(cycle, newLook, stops, marks, alterations, speed, wanted);
    }

    State withStops(List<Stop> newStops) {
        return new State(cycle, look, List.copyOf(newStops), marks, alterations, speed, wanted);
    }

    State withMarks(Map<String, Long> newMarks) {
        return new State(cycle, look, stops, newMarks, alterations, speed, wanted);
    }

    State withAlterations(List<Alteration> newAlterations) {
        return new State(cycle, look, stops, marks, newAlterations, speed, wanted);
    }

    State withSpeed(int newSpeed) {
        return new State(cycle, look, stops, marks, alterations, newSpeed, wanted);
    }

    State withWanted(String newWanted) {
        return new State(cycle, look, stops, marks, alterations, speed, newWanted);
    }
}
