"""A floor drawn for the log: its planks by row, each row to be tapped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Job
from jobs.readers.current_plan.sheets import floors_by_name
from layout.values.plan import Piece

WIDE, MOST_HIGH, EDGE = 340.0, 460.0, 4.0


@dataclass(frozen=True, kw_only=True, slots=True)
class DrawnRow:
    """One row: its number in the order of laying, and the path of its planks."""

    number: int
    path: str


@dataclass(frozen=True, kw_only=True, slots=True)
class DrawnFloor:
    """A floor as a drawing of rows."""

    zone: str
    wide: float
    high: float
    rows: tuple[DrawnRow, ...]


def drawn_floors(job: Job) -> Mapping[str, DrawnFloor]:
    """Return the floors of a job by name; those whose plan can't be read are left out."""
    drawn = {}
    for name, floor in floors_by_name(job).items():
        try:
            pieces = floor.stored().plan.pieces
        except (BadValueError, BrokenDocumentError):
            continue
        if pieces:
            drawn[name] = _drawn(name, pieces)
    return drawn


def _drawn(zone: str, pieces: tuple[Piece, ...]) -> DrawnFloor:
    xs = [x for piece in pieces for x, _ in piece.outline]
    ys = [y for piece in pieces for _, y in piece.outline]
    left, top = min(xs), max(ys)
    across, deep = max(xs) - left, top - min(ys)
    scale = min((WIDE - 2 * EDGE) / across, (MOST_HIGH - 2 * EDGE) / deep)
    numbers = list(dict.fromkeys(piece.row for piece in pieces))
    paths: dict[int, list[str]] = {number: [] for number in numbers}
    for piece in pieces:
        paths[piece.row] += _rings(piece, (left, top, scale))
    return DrawnFloor(
        zone=zone,
        wide=round(across * scale + 2 * EDGE, 1),
        high=round(deep * scale + 2 * EDGE, 1),
        rows=tuple(
            DrawnRow(number=place, path="".join(paths[number]))
            for place, number in enumerate(numbers, start=1)
        ),
    )


def _rings(piece: Piece, place: tuple[float, float, float]) -> Iterator[str]:
    left, top, scale = place
    for ring in (piece.outline, *piece.holes):
        points = (
            f"{(x - left) * scale + EDGE:.1f} {(top - y) * scale + EDGE:.1f}" for x, y in ring
        )
        yield "M" + "L".join(points) + "Z"
