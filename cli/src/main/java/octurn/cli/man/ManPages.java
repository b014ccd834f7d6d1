package octurn.cli.man;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import octurn.cli.command.Commands;
import octurn.cli.process.Surroundings;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.UsageMessageSpec;

/**
 * Writes a manual page for {@code octurn} and for each of its commands, in the macros of man(7), and completion scripts.
 */
public final class ManPages {

    private static final String ROOT = "octurn";

    private ManPages() {}

    /**
     * Writes {@code share/man/man1/*.1} and the completion scripts below a folder.
     *
     * @param args the folder of the distribution
     * @throws IOException if a file cannot be written
     */
    public static void main(String[] args) throws IOException {
        Locale.setDefault(Locale.ROOT);
        CommandLine root = Commands.commandLine(Surroundings.ofProcess());
        Path share = Path.of(args[0], "share");
        write(share.resolve(Path.of("bash-completion", "completions", ROOT)), AutoComplete.bash(ROOT, root));
        for (Map.Entry<String, String> page : pages(root).entrySet()) {
            write(share.resolve(Path.of("man", "man1", page.getKey())), page.getValue());
        }
    }

    private static void write(Path file, String text) throws IOException {
        Files.createDirectories(file.toAbsolutePath().getParent());
        Files.writeString(file, text, StandardCharsets.UTF_8);
    }

    /** All pages by their file's name, as in {@code octurn-run.1}. */
    static Map<String, String> pages(CommandLine root) {
        Map<String, String> pages = new TreeMap<>();
        pages.put(ROOT + ".1", page(root.getCommandSpec(), ROOT));
        addPages(root, ROOT, pages);
        return pages;
    }

    private static void addPages(CommandLine above, String title, Map<String, String> pages) {
        above.getSubcommands().forEach((name, command) -> {
            String own = title + "-" + name;
            pages.put(own + ".1", page(command.getCommandSpec(), own));
            addPages(command, own, pages);
        });
    }

    private static String page(CommandSpec spec, String title) {
        UsageMessageSpec usage = spec.usageMessage();
        StringBuilder page = new StringBuilder();
        page.append(".TH \"%s\" 1 \"\" \"octurn\" \"Octurn\"\n".formatted(title.toUpperCase(Locale.ROOT)));
        String description = String.join(" ", usage.description());
        page.append(".SH NAME\n").append(text(title)).append(" \\- ").append(text(brief(description)));
        page.append("\n.SH SYNOPSIS\n.nf\n");
        for (String line : usage.customSynopsis()) {
            page.append(text(line)).append('\n');
        }
        page.append(".fi\n.SH DESCRIPTION\n").append(text(description)).append('\n');
        if (!spec.subcommands().isEmpty()) {
            page.append(".SH COMMANDS\n");
            spec.subcommands()
                    .forEach((name, command) -> item(
                            page,
                            name,
                            brief(String.join(
                                    " ", command.getCommandSpec().usageMessage().description()))));
        }
        page.append(".SH OPTIONS\n");
        spec.positionalParameters().forEach(argument -> item(page, argument.paramLabel(), description(argument)));
        spec.options().forEach(option -> item(page, names(option), description(option)));
        if (!usage.exitCodeList().isEmpty()) {
            page.append(".SH EXIT STATUS\n");
            usage.exitCodeList().forEach((code, meaning) -> item(page, code, meaning));
        }
        if (usage.footer().length > 0) {
            page.append(".SH NOTES\n.nf\n");
            for (String line : usage.footer()) {
                page.append(text(line)).append('\n');
            }
            page.append(".fi\n");
        }
        return page.toString();
    }

    private static void item(StringBuilder page, String what, String meaning) {
        page.append(".TP\n\\fB")
                .append(escaped(what))
                .append("\\fR\n")
                .append(text(meaning))
                .append('\n');
    }

    private static String names(OptionSpec option) {
        String value = option.arity().max() == 0 ? "" : "=" + option.paramLabel();
        return Arrays.stream(option.names()).collect(Collectors.joining(", ")) + value;
    }

    private static String description(ArgSpec argument) {
        return String.join(" ", argument.description());
    }

    /** The first sentence, as a heading has it: without its full stop. */
    private static String brief(String description) {
        int end = description.indexOf(". ");
        String sentence = end < 0 ? description : description.substring(0, end);
        String bare = sentence.endsWith(".") ? sentence.substring(0, sentence.length() - 1) : sentence;
        return bare.isEmpty() ? bare : bare.substring(0, 1).toLowerCase(Locale.ROOT) + bare.substring(1);
    }

    /** A line of text; one that begins with a point or an apostrophe is no request for the formatter. */
    private static String text(String line) {
        String escaped = escaped(line);
        return escaped.startsWith(".") || escaped.startsWith("'") ? "\\&" + escaped : escaped;
    }

    private static String escaped(String text) {
        return text.replace("\\", "\\e").replace("-", "\\-");
    }
}
