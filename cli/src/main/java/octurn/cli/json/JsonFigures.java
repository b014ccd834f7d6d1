package octurn.cli.json;

import java.math.BigDecimal;
import java.math.MathContext;
import octurn.measure.Spread;
import tools.jackson.core.JsonGenerator;

/** Numbers as all forms of ours write them. */
final class JsonFigures {

    private static final MathContext NINE_DIGITS = new MathContext(9);

    private JsonFigures() {}

    /** Nine digits are more than anybody needs, and the same on every Java; null for what is no number. */
    static void number(String name, double number, JsonGenerator json) {
        if (Double.isFinite(number)) {
            json.writeNumberProperty(name, rounded(number));
        } else {
            json.writeNullProperty(name);
        }
    }

    /** A number with nine digits. */
    static BigDecimal rounded(double number) {
        BigDecimal rounded = new BigDecimal(number).round(NINE_DIGITS).stripTrailingZeros();
        return rounded.scale() < 0 ? rounded.setScale(0) : rounded;
    }

    /** Count, sum, least and greatest; the last two null of nothing. */
    static void spread(String name, Spread spread, JsonGenerator json) {
        json.writeObjectPropertyStart(name);
        json.writeNumberProperty("count", spread.count());
        json.writeNumberProperty("total", spread.total());
        if (spread.count() == 0) {
            json.writeNullProperty("min");
            json.writeNullProperty("max");
        } else {
            json.writeNumberProperty("min", spread.min());
            json.writeNumberProperty("max", spread.max());
        }
        json.writeEndObject();
    }

    /** A line of the program; null where there is none. */
    static void line(String name, int line, JsonGenerator json) {
        if (line == 0) {
            json.writeNullProperty(name);
        } else {
            json.writeNumberProperty(name, line);
        }
    }

    static String memory(boolean inShared) {
        return inShared ? "shared" : "private";
    }
}
