package octurn.json;

import tools.jackson.core.StreamReadConstraints;
import tools.jackson.core.StreamWriteFeature;
import tools.jackson.core.json.JsonFactory;

/** How Jackson is set up here: its streaming part alone, since data binding would double the start-up time. */
final class Jackson {

    /** Our own limits on files (1 MiB) and depth come first, so the parser's own must never be met. */
    static final JsonFactory FACTORY = JsonFactory.builder()
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxNumberLength(2 * SourceText.MAX_BYTES)
                    .maxNameLength(2 * SourceText.MAX_BYTES)
                    .maxStringLength(2 * SourceText.MAX_BYTES)
                    .maxNestingDepth(2 * JsonTree.MAX_DEPTH)
                    .build())
            .disable(StreamWriteFeature.AUTO_CLOSE_TARGET)
            .rootValueSeparator("\n")
            .build();

    private Jackson() {}
}
