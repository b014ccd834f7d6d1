package octurn.cli.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

/**
 * A headless Chromium with one page, driven over its DevTools protocol. It notes all that a page should not do: errors,
 * breaches of its content security policy, requests for anything but itself.
 */
final class Browser implements AutoCloseable {

    private static final long PATIENCE_SECONDS = 60;
    private static final ObjectMapper JSON = new ObjectMapper();

    private final Process process;
    private final Path profile;
    private final WebSocket socket;
    private final BlockingQueue<JsonNode> messages = new LinkedBlockingQueue<>();
    private final List<String> troubles = new ArrayList<>();
    private final List<String> requests = new ArrayList<>();
    private int lastId;
    private String session = "";

    private Browser(Process process, Path profile, String address) {
        this.process = process;
        this.profile = profile;
        this.socket = HttpClient.newHttpClient()
                .newWebSocketBuilder()
                .buildAsync(URI.create(address), new Listener())
                .join();
    }

    /** Whole messages, as they come in. */
    private final class Listener implements WebSocket.Listener {
        private final StringBuilder text = new StringBuilder();

        @Override
        public @Nullable CompletionStage<?> onText(WebSocket from, CharSequence part, boolean last) {
            text.append(part);
            if (last) {
                messages.add(JSON.readTree(text.toString()));
                text.setLength(0);
            }
            from.request(1);
            return null;
        }
    }

    private static @Nullable Path program() {
        for (String folder : System.getenv("PATH").split(File.pathSeparator, -1)) {
            for (String name : List.of("chromium", "chromium-browser", "google-chrome")) {
                Path file = Path.of(folder).resolve(name);
                if (Files.isExecutable(file)) {
                    return file;
                }
            }
        }
        return null;
    }

    /** Starts one; where there is none the test is skipped, but in continuous integration it fails. */
    static Browser start() throws IOException, InterruptedException {
        Path program = program();
        if (program == null && "true".equals(System.getenv("CI"))) {
            throw new AssertionError("Chromium is missing: .ci/run installs it");
        }
        assumeTrue(program != null, "needs Chromium on the PATH (Debian: apt-get install chromium)");
        Path profile = Files.createTempDirectory("octurn-browser");
        Process process = new ProcessBuilder(
                        String.valueOf(program),
                        "--headless=new",
                        "--no-sandbox",
                        "--disable-gpu",
                        "--disable-dev-shm-usage",
                        "--no-first-run",
                        "--remote-debugging-port=0",
                        "--user-data-dir=" + profile,
                        "about:blank")
                .redirectErrorStream(true)
                .redirectOutput(profile.resolve("output.txt").toFile())
                .start();
        Path port = profile.resolve("DevToolsActivePort");
        for (long i = 0; i < PATIENCE_SECONDS * 20 && (!Files.exists(port) || Files.size(port) < 10); i++) {
            if (!process.isAlive()) {
                break;
            }
            Thread.sleep(50);
        }
        if (!Files.exists(port)) {
            throw new AssertionError("Chromium does not start: " + Files.readString(profile.resolve("output.txt")));
        }
        List<String> lines = Files.readAllLines(port);
        Browser browser = new Browser(process, profile, "ws://127.0.0.1:" + lines.get(0) + lines.get(1));
        JsonNode target = browser.send("Target.createTarget", Map.of("url", "about:blank"));
        browser.session = browser.send(
                        "Target.attachToTarget",
                        Map.of("targetId", target.get("targetId").asString(), "flatten", true))
                .get("sessionId")
                .asString();
        for (String domain : List.of("Page", "Runtime", "Log", "Network", "Accessibility")) {
            browser.send(domain + ".enable", Map.of());
        }
        browser.size(1280, 1000);
        return browser;
    }

