"""Contrast of every pair of colors that the stylesheet puts together.

Relative luminance and contrast ratio: WCAG 2.2 (2023), definitions of the same names. Asked for:
text at least 5.5 to 1, lines at least 3 to 1, in light and in dark.
"""

import re
from itertools import product
from pathlib import Path

import pytest

CSS = Path(__file__).resolve().parents[2] / "installer_site" / "static" / "css" / "rowbook.css"
SHEET = CSS.read_text()

GROUNDS = ("paper", "sheet")
TEXTS = ("ink", "muted", "chalk", "ok", "caution", "stop")
# Muted words and gray lines are never laid on the chalk ground.
ON_CHALK_GROUND = ("ink", "chalk", "ok", "caution", "stop")
ON_FILLED_BUTTONS = ("chalk", "stop", "ink")


def tokens(scheme: str) -> dict[str, str]:
    """The colors of one scheme: the first :root block is light, the second dark."""
    blocks = re.findall(r":root \{(.*?)\}", SHEET, re.DOTALL)
    block = blocks[{"light": 0, "dark": 1}[scheme]]
    return dict(re.findall(r"--([a-z-]+): (#[0-9A-F]{6});", block))


def luminance(color: str) -> float:
    """Relative luminance of a color written as #RRGGBB, 0 to 1."""
    channels = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colors, 1 to 21."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_black_on_white_has_the_published_contrast() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)


def test_the_middle_gray_of_the_guidelines_passes_by_a_hair() -> None:
    # #767676 on white is the lightest gray that reaches 4.5 to 1 (computed).
    assert contrast("#767676", "#FFFFFF") > 4.5 > contrast("#777777", "#FFFFFF")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), list(product(TEXTS, GROUNDS)))
def test_text_stands_out_from_its_ground(scheme: str, text: str, ground: str) -> None:
    colors = tokens(scheme)
    assert contrast(colors[text], colors[ground]) >= 5.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("text", ON_CHALK_GROUND)
def test_text_stands_out_from_the_chalk_ground(scheme: str, text: str) -> None:
    colors = tokens(scheme)
    assert contrast(colors[text], colors["chalk-ground"]) >= 5.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("fill", ON_FILLED_BUTTONS)
def test_words_stand_out_on_filled_buttons(scheme: str, fill: str) -> None:
    colors = tokens(scheme)
    assert contrast(colors["paper"], colors[fill]) >= 5.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("ground", GROUNDS)
def test_lines_stand_out_from_their_ground(scheme: str, ground: str) -> None:
    colors = tokens(scheme)
    assert contrast(colors["line"], colors[ground]) >= 3


def test_colors_are_named_only_where_the_tokens_are() -> None:
    rules = re.sub(r":root \{.*?\}", "", SHEET, flags=re.DOTALL)
    assert re.findall(r"#[0-9A-Fa-f]{3,8}\b(?![^{]*\{)|rgba?\(|hsla?\(", rules) == []


@pytest.mark.parametrize(
    "banned", ["gradient(", "box-shadow", "text-shadow", "animation", "transition"]
)
def test_nothing_shines_or_moves(banned: str) -> None:
    assert banned not in SHEET


def test_corners_are_two_pixels() -> None:
    radii = {
        value for rule in re.findall(r"border-radius: ([^;]+);", SHEET) for value in rule.split()
    }
    assert radii <= {"2px", "0"}
