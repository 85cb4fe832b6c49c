"""Totals that do not follow from the pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.values.plan import Look
from tests.layout.judge.verdict import places, rules_broken
from tests.layout.three_rows import piece, plan, request, totals, with_piece


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("planks", 7),
        ("cartons", 2),
        ("floor_area", 2100.0),
        ("laid_area", 2000.0),
        ("rack_max", 2),
        ("waste", 0.1),
        ("crosscuts", 5),
        ("rips", 1),
        ("notches", 1),
        ("full_pieces", 4),
    ],
)
def test_a_wrong_total_is_caught(name: str, value: float) -> None:
    broken = plan(totals=totals(**{name: value}), status="best_found")
    assert name in places(request(), broken)


@pytest.mark.parametrize(
    ("name", "value"), [("h_joints", 1), ("staircases", 1), ("smallest_offset", 9.5)]
)
def test_a_wrong_look_is_caught(name: str, value: float) -> None:
    look = {"h_joints": 0, "staircases": 0, "smallest_offset": 16.0, name: value}
    broken = plan(totals=totals(look=Look(**look)))  # type: ignore[arg-type]
    assert f"look.{name}" in places(request(), broken)


def test_a_miscounted_piece_is_caught() -> None:
    # One plank serves two whole pieces: the count of planks no longer follows from the pieces.
    broken = with_piece(plan(), replace(piece(2, 2, 2, 40, 48, 0), id="2-2"))
    assert {"kerf", "totals"} <= rules_broken(request(), broken)
