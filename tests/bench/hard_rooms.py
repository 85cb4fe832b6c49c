"""Forty-two harder rooms of our own making, drawn from a seed, as plan requests.

diagonal      octagon     round       just over    corner      slanted     house
  /\\          __         .--.       +-------+     /|        +----+      +--+--+--+
 /  \\        /  \\       (    )      +-------+    / |       |     \\     +--+--+--+
 \\  /        \\__/        '--'                    +--+       +------+    |  |  |  |

Diagonal: planks lie at 45 degrees or less to the walls. Just over: rows a little longer than one to
four planks. Corner: a room cut from corner to corner. House: a suite of eight rooms off a hall.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin
from random import Random
from typing import Any

from tests.bench.rooms import SEED, Ring, Zone, box, request_of, size
from tests.bench.speed import suite

HARD_KINDS = {
    "diagonal": 10,
    "octagon": 6,
    "round": 5,
    "just over": 8,
    "corner": 5,
    "slanted": 5,
    "house": 3,
}
_TURNED = {"diagonal": (45, 30, 22.5, 15)}


def hard_rooms() -> dict[str, dict[str, Any]]:
    """Return the harder rooms by name, the same every time."""
    rooms: dict[str, dict[str, Any]] = {}
    for kind, count in HARD_KINDS.items():
        chance = Random(f"{SEED} {kind}")
        for number in range(1, count + 1):
            form = request_of(chance, {"outline": []})
            form["zone"] = _MAKERS[kind](chance, form)
            form["rules"]["direction_deg"] = chance.choice(_TURNED.get(kind, (0,)))
            rooms[f"{kind} {number}"] = form
    return rooms


def _diagonal(chance: Random, _: Zone) -> Zone:
    return {"outline": box(0, 0, size(chance, 110, 190), size(chance, 100, 170))}


def _ring(count: int, width: float, height: float, turn: float) -> Ring:
    """Return the corners of a regular shape, stretched."""
    angles = [2 * pi * k / count + turn for k in range(count)]
    return [[round(width * cos(a), 2), round(height * sin(a), 2)] for a in angles]


def _octagon(chance: Random, _: Zone) -> Zone:
    reach = size(chance, 75, 115)
    return {"outline": _ring(8, reach, reach, pi / 8)}


def _round(chance: Random, _: Zone) -> Zone:
    reach = size(chance, 70, 95)
    return {"outline": _ring(24, reach, reach * chance.choice([1, 1, 1.2]), 0)}


def _just_over(chance: Random, form: Zone) -> Zone:
    """Return a rectangle whose rows are a few inches longer than whole planks, gaps aside."""
    length, gap = form["product"]["length"], form["rules"]["expansion_gap"]
    over, planks = size(chance, 0.5, 5), chance.choice([1, 2, 3, 4])
    width = planks * length + over + 2 * gap
    return {"outline": box(0, 0, width, size(chance, 90, 190))}


def _corner(chance: Random, _: Zone) -> Zone:
    w, h, low = size(chance, 130, 220), size(chance, 110, 190), size(chance, 8, 40)
    return {"outline": [[0, 0], [w, 0], [w, h], [0, low]]}


def _slanted(chance: Random, _: Zone) -> Zone:
    w, h, lean = size(chance, 130, 220), size(chance, 100, 180), size(chance, 20, 60)
    return {"outline": [[0, 0], [w, 0], [w + lean, h], [0, h]]}


def _house(chance: Random, _: Zone) -> Zone:
    return {"outline": suite(size(chance, 500, 900), 8)}


_MAKERS: dict[str, Callable[[Random, Zone], Zone]] = {
    "diagonal": _diagonal,
    "octagon": _octagon,
    "round": _round,
    "just over": _just_over,
    "corner": _corner,
    "slanted": _slanted,
    "house": _house,
}
