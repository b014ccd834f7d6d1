package octurn.cli.export;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;
import octurn.cli.view.Glyphs;

/**
 * A page of HTML, written from top to bottom. Whatever comes from outside goes through {@link #text}, where it can become
 * neither markup nor anything that changes how its surroundings are shown.
 */
final class Markup {

    private static final Glyphs GLYPHS = new Glyphs(StandardCharsets.UTF_8);

    private static final String STYLE = resource("marks.css");

    private final StringBuilder html = new StringBuilder();

    /** A page with its head; the body is open. */
    static Markup page(String title) {
        Markup page = new Markup();
        page.html.append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        // The page loads nothing and runs nothing; of styles only this one counts.
        page.html
                .append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-")
                .append(hash(STYLE))
                .append("'; base-uri 'none'; form-action 'none'\">\n");
        page.html.append("<meta name=\"referrer\" content=\"no-referrer\">\n");
        page.html.append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        page.html.append("<meta name=\"color-scheme\" content=\"light dark\">\n<title>");
        page.text(title).html.append("</title>\n<style>").append(STYLE).append("</style>\n</head>\n<body>\n<main>\n");
        return page;
    }

    /** The page with its end. */
    String end() {
        return html + "</main>\n</body>\n</html>\n";
    }

    /** Markup of ours. */
    Markup raw(String markup) {
        html.append(markup);
        return this;
    }

    /** Text, from wherever it comes. */
    Markup text(String text) {
        String visible = GLYPHS.visible(text);
        for (int i = 0; i < visible.length(); i++) {
            char c = visible.charAt(i);
            switch (c) {
                case '&' -> html.append("&amp;");
                case '<' -> html.append("&lt;");
                case '>' -> html.append("&gt;");
                case '"' -> html.append("&quot;");
                case '\'' -> html.append("&#39;");
                default -> html.append(c);
            }
        }
        return this;
    }

    /** A text in an element of its own. */
    Markup element(String tag, String text) {
        html.append('<').append(tag).append('>');
        text(text);
        int end = tag.indexOf(' ');
        html.append("</").append(end < 0 ? tag : tag.substring(0, end)).append('>');
        return this;
    }

    /** A name, whichever way it is written, so that it does not turn the text around it. */
    Markup name(String name) {
        return element("bdi", name);
    }

    private static String hash(String style) {
        try {
            byte[] hash = MessageDigest.getInstance("SHA-256").digest(style.getBytes(StandardCharsets.UTF_8));
            return Base64.getEncoder().encodeToString(hash);
        } catch (NoSuchAlgorithmException e) {
            // Every Java platform has it.
            throw new IllegalStateException(e);
        }
    }

    private static String resource(String name) {
        try (InputStream in = Markup.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException("missing: " + name);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }
}
