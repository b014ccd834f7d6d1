package octurn.cli.export;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A value change dump as a strict reader sees it: the grammar of IEEE 1364-2005, clause 18, written down as a checker.
 * Beyond the standard it wants times to ascend, every change to change something, and one line for each thing, so that
 * a slip of the writer cannot hide.
 */
final class VcdFile {

    private static final Pattern TIMESCALE = Pattern.compile("\\$timescale (1|10|100) (s|ms|us|ns|ps|fs) \\$end");
    private static final Pattern SCOPE =
            Pattern.compile("\\$scope (begin|fork|function|module|task) ([A-Za-z_]\\w*) \\$end");
    private static final Pattern VARIABLE = Pattern.compile(
            "\\$var (event|integer|parameter|real|reg|supply0|supply1|time|tri|triand|trior|trireg|tri0|tri1|wand|wire|wor)"
                    + " ([1-9]\\d*) ([!-~]+) ([A-Za-z_]\\w*)(?: \\[(\\d+):0\\])? \\$end");
    private static final Pattern COMMENT = Pattern.compile("\\$(comment|date|version) [^$\\p{Cntrl}]*\\$end");
    private static final Pattern TIME = Pattern.compile("#(0|[1-9]\\d*)");
    private static final Pattern SCALAR = Pattern.compile("([01xz])([!-~]+)");
    private static final Pattern VECTOR = Pattern.compile("b([01xz]+) ([!-~]+)");
    /** Words of the language (IEEE 1364-2005, annex B) that someone might take for a signal's name. */
    private static final Set<String> KEYWORDS = Set.of(
            "wait", "task", "event", "time", "release", "force", "repeat", "begin", "end", "case", "wire", "reg");

    /** A declared variable: its full name and its width. */
    private record Variable(String name, int width) {}

    private final Map<String, Variable> byCode = new LinkedHashMap<>();
    private final Map<String, NavigableMap<Long, String>> values = new HashMap<>();
    private final List<String> changes = new ArrayList<>();
    private final Map<String, String> last = new HashMap<>();
    private String unit = "";
    private long end = -1;

    private VcdFile() {}

    /**
     * Reads a file.
     *
     * @throws AssertionError at the first line that is not as it must be
     */
    static VcdFile read(String text) {
        VcdFile file = new VcdFile();
        if (!text.endsWith("\n") || text.contains("\r")) {
            throw new AssertionError("lines do not end in LF alone");
        }
        List<String> lines = text.lines().toList();
        int next = file.declarations(lines);
        file.simulation(lines, next);
        return file;
    }

    private int declarations(List<String> lines) {
        List<String> scopes = new ArrayList<>();
        Set<String> names = new HashSet<>();
        for (int i = 0; i < lines.size(); i++) {
            String line = lines.get(i);
            Matcher timescale = TIMESCALE.matcher(line);
            Matcher scope = SCOPE.matcher(line);
            Matcher variable = VARIABLE.matcher(line);
            if (line.equals("$enddefinitions $end")) {
                require(scopes.isEmpty(), i, "a scope is open");
                require(!unit.isEmpty(), i, "no timescale");
                return i + 1;
            } else if (timescale.matches()) {
                require(unit.isEmpty(), i, "a second timescale");
                unit = timescale.group(1) + " " + timescale.group(2);
            } else if (scope.matches()) {
                scopes.add(scope.group(2));
            } else if (line.equals("$upscope $end")) {
                require(!scopes.isEmpty(), i, "no scope is open");
                scopes.remove(scopes.size() - 1);
            } else if (variable.matches()) {
                int width = Integer.parseInt(variable.group(2));
                String top = variable.group(5);
                require(width == (top == null ? 1 : Integer.parseInt(top) + 1), i, "width and range differ");
                require(!scopes.isEmpty(), i, "a variable outside all scopes");
                require(!KEYWORDS.contains(variable.group(4)), i, "a word of the language");
                String name = String.join(".", scopes) + "." + variable.group(4);
                require(names.add(name), i, "declared twice");
                require(byCode.put(variable.group(3), new Variable(name, width)) == null, i, "code used twice");
                values.put(name, new TreeMap<>());
            } else {
                require(COMMENT.matcher(line).matches(), i, "no declaration: " + line);
            }
        }
        throw new AssertionError("no $enddefinitions");
    }

