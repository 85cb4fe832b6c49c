"""Rows and runs: the laying region cut along its row lines.

    row 3   |      run 3-1     |        y1  a *row* is one board width, from y0 to y1
    row 2   | run 2-1 | | 2-2  |        y0  a *run* is a connected stretch of a row
    row 1   |      run 1-1     |
            x0                 x1

Everything here lives in the *working frame* (``layout.rows.frame``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from layout.rows.contacts import Contact, contacts_of
from layout.rows.runs import Run, polygons_in
from layout.values.material import Board
from layout.values.outline import Region, polygons_of
from layout.values.tolerances import TOUCHING_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One board width of floor, numbered from 1 at the start wall, and the runs in it."""

    number: int
    y0: float
    y1: float
    runs: tuple[Run, ...]


@dataclass(frozen=True, kw_only=True)
class Floor:
    """The rows of one connected region for one first rip, the width of row 1.

    ``joined`` makes one floor of several such regions; rows of different parts never touch.
    """

    region: Region
    board: Board
    rows: tuple[Row, ...]

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """Every run, row by row, left to right; contacts count in this order."""
        return tuple(run for row in self.rows for run in row.runs)

    def with_runs(self, runs: Sequence[Run]) -> Floor:
        """Return the floor with other runs in its rows, placed anew in the order given."""
        rows = []
        for row in self.rows:
            of_row = [run for run in runs if run.row == row.number]
            placed = tuple(replace(run, place=j + 1) for j, run in enumerate(of_row))
            rows.append(replace(row, runs=placed))
        return replace(self, rows=tuple(rows))

    @cached_property
    def contacts(self) -> tuple[Contact, ...]:
        """Which runs of neighboring rows touch, by their index in ``runs``."""
        return tuple(contacts_of(self.runs))


def joined(floors: Sequence[Floor]) -> Floor:
    """Return the floors of the parts of a region as one, rows numbered on from part to part."""
    if len(floors) == 1:
        return floors[0]
    rows: list[Row] = []
    for floor in floors:
        first = len(rows)
        rows += [
            replace(
                row,
                number=row.number + first,
                runs=tuple(replace(run, row=run.row + first) for run in row.runs),
            )
            for row in floor.rows
        ]
    region = shapely.MultiPolygon([p for floor in floors for p in polygons_of(floor.region)])
    return replace(floors[0], region=region, rows=tuple(rows))


def floor_of(
    region: Region, board: Board, first_rip: float, *, registers: Sequence[Polygon] = ()
) -> Floor:
    """Cut ``region`` (working frame, not empty) into rows of ``board``, the first one ripped.

    ``first_rip`` lies above 0 and up to the board width. A piece may enclose ``registers``.
    """
    _, low, _, high = region.bounds
    bands = [(low + first_rip - board.width, low + first_rip)]
    while bands[-1][1] < high - TOUCHING_TOLERANCE:
        line = bands[-1][1]
        bands.append((line, low + first_rip + len(bands) * board.width))
    return Floor(region=region, board=board, rows=_rows(region, bands, registers))


def floor_of_widths(
    region: Region, board: Board, widths: Sequence[float], *, registers: Sequence[Polygon] = ()
) -> Floor:
    """Cut ``region`` into rows of these board widths, beginning at its low side.

    ``board`` tells the length, the same for all; the last width may reach past the region.
    """
    lines = [float(region.bounds[1])]
    for width in widths:
        lines.append(lines[-1] + width)
    rows = _rows(region, list(pairwise(lines)), registers)
    return Floor(region=region, board=board, rows=rows)


def _rows(
    region: Region, bands: Sequence[tuple[float, float]], registers: Sequence[Polygon]
) -> tuple[Row, ...]:
    """Return the rows of a region between the sides of their boards."""
    left, low, right, high = region.bounds
    feet = [max(y0, low - 1) for y0, _ in bands]
    heads = [min(y1, high + 1) for _, y1 in bands]
    parts = shapely.intersection(region, shapely.box(left - 1, feet, right + 1, heads))
    rows = []
    for i, ((y0, y1), part) in enumerate(zip(bands, parts, strict=True)):
        shapes = sorted(polygons_in(part), key=lambda p: p.bounds)
        runs = tuple(
            Run(row=i + 1, place=j + 1, shape=p, y0=y0, y1=y1, posts=_posts(p, registers))
            for j, p in enumerate(shapes)
        )
        rows.append(Row(number=i + 1, y0=y0, y1=y1, runs=runs))
    return tuple(rows)


def _posts(shape: Polygon, registers: Sequence[Polygon]) -> tuple[tuple[float, float], ...]:
    """Return the extents of what a run encloses, registers left out."""
    return tuple(
        sorted(
            (ring.bounds[0], ring.bounds[2])
            for ring in shape.interiors
            if not any(Polygon(ring).contains(register) for register in registers)
        )
    )
