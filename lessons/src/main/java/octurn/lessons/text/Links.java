package octurn.lessons.text;

import java.util.regex.Pattern;

/** Where a link of a lesson may lead: to a page of the documentation, or by http or https anywhere. */
public final class Links {

    private static final Pattern WEB = Pattern.compile("https?://[A-Za-z0-9.-]+(:[0-9]+)?([/?#][!#-;=?-~]*)?");
    private static final Pattern PAGE = Pattern.compile("([a-z0-9-]+/)*[A-Za-z0-9-]+\\.md(#[a-z0-9_-]+)?");
    private static final int LONGEST = 500;

    private Links() {}

    /** Whether a link may lead there. */
    public static boolean isAllowed(String target) {
        return target.length() <= LONGEST && (isWeb(target) || isPage(target));
    }

    /** Whether it leads out into the web. */
    public static boolean isWeb(String target) {
        return WEB.matcher(target).matches();
    }

    /** Whether it leads to a page of the documentation: {@code chip.md}, {@code chip.md#time}. */
    public static boolean isPage(String target) {
        return PAGE.matcher(target).matches();
    }
}
