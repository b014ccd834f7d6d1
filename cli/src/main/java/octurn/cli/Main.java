package octurn.cli;

/** Entry point of the {@code octurn} command. */
public final class Main {
    private Main() {}

    /**
     * Runs one command and ends the JVM with its exit code.
     *
     * @param args the command line, without the command's name
     */
    public static void main(String[] args) {
        if (args.length == 1 && args[0].equals("--version")) {
            System.out.println("octurn " + version());
            return;
        }
        if (args.length == 1 && args[0].equals("--help")) {
            System.out.println("Usage: octurn [--help] [--version]");
            return;
        }
        System.err.println("octurn: no such command; try: octurn --help");
        System.exit(2);
    }

    private static String version() {
        String version = Main.class.getPackage().getImplementationVersion();
        return version == null ? "(not packaged)" : version;
    }
}
