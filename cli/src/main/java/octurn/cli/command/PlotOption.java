package octurn.cli.command;

import java.util.Locale;
import java.util.function.Supplier;
import octurn.cli.plot.Painter;
import octurn.cli.plot.Picture;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The option {@code --plot} of every command that draws. What draws is loaded only when it is given. */
final class PlotOption {

    @Option(
            names = "--plot",
            paramLabel = "FILE",
            description = "draw it, as FILE.svg (text stays text) or FILE.png, whole or not at all")
    private @Nullable String file;

    /** The file to draw to, or null if none is asked for. */
    @Nullable
    OutputFile open(Surroundings surroundings, @Nullable String... inputs) {
        return open("--plot", file, surroundings, inputs);
    }

    /** The same for another option. */
    @Nullable
    static OutputFile open(
            String option, @Nullable String name, Surroundings surroundings, @Nullable String... inputs) {
        if (name == null) {
            return null;
        }
        if (!isSvg(name) && !name.toLowerCase(Locale.ROOT).endsWith(".png")) {
            throw new Failure("%s: %s is neither *.svg nor *.png".formatted(option, name));
        }
        return OutputFile.open(name, surroundings, RunInputs.given(inputs));
    }

    private static boolean isSvg(String name) {
        return name.toLowerCase(Locale.ROOT).endsWith(".svg");
    }

    /** Draws the picture. */
    void write(OutputFile out, Supplier<Picture> picture) {
        write(out, String.valueOf(file), picture);
    }

    /** Draws the picture to a file of this name. */
    static void write(OutputFile out, String name, Supplier<Picture> picture) {
        out.write(
                stream -> Painter.paint(picture.get(), isSvg(name) ? Painter.Format.SVG : Painter.Format.PNG, stream));
    }
}
