"""Typed diagonals: corners checked, corners turned, and what there is to say of either. Pure.

A diagonal that agrees with the walls as typed says that the corner is what it was taken for. One
that does not turns the corners until it holds; what it can't be is refused at its row.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from jobs.domain.lengths import core_length_words
from jobs.domain.rooms.squaring import Diagonal, across, corner_between, turned
from jobs.domain.rooms.typed import TypedDiagonal
from jobs.domain.rooms.typed_lengths import CLOSES_IN, CLOSES_WITHIN, MeasureError, length_of
from layout.values.walk import Leg

MOST_TURNED = 30.0  # degrees that a diagonal may turn a corner from what was typed
_TELLS = {"in": 0.125, "mm": 3.0}  # a diagonal nearer than this to the walls says: as typed
_STRAIGHT = 180.0
_SQUARE = 90.0


def read_diagonals(rows: Sequence[TypedDiagonal], corners: int, unit: str) -> list[Diagonal]:
    """Return the typed diagonals of a room of so many corners. Raises MeasureError at the row."""
    return [_diagonal(one, row, corners, unit) for row, one in enumerate(rows)]


def _diagonal(typed: TypedDiagonal, row: int, corners: int, unit: str) -> Diagonal:
    """Return a typed diagonal. Raises MeasureError where it runs along a wall or to no corner."""
    ends = [typed.start, typed.end]
    for name, corner in zip(("start", "end"), ends, strict=True):
        if not 1 <= corner <= corners:
            sentence = f"There is no corner {corner}; accepted: 1 to {corners}."
            raise MeasureError(sentence, part="diagonal", row=row, field=name)
    start, end = sorted(corner - 1 for corner in ends)
    if end - start in (0, 1, corners - 1):
        ends_words = f"From corner {ends[0]} to corner {ends[1]} runs no diagonal"
        raise MeasureError(
            f"{ends_words}; accepted: two corners with another between them, either way round.",
            part="diagonal",
            row=row,
            field="end",
        )
    length = length_of(typed.length, unit, part="diagonal", row=row, field="length")
    return Diagonal(start=start, end=end, length=length)


def squared(
    legs: Sequence[Leg], diagonals: Sequence[Diagonal], unit: str, *, close: bool
) -> Sequence[Leg]:
    """Return the walk, its corners turned where a diagonal says otherwise."""
    if all(abs(across(legs, one) - one.length) <= _TELLS[unit] for one in diagonals):
        return legs
    for row, one in enumerate(diagonals):
        _refuse_no_triangle(legs, one, row, unit)
    walk = turned(legs, diagonals, closed=not close)
    for row, one in enumerate(diagonals):
        _refuse_unmet(legs, walk, one, row, unit)
    return walk


def _refuse_no_triangle(legs: Sequence[Leg], one: Diagonal, row: int, unit: str) -> None:
    """Refuse a diagonal that its two walls can't reach, or that turns their corner too far."""
    middle = corner_between(one, len(legs))
    if middle is None:
        return
    a, b = legs[middle - 1], legs[middle]
    typed = _STRAIGHT - abs(a.turn_deg)
    least, most = (
        _opposite(a.length, b.length, min(max(typed + by, 1.0), 179.0))
        for by in (-MOST_TURNED, MOST_TURNED)
    )
    if least <= one.length <= most:
        return
    reading = core_length_words(one.length, unit)
    square = core_length_words(_opposite(a.length, b.length, typed), unit)
    low, high = core_length_words(least, unit), core_length_words(most, unit)
    raise MeasureError(
        f"The diagonal reads {reading}; with corner {middle + 1} {_as_typed(typed)} it would be "
        f"{square}; accepted: {low} to {high}, which turns the corner by up to {MOST_TURNED:g} "
        "degrees.",
        part="diagonal",
        row=row,
        field="length",
    )


def _refuse_unmet(
    typed: Sequence[Leg], legs: Sequence[Leg], one: Diagonal, row: int, unit: str
) -> None:
    """Refuse a diagonal that the turned walk misses still, or that turned a corner too far."""
    missed = abs(across(legs, one) - one.length)
    most = max(one.length / CLOSES_IN, CLOSES_WITHIN[unit])
    far = max(
        (abs(a.turn_deg - b.turn_deg), n)
        for n, (a, b) in enumerate(zip(typed, legs, strict=True), start=2)
    )
    if missed <= most and far[0] <= MOST_TURNED:
        return
    reading, as_typed = (core_length_words(v, unit) for v in (one.length, across(typed, one)))
    missed_words = f"The diagonal reads {reading}; with the corners as typed it would be {as_typed}"
    why = (
        f"no turn of the corners brings it nearer than {core_length_words(missed, unit)}"
        if missed > most
        else f"to meet it, corner {(far[1] - 1) % len(legs) + 1} would turn by {far[0]:.0f} degrees"
    )
    accepted = f"accepted: up to {MOST_TURNED:g} degrees. Check its two corners and the walls"
    raise MeasureError(
        f"{missed_words}, and {why}; {accepted}.", part="diagonal", row=row, field="length"
    )


def square_notes(
    typed: Sequence[Leg],
    legs: Sequence[Leg],
    diagonals: Sequence[Diagonal],
    unit: str,
    corners: int,
) -> list[str]:
    """Return what each diagonal says: the corner is as typed, or by how much it is not."""
    notes = []
    for one in diagonals:
        reading, as_typed = (core_length_words(v, unit) for v in (one.length, across(typed, one)))
        middle = corner_between(one, corners)
        if middle is None or middle >= len(legs) or (middle == 0 and corners > len(legs)):
            ends = f"corner {one.start + 1} to corner {one.end + 1}"
            notes.append(
                f"From {ends} the diagonal reads {reading}; with the corners as typed it would be "
                f"{as_typed}."
            )
            continue
        angle = _STRAIGHT - abs(legs[middle - 1].turn_deg)
        was = _STRAIGHT - abs(typed[middle - 1].turn_deg)
        word = "square" if was == _SQUARE else f"at {was:g} degrees"
        if legs is typed:
            notes.append(f"Corner {middle + 1} is {word}: the diagonal reads {reading}.")
        else:
            notes.append(
                f"Corner {middle + 1} is {angle:.1f} degrees: the diagonal reads {reading}; {word} "
                f"would be {as_typed}."
            )
    return notes


def _as_typed(angle: float) -> str:
    return "square" if angle == _SQUARE else f"at {angle:g} degrees"


def _opposite(a: float, b: float, angle: float) -> float:
    """Return the side of a triangle opposite an angle in degrees."""
    return math.sqrt(a * a + b * b - 2 * a * b * math.cos(math.radians(angle)))
