"""Typed walls to a closed outline: what is spread, what is told, what is refused. Pure.

First the diagonals turn the corners where they don't hold (`jobs.domain.rooms.diagonals`), then
what the walk still misses its start by is spread by the compass rule (`layout.values.walk`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import LineString

from jobs.domain.lengths import core_length_words
from jobs.domain.rooms.diagonals import read_diagonals, square_notes, squared
from jobs.domain.rooms.typed import TypedRoom, TypedWall
from jobs.domain.rooms.typed_lengths import (
    CLOSES_IN,
    CLOSES_WITHIN,
    MeasureError,
    length_of,
    unit_notes,
)
from layout.values.outline import Ring, edges_of, meeting
from layout.values.tolerances import ANGLE_TOLERANCE, CORNER_TOLERANCE
from layout.values.walk import Leg, Suspect, Walk, suspects, walk_outline

MOST_WALLS = 200
_ANGLES_WITHIN = 2.0  # degrees that typed angles may be off in all
_STRAIGHT = 180.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Walked:
    """A closed outline, the walk it came from, and what there is to say about it."""

    walk: Walk
    notes: tuple[str, ...]

    @property
    def outline(self) -> Ring:
        """The corners of the walls, in walking order."""
        return self.walk.outline


def walked(room: TypedRoom, *, unit: str) -> Walked:
    """Return the outline of the typed walls. Raises MeasureError naming row, value and bound."""
    walls, close = room.walls, room.close_last
    _refuse_count(walls, close=close)
    notes = unit_notes(walls, unit)
    typed = [_leg(wall, row, unit) for row, wall in enumerate(walls)]
    corners = len(typed) + close
    diagonals = read_diagonals(room.diagonals, corners, unit)
    legs = squared(typed, diagonals, unit, close=close)
    walk = walk_outline(legs, close=close, sure_last=room.sure_last)
    if close:
        _refuse_closed(legs, unit)
    else:
        _refuse_open(legs, walk, unit)
        notes += _angle_notes(walls, legs)
    _refuse_crossed(walk.outline)
    notes += square_notes(typed, legs, diagonals, unit, corners)
    return Walked(walk=walk, notes=tuple(notes))


def _refuse_count(walls: Sequence[TypedWall], *, close: bool) -> None:
    """Refuse fewer walls than make a room, and more than a room has."""
    least = 2 if close else 3
    typed = f"{len(walls)} wall{'' if len(walls) == 1 else 's'} typed"
    if len(walls) < least:
        accepted = f"{least} or more, or length and width of a rectangle"
        raise MeasureError(f"{typed}; accepted: {accepted}.")
    if len(walls) > MOST_WALLS:
        raise MeasureError(f"{typed}; accepted: up to {MOST_WALLS} in one room.")


def _leg(wall: TypedWall, row: int, unit: str) -> Leg:
    """Return a typed wall as a leg of the walk."""
    length = length_of(wall.length, unit, part="wall", row=row, field="length")
    turn = _STRAIGHT - wall.corner_deg
    return Leg(length=length, turn=-turn if wall.turn == "right" else turn)


def _angle_notes(walls: Sequence[TypedWall], legs: Sequence[Leg]) -> list[str]:
    """Return what typed angles miss the sum of a room's corners by.

    The last corner counts where its angle was typed; else it is what is left. Raises MeasureError
    where the angles are off by more than readings are.
    """
    if not walls[-1].angle:
        return []
    corners = len(legs)
    total = math.fsum(leg.turn_deg for leg in legs)
    hand = math.copysign(1.0, math.fsum(leg.turn_deg for leg in legs[:-1]))
    turned, made = corners * _STRAIGHT - hand * total, (corners - 2) * _STRAIGHT
    if abs(turned - made) < ANGLE_TOLERANCE:
        return []
    sentence = (
        f"The corners add up to {turned:g} degrees; the {corners} corners of a room make {made:g}, "
        f"({corners} - 2) x 180"
    )
    if abs(turned - made) <= _ANGLES_WITHIN:
        return [f"{sentence}. The walls decide."]
    last = max(row for row, wall in enumerate(walls) if wall.angle)
    raise MeasureError(
        f"{sentence}; accepted: up to {_ANGLES_WITHIN:g} degrees off.",
        part="wall",
        row=last,
        field="angle",
    )


def _refuse_open(legs: Sequence[Leg], walk: Walk, unit: str) -> None:
    """Refuse a walk that ends too far from where it began, at the wall most likely wrong."""
    most = max(walk.walked / CLOSES_IN, CLOSES_WITHIN[unit])
    if walk.gap <= most:
        return
    missed = f"{core_length_words(walk.gap, unit)} from the first corner, 1 in {walk.one_in:.0f}"
    accepted = f"accepted: up to {core_length_words(most, unit)}, which is spread over the walls"
    sentence = f"The walk ends {missed}; {accepted}."
    likely = suspects(legs, within=most)
    if not likely:
        more = "Check lengths and turns, or close the outline with one more wall."
        raise MeasureError(f"{sentence}{_wrong_sum(legs)} {more}")
    raise MeasureError(
        f"{sentence}{_wrong_sum(legs) if likely[0].what == 'turn' else ''} "
        f"{_suspicions(likely, unit)}",
        part="wall",
        row=likely[0].leg,
        field=likely[0].what,
    )


def _wrong_sum(legs: Sequence[Leg]) -> str:
    """Return what the corners add up to where that is no room's sum; empty where it is."""
    corners = len(legs)
    total = math.fsum(leg.turn_deg for leg in legs)
    turned, made = corners * _STRAIGHT - abs(total), (corners - 2) * _STRAIGHT
    if abs(turned - made) < ANGLE_TOLERANCE:
        return ""
    return f" The corners add up to {turned:g} degrees; {corners} corners make {made:g}."


def _suspicions(likely: Sequence[Suspect], unit: str) -> str:
    """Return what would close the walk, the likeliest first, at most two more beside it."""
    first, *others = (_suspicion(one, unit) for one in likely[:3])
    more = f" Or {' or '.join(others)}." if others else ""
    return f"It would close with {first}.{more}"


def _suspicion(suspect: Suspect, unit: str) -> str:
    """Return what would close the walk."""
    wall = f"wall {suspect.leg + 1}"
    if suspect.what == "turn":
        side = "left" if suspect.instead > 0 else "right"
        return f"a turn to the {side} after {wall}"
    return f"{core_length_words(suspect.instead, unit)} for {wall}"


def _refuse_closed(legs: Sequence[Leg], unit: str) -> None:
    """Refuse one wall more where the walk is back at its first corner already."""
    if len(legs) > 2 and walk_outline(legs).gap <= CLOSES_WITHIN[unit]:
        raise MeasureError(
            "The walk is back at its first corner; accepted: the outline without one more wall."
        )


def _refuse_crossed(ring: Ring) -> None:
    """Refuse an outline that meets itself, naming the walls."""
    walls = [LineString(pair) for pair in edges_of(ring)]
    for i, j in sorted(meeting(walls), key=lambda pair: (pair[1], pair[0])):
        shared = walls[i].intersection(walls[j])
        neighbors = j - i in (1, len(walls) - 1)
        if neighbors and shared.length < CORNER_TOLERANCE:
            continue
        raise MeasureError(
            f"Wall {j + 1} meets wall {i + 1}; accepted: an outline that never meets itself. "
            "Check lengths and turns.",
            part="wall",
            row=j,
            field="length",
        )
