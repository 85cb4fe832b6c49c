"""axe-core 4.14.1 (MPL-2.0, see LICENSE), and the one question the tests ask of it."""

from pathlib import Path

from playwright.sync_api import Page

SOURCE = Path(__file__).with_name("axe.min.js")
# The bar of a form stays in sight over whatever is scrolled under it; scrolling brings that out.
BAR_AT_THE_END = "bars => bars.forEach(bar => { bar.style.position = 'static' })"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
# Only what is wrong is worked out and handed over, not what is right as well.
FAULTS = """rules => axe
    .run(document, {runOnly: rules, resultTypes: ['violations'], selectors: false})
    .then(report => report.violations.flatMap(
        fault => fault.nodes.map(node => `${fault.id}: ${node.html.slice(0, 160)}`)))"""


def axe_faults(page: Page) -> list[str]:
    """What axe finds wrong with the page as it stands, one line a fault, empty where nothing is."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(SOURCE.read_text())
    page.locator(".actions.bar").evaluate_all(BAR_AT_THE_END)
    faults: list[str] = page.evaluate(FAULTS, RULES)
    return faults
