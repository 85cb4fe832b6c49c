"""A wall 3/8 in out: what the boxes say is done on paper, and the rules hold of what lies then."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.strips.rows import floor_strips
from layout.cutsheet.strips.values import FloorStrips, StripRow, WallPiece
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.layout.cutsheet.strips.test_walls import eighths, hall_request
from tests.rooms import request

OUT, PLANK, LEAST, APART, NEAR = 0.375, 48.0, 8.0, 8.0, 1 / 16
BEDROOM: list[list[float]] = [[0, 0], [184.5, 0], [184.5, 224], [0, 224]]
DEN: list[list[float]] = [[0, 0], [272, 0], [272, 219], [0, 219]]


def strips(data: dict[str, Any]) -> FloorStrips:
    wanted = read_request({**data, "effort_iterations": 400})
    plan = plan_floor(wanted)
    return floor_strips(wanted, plan, cut_sheet(wanted, plan))


def ends_of(floor: FloorStrips) -> Iterator[tuple[StripRow, WallPiece]]:
    """Each row with the box at its end."""
    for row in floor.rows:
        yield from ((row, wall) for wall in row.walls if not wall.part and wall.kind != "rip")


def lengths(row: StripRow) -> list[float]:
    """How long the pieces of a row are, from the left."""
    return [piece.span[1] - piece.span[0] for piece in sorted(row.pieces, key=lambda p: p.span)]


def laid_by_the_words(row: StripRow, wall: WallPiece, out: float) -> list[float]:
    """The pieces of a row where its end wall stands ``out`` further, by what its box says."""
    longs = lengths(row)
    figures = re.findall(r"[^a-z ]+", wall.limits)  # 8 to 48, to 48, just 8
    least, most = (0.0 if wall.limits[:3] == "to " else eighths(figures[0])), eighths(figures[-1])
    longs[-1] += out
    said = wall.over if longs[-1] > most + NEAR else wall.under.partition(": ")[2]
    way = re.fullmatch(r"row up, (?:cut )?\S+?-1 (new )?to ([^,]+)(?:, (lay again|no \S+))?", said)
    if longs[-1] >= least - NEAR and longs[-1] <= most + NEAR:
        return longs
    if way is None:
        assert said.startswith(("cut it", "a new plank")), (row.row, said)
        return longs
    whole = sum(longs)
    longs[0] = eighths(way[2])
    if way[3] and way[3].startswith("no "):
        longs.pop()
    elif not way[1] and not way[3]:  # the last plank stays whole, a new one ends the row
        longs[-1] = PLANK
        longs.append(0.0)
    longs[-1] = whole - sum(longs[:-1])
    return longs


def joints(longs: list[float]) -> list[float]:
    return [sum(longs[:count]) for count in range(1, len(longs))]


@pytest.fixture(scope="module", params=[BEDROOM, DEN, None], ids=["bedroom", "den", "hall"])
def floor(request: pytest.FixtureRequest) -> FloorStrips:
    return strips(hall_request() if request.param is None else room(request.param))


def room(ring: list[list[float]]) -> dict[str, Any]:
    return request(ring, spares=9)


@pytest.mark.parametrize("out", [OUT, -OUT])
def test_every_row_comes_out_by_the_words_of_its_box(floor: FloorStrips, out: float) -> None:
    plan = {row.row: joints(lengths(row)) for row in floor.rows}
    moved = 0
    for row, wall in ends_of(floor):
        longs = laid_by_the_words(row, wall, out)
        assert all(LEAST - NEAR <= long <= PLANK + 1 / 8 + NEAR for long in longs), (row.row, longs)
        if joints(longs) != plan[row.row]:
            moved += 1
            beside = [*plan.get(row.row - 1, ()), *plan.get(row.row + 1, ())]
            near = min(abs(a - b) for a in joints(longs) for b in beside)
            assert near >= APART - NEAR, (row.row, near)
    assert moved or out < 0


def test_no_row_only_stops(floor: FloorStrips) -> None:
    said = [words for _, wall in ends_of(floor) for words in (wall.over, wall.under)]
    assert said
    assert [words for words in said if "stop" in words] == []