    /** Sends a command and waits for its answer. */
    JsonNode send(String method, Map<String, ?> parameters) {
        int id = ++lastId;
        Map<String, Object> message = session.isEmpty()
                ? Map.of("id", id, "method", method, "params", parameters)
                : Map.of("id", id, "method", method, "params", parameters, "sessionId", session);
        socket.sendText(JSON.writeValueAsString(message), true).join();
        while (true) {
            JsonNode answer = next(method);
            if (answer.path("id").asInt(0) == id) {
                assertThat(answer.has("error"))
                        .as("%s: %s", method, answer.get("error"))
                        .isFalse();
                return answer.get("result");
            }
        }
    }

    private JsonNode next(String waitingFor) {
        try {
            JsonNode message = messages.poll(PATIENCE_SECONDS, TimeUnit.SECONDS);
            if (message == null) {
                throw new AssertionError("no answer to " + waitingFor);
            }
            note(message);
            return message;
        } catch (InterruptedException e) {
            throw new AssertionError(e);
        }
    }

    private void note(JsonNode message) {
        JsonNode parameters = message.path("params");
        switch (message.path("method").asString("")) {
            case "Runtime.exceptionThrown", "Log.entryAdded" -> troubles.add(parameters.toString());
            case "Runtime.consoleAPICalled" -> troubles.add(parameters.toString());
            case "Network.requestWillBeSent" ->
                requests.add(parameters.get("request").get("url").asString());
            default -> {
                // Of no interest.
            }
        }
    }

    /** Opens a file and waits until it is loaded. */
    void open(Path file) {
        troubles.clear();
        requests.clear();
        send("Page.navigate", Map.of("url", file.toUri().toString()));
        while (!next("the page").path("method").asString("").equals("Page.loadEventFired")) {
            // Others come before.
        }
    }

    void size(int width, int height) {
        send(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", false));
    }

    /** What an expression is worth; a promise is waited for. */
    JsonNode evaluate(String expression) {
        JsonNode result =
                send("Runtime.evaluate", Map.of("expression", expression, "returnByValue", true, "awaitPromise", true));
        assertThat(result.has("exceptionDetails"))
                .as("%s: %s", expression, result.get("exceptionDetails"))
                .isFalse();
        return result.get("result").path("value");
    }

    /** The visible text of what this selector finds first. */
    String text(String selector) {
        return evaluate("document.querySelector(" + JSON.writeValueAsString(selector) + ").innerText")
                .asString();
    }

    /** Presses a key and lets it go; a single character, or a name of the standard's (W3C, UI Events). */
    void press(String key) {
        boolean character = key.length() == 1;
        Map<String, Object> down = character
                ? Map.of("type", "keyDown", "key", key, "text", key)
                : Map.of("type", "rawKeyDown", "key", key, "code", key, "windowsVirtualKeyCode", code(key));
        send("Input.dispatchKeyEvent", down);
        send(
                "Input.dispatchKeyEvent",
                Map.of("type", "keyUp", "key", key, "windowsVirtualKeyCode", character ? 0 : code(key)));
    }

    private static int code(String key) {
        return switch (key) {
            case "Tab" -> 9;
            case "Enter" -> 13;
            case "End" -> 35;
            case "Home" -> 36;
            case "ArrowLeft" -> 37;
            case "ArrowUp" -> 38;
            case "ArrowRight" -> 39;
            case "ArrowDown" -> 40;
            default -> 0;
        };
    }

    /** Errors, warnings and breaches of the policy since the page was opened. */
    List<String> troubles() {
        return troubles;
    }

    /** What was asked for over any network, the page itself included. */
    List<String> requests() {
        return requests;
    }

    @Override
    public void close() throws IOException {
        socket.abort();
        process.descendants().forEach(ProcessHandle::destroyForcibly);
        process.destroyForcibly().onExit().join();
        try (Stream<Path> files = Files.walk(profile)) {
            files.sorted(Comparator.reverseOrder())
                    .forEach(file -> file.toFile().delete());
        }
    }
}
