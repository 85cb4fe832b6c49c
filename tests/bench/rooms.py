"""Sixty rooms of our own making, drawn from a seed, as plan requests.

rectangle   ell      bay       column    thin post   angled     suite
+-----+    +--+     +-----+    +-----+    +-----+    +---+      +--+ +--+
|     |    |  +--+  |     |    |  #  |    |   . |    |    \\    |  +-+  |
+-----+    +-----+  +-\\_/-+    +-----+    +-----+    +-----+    +--+ +--+
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

Ring = list[list[float]]
Zone = dict[str, Any]

SEED = 20
KINDS = {
    "rectangle": 15,
    "ell": 10,
    "bay": 7,
    "column": 7,
    "thin post": 6,
    "angled": 7,
    "suite": 8,
}
PRODUCTS: list[tuple[float, float, int]] = [
    (48, 7, 10),
    (60, 9, 6),
    (36, 6, 12),
    (47.25, 7.75, 9),
    (72, 8.5, 5),
]


def bench_rooms() -> dict[str, dict[str, Any]]:
    """Return the sixty rooms by name, the same every time."""
    rooms: dict[str, dict[str, Any]] = {}
    for kind, count in KINDS.items():
        chance = Random(f"{SEED} {kind}")
        for number in range(1, count + 1):
            rooms[f"{kind} {number}"] = request_of(chance, _MAKERS[kind](chance))
    return rooms


def request_of(chance: Random, zone: Zone) -> dict[str, Any]:
    length, width, per_carton = chance.choice(PRODUCTS)
    offset = chance.choice([6, 8, 8, 12])
    return {
        "format": 1,
        "unit": "in",
        "zone": zone,
        "product": {"length": length, "width": width, "per_carton": per_carton},
        "rules": {
            "expansion_gap": chance.choice([0.25, 0.25, 0.375]),
            "saw_kerf": chance.choice([0.125, 0.125, 0]),
            "min_end_piece": chance.choice([8, 8, 6, 12]),
            "min_joint_offset": offset,
            "min_row_width": 2,
            "direction_deg": 0,
        },
        "effort_s": 5,
        "seed": 0,
    }


def size(chance: Random, low: float, high: float) -> float:
    """Return a length to the quarter inch."""
    return round(chance.uniform(low, high) * 4) / 4


def box(x: float, y: float, width: float, height: float) -> Ring:
    return [[x, y], [x + width, y], [x + width, y + height], [x, y + height]]


def _rectangle(chance: Random) -> Zone:
    return {"outline": box(0, 0, size(chance, 80, 300), size(chance, 80, 240))}


def _ell(chance: Random) -> Zone:
    w, h = size(chance, 150, 300), size(chance, 140, 260)
    a, b = size(chance, 50, w - 60), size(chance, 50, h - 60)
    ring: Ring = [[0, 0], [w, 0], [w, b], [a, b], [a, h], [0, h]]
    if chance.random() < 0.5:
        ring = [[y, x] for x, y in reversed(ring)]
    return {"outline": ring}


def _bay(chance: Random) -> Zone:
    w, h = size(chance, 140, 260), size(chance, 110, 200)
    left, deep = size(chance, 25, 45), size(chance, 18, 30)
    slant = size(chance, 12, 24)
    ring: Ring = [
        [0, 0],
        [w, 0],
        [w, h],
        [w - left, h],
        [w - left - slant, h + deep],
        [left + slant, h + deep],
        [left, h],
        [0, h],
    ]
    return {"outline": ring}


def _with_post(chance: Random, low: float, high: float) -> Zone:
    w, h = size(chance, 180, 300), size(chance, 140, 240)
    post = size(chance, low, high)
    x, y = size(chance, 50, w - 70), size(chance, 40, h - 60)
    return {"outline": box(0, 0, w, h), "holes": [box(x, y, post, post)]}


def _column(chance: Random) -> Zone:
    return _with_post(chance, 8, 18)


def _thin_post(chance: Random) -> Zone:
    return _with_post(chance, 2, 4)


def _angled(chance: Random) -> Zone:
    w, h = size(chance, 150, 280), size(chance, 120, 220)
    cut = size(chance, 20, 70)
    lean = size(chance, -12, 12)
    return {"outline": [[0, 0], [w, lean / 4], [w + lean, h - cut], [w - cut, h], [0, h]]}


def _suite(chance: Random) -> Zone:
    """Return two or three rooms in a line, joined by doorways through thin walls."""
    rooms = chance.choice([2, 3])
    x = 0.0
    lower: Ring = []
    upper: Ring = []
    door, jamb = size(chance, 28, 36), size(chance, 40, 60)
    for k in range(rooms):
        w, low, high = size(chance, 90, 170), size(chance, -30, 0), size(chance, 110, 170)
        lower += [[x, low], [x + w, low]]
        upper += [[x, high], [x + w, high]]
        if k + 1 < rooms:
            lower += [[x + w, jamb], [x + w + 4.5, jamb]]
            upper += [[x + w, jamb + door], [x + w + 4.5, jamb + door]]
        x += w + 4.5
    return {"outline": lower + upper[::-1]}


_MAKERS: dict[str, Callable[[Random], Zone]] = {
    "rectangle": _rectangle,
    "ell": _ell,
    "bay": _bay,
    "column": _column,
    "thin post": _thin_post,
    "angled": _angled,
    "suite": _suite,
}
