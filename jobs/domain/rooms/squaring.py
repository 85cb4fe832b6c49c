"""Corners from diagonals: what a tape across the room says about its angles. Pure.

    (4)-------(3)      Corners are numbered as the room is walked; (1) is where the walk begins,
     |       / |       wall n runs from corner n to the next. The diagonal from (1) to (3) closes
     |     /   |       a triangle with walls 1 and 2, and so fixes the angle at (2):
     |   /     |
    (1)-------(2)      cos = (a^2 + b^2 - d^2) / 2ab      (law of cosines)

With walls and diagonals that hold all, a room of four walls is one shape exactly. More walls leave
the corners free play: then they turn as little as possible, least squares on the turns, until the
walls close and the diagonals are met. Steps of Gauss and Newton, each the smallest that meets what
is asked (the pseudo-inverse: R. Penrose, 1955).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

from layout.values.outline import Point
from layout.values.tolerances import RATIO_TOLERANCE, TURN_TOLERANCE
from layout.values.walk import Leg, steps_of

_STEPS = 40
_FULL = 360.0
_MOST_STEP = 20.0  # degrees a corner may turn in one step

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonal:
    """A length across the room, from corner to corner; corners count from 0."""

    start: int
    end: int
    length: float


def corner_between(one: Diagonal, corners: int) -> int | None:
    """Return the corner that the diagonal closes a triangle with, None where it spans more."""
    if one.end - one.start == 2:
        return one.start + 1
    if corners - (one.end - one.start) == 2:
        return (one.end + 1) % corners
    return None


def across(legs: Sequence[Leg], one: Diagonal) -> float:
    """Return how long a diagonal is between the corners of a walk, nothing spread."""
    corners = _corners(legs)
    return math.dist(corners[one.start], corners[one.end])


def turned(legs: Sequence[Leg], diagonals: Sequence[Diagonal], *, closed: bool) -> tuple[Leg, ...]:
    """Return the walk with its corners turned so that its diagonals hold, its lengths kept.

    ``closed``: its end is its start. What can't be met at all is missed by least squares; by how
    much, `across` and the walk's misclosure tell.
    """
    typed = np.array([leg.turn_deg for leg in legs])
    full = math.copysign(_FULL, typed.sum())
    best = typed
    for _ in range(_STEPS):
        corners = _corners(_with(legs, best))
        missed = [math.dist(corners[d.start], corners[d.end]) - d.length for d in diagonals]
        slope = [_stretch(corners, one) for one in diagonals]
        if closed:
            missed += [*corners[-1], float(best.sum()) - full]
            slope += [*_swing(corners, 0, len(legs)), np.ones(len(legs))]
        rows = np.array(slope)
        wanted = typed + np.linalg.pinv(rows, rcond=RATIO_TOLERANCE) @ (
            rows @ (best - typed) - missed
        )
        step = np.clip(wanted - best, -_MOST_STEP, _MOST_STEP)
        best = best + step
        if np.abs(step).max() < TURN_TOLERANCE:
            break
    return _with(legs, best)


def _with(legs: Sequence[Leg], turns: Vector) -> tuple[Leg, ...]:
    """Return the legs with other turns."""
    kept = np.clip(turns, -179.999, 179.999)
    return tuple(replace(leg, turn=float(t)) for leg, t in zip(legs, kept, strict=True))


def _stretch(corners: Sequence[Point], one: Diagonal) -> Vector:
    """Return how a diagonal grows with each turn, by degree."""
    (ax, ay), (bx, by) = corners[one.start], corners[one.end]
    length = math.dist((ax, ay), (bx, by)) or 1.0
    return np.array([(bx - ax) / length, (by - ay) / length]) @ _swing(corners, one.start, one.end)


def _swing(corners: Sequence[Point], start: int, end: int) -> Vector:
    """Return how the way from one corner to another changes in x and y with each turn, by degree.

    The turn at the end of leg k swings everything after that corner about it.
    """
    moves = np.zeros((2, len(corners) - 1))
    bx, by = corners[end]
    for k in range(end - 1):
        x, y = corners[max(k + 1, start)]
        moves[:, k] = np.radians([y - by, bx - x])
    return moves


def _corners(legs: Sequence[Leg]) -> list[Point]:
    """Return where a walk stands before its first leg and after each."""
    return list(
        accumulate(steps_of(legs), lambda a, b: (a[0] + b[0], a[1] + b[1]), initial=(0.0, 0.0))
    )
