"""The cuts that a piece's outline asks for: none for what a saw can't follow."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from layout.planks.cuts import cuts_of


def kinds(*corners: tuple[float, float]) -> list[str]:
    """Return the kinds of the cuts of a piece of a plank of 48 x 7 in."""
    cuts = cuts_of(Polygon(corners), (48.0, 7.0), {}, (0.01, 1 / 32), (0.125, 0.125))
    return [cut.kind for cut in cuts]


@pytest.mark.parametrize(("deep", "shown"), [(1 / 64, []), (1 / 33, []), (1 / 31, ["notch"])])
def test_a_notch_no_thicker_than_a_thirty_second_is_not_shown(
    deep: float, shown: list[str]
) -> None:
    corner = [(48.0, 7 - deep), (30.0, 7 - deep), (30.0, 7.0)]
    assert kinds((0, 0), (48, 0), *corner, (0, 7)) == shown


def test_a_slant_that_rises_by_as_little_is_shown() -> None:
    assert kinds((0, 0), (48, 0), (48, 7 - 1 / 33), (0, 7)) == ["angle"]
