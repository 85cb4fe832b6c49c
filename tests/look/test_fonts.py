"""The shipped lettering: every glyph that our figures need, even figures, and its license."""

from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

FONTS = Path(__file__).resolve().parents[2] / "installer_site" / "static" / "fonts"
NEEDED = "½¼¾⅛⅜⅝⅞⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉\u2044\u2212′″²³°×–→←↑↓✓éñüßø€£$"

weights = pytest.mark.parametrize("weight", ["Regular", "SemiBold", "Bold"])


def font(weight: str) -> Any:
    return TTFont(FONTS / f"Inter-{weight}.woff2")


@weights
def test_every_figure_and_mark_has_its_glyph(weight: str) -> None:
    drawn = font(weight).getBestCmap()
    assert [sign for sign in NEEDED if ord(sign) not in drawn] == []


@weights
def test_figures_can_stand_in_columns(weight: str) -> None:
    features = {
        record.FeatureTag for record in font(weight)["GSUB"].table.FeatureList.FeatureRecord
    }
    assert {"tnum", "frac"} <= features


@weights
def test_the_font_names_its_own_license(weight: str) -> None:
    assert "SIL Open Font License, Version 1.1" in font(weight)["name"].getDebugName(13)


def test_the_license_lies_beside_the_fonts() -> None:
    assert "SIL OPEN FONT LICENSE" in (FONTS / "OFL.txt").read_text()