    private void simulation(List<String> lines, int first) {
        long time = -1;
        boolean inDump = false;
        boolean dumped = false;
        Set<String> inThisTime = new HashSet<>();
        for (int i = first; i < lines.size(); i++) {
            String line = lines.get(i);
            Matcher stamp = TIME.matcher(line);
            if (stamp.matches()) {
                long next = Long.parseLong(stamp.group(1));
                require(!inDump && next > time, i, "time goes back or stands still");
                time = next;
                inThisTime.clear();
            } else if (line.equals("$dumpvars")) {
                require(!dumped && time >= 0, i, "$dumpvars here");
                dumped = true;
                inDump = true;
            } else if (line.equals("$end")) {
                require(inDump, i, "$end of nothing");
                require(last.size() == byCode.size(), i, "not all values are given");
                inDump = false;
            } else {
                require(dumped, i, "a change before all values were given");
                change(line, time, i, inThisTime);
            }
        }
        require(dumped && !inDump, lines.size(), "the end");
        end = time;
    }

    private void change(String line, long time, int i, Set<String> inThisTime) {
        Matcher scalar = SCALAR.matcher(line);
        Matcher vector = VECTOR.matcher(line);
        boolean isVector = vector.matches();
        require(isVector || scalar.matches(), i, "no value change: " + line);
        String code = isVector ? vector.group(2) : scalar.group(2);
        Variable variable = byCode.get(code);
        if (variable == null) {
            throw new AssertionError("line %d: no such variable: %s".formatted(i + 1, line));
        }
        require(isVector == (variable.width > 1), i, "a vector for a scalar, or the other way round");
        String value = isVector ? vector.group(1) : scalar.group(1);
        require(value.length() <= variable.width, i, "wider than declared");
        if (isVector) {
            require(!value.matches("(0[01]|xx|zz).*"), i, "not the shortest form");
        }
        require(inThisTime.add(code), i, "changes twice at one time");
        require(!value.equals(last.put(code, value)), i, "changes nothing");
        NavigableMap<Long, String> track = values.get(variable.name);
        if (track != null) {
            track.put(time, filled(value, variable.width));
        }
        changes.add(time + " " + variable.name + " " + filled(value, variable.width));
    }

    /** What is missing on the left is 0, or what stands leftmost if that is x or z. */
    private static String filled(String value, int width) {
        char first = value.charAt(0) == '1' ? '0' : value.charAt(0);
        return String.valueOf(first).repeat(width - value.length()) + value;
    }

    private static void require(boolean holds, int line, String what) {
        if (!holds) {
            throw new AssertionError("line %d: %s".formatted(line + 1, what));
        }
    }

    /** The unit of time, as {@code 10 ns}. */
    String unit() {
        return unit;
    }

    /** The last time in the file. */
    long end() {
        return end;
    }

    /** The names of all variables, with their scopes. */
    Set<String> names() {
        return values.keySet();
    }

    /** All changes, in order: time, name, value with all of its digits. */
    List<String> changes() {
        return changes;
    }

    /** The value of a variable at a time, all of its digits. */
    String at(String name, long time) {
        NavigableMap<Long, String> track = values.get(name);
        Map.Entry<Long, String> entry = track == null ? null : track.floorEntry(time);
        if (entry == null) {
            throw new AssertionError("no value of %s at %d".formatted(name, time));
        }
        return entry.getValue();
    }

    /** The same as an unsigned number. */
    long number(String name, long time) {
        return Long.parseUnsignedLong(at(name, time), 2);
    }
}
