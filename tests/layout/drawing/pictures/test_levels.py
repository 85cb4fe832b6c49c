"""Both floors of a doorway: at true size, joined by a strip or running through."""

from __future__ import annotations

from layout.drawing.pictures.levels import LevelSection, draw_levels, lift_of
from tests.layout.drawing.pictures.drawn import count_of, words_of


def section(**more: float | str) -> str:
    """A doorway from the hall to the bath."""
    made = LevelSection(here="Hall", beyond="Bath", **{"rise": 0.0, "stands": "level", **more})  # type: ignore[arg-type]
    return draw_levels(made, title="To the bath")


def test_heights_are_drawn_at_true_size_as_far_as_the_sheet_goes() -> None:
    assert [lift_of(rise) for rise in (-3.2, 9.5, 25.4, -30.0)] == [-3.2, 9.5, 14.0, -14.0]


def test_a_floor_that_runs_through_is_one() -> None:
    assert count_of(section(), "floor") == 1
    assert count_of(section(strip="T-molding"), "floor") == 2


def test_a_step_is_dimensioned_and_said() -> None:
    svg = section(rise=9.5, stands="Tile stands 3/8 up", strip="reducer")
    assert count_of(svg, "dimension") == 1
    assert words_of(svg, "stands") == ["Tile stands 3/8 up"]
    assert words_of(svg, "strip-name") == ["reducer"]
