"""Where a floor that runs too far is broken: at which doorway, and what is left of it. Pure.

A product is laid up to a length along the rows and a width across them; between two walls, or from
a wall to a break, the floor is one sheet. A doorway breaks it where no other way leads round.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon

from layout.values.outline import Ring, to_frame
from layout.values.tolerances import LENGTH_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How far a floor may run in the job's unit, along the rows and across; None: not said."""

    along: float | None = None
    across: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A doorway between two rooms of a floor, by their names, and the floor in it."""

    key: int
    room: str
    beyond: str
    ring: Ring


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far a floor, or a part of it, reaches along the rows and across."""

    along: float
    across: float

    def over(self, limits: Limits, near: float) -> float:
        """Return by how much it runs too far, the worse of both ways; 0 where it doesn't."""
        pairs = ((self.along, limits.along), (self.across, limits.across))
        return max(
            [0.0, *(far - most for far, most in pairs if most is not None and far > most + near)]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """A doorway at which to break: the rooms beyond it, and how far both parts reach then.

    ``enough`` tells whether both then keep the limits.
    """

    key: int
    near: tuple[str, ...]
    beyond: tuple[str, ...]
    reaches: tuple[Reach, Reach]
    enough: bool


def reach_of(rings: Iterable[Ring], direction_deg: float) -> Reach:
    """Return how far rings reach together, with the rows in that direction."""
    turned = [Polygon(to_frame(ring, direction_deg)) for ring in rings]
    left, low, right, high = shapely.total_bounds(turned)
    return Reach(along=float(right - left), across=float(high - low))


def best_break(
    rooms: Mapping[str, Ring],
    links: Sequence[Link],
    limits: Limits,
    *,
    direction_deg: float,
    unit: str,
) -> Break | None:
    """Return the doorway to break at; None where the floor keeps the limits or no doorway helps.

    It is the one that leaves least beyond the limits, then the one whose parts are most even.
    """
    near = LENGTH_TOLERANCE[unit]
    whole = reach_of([*rooms.values(), *(link.ring for link in links)], direction_deg)
    over = whole.over(limits, near)
    if not over:
        return None
    breaks = []
    for link in links:
        parts = parts_at(rooms, links, link.key)
        if parts is None:
            continue
        reaches = tuple(_reach_of_part(part, rooms, links, link, direction_deg) for part in parts)
        left = max(reach.over(limits, near) for reach in reaches)
        if left < over - near:
            uneven = max(max(reach.along, reach.across) for reach in reaches)
            candidate = Break(
                key=link.key,
                near=parts[0],
                beyond=parts[1],
                reaches=(reaches[0], reaches[1]),
                enough=not left,
            )
            breaks.append((left, uneven, candidate))
    return min(breaks, key=lambda each: each[:2])[2] if breaks else None


def parts_at(
    rooms: Mapping[str, Ring], links: Sequence[Link], key: int
) -> tuple[tuple[str, ...], tuple[str, ...]] | None:
    """Return the rooms on both sides of a doorway, the first room's side first.

    None where the doorway is no link of the floor, or another way leads round it. Rooms that meet
    along a wall line are one.
    """
    cut = next((link for link in links if link.key == key), None)
    if cut is None:
        return None
    joined = {name: {name} for name in rooms}
    names = list(rooms)
    for i, one in enumerate(names):
        for other in names[:i]:
            if _meet(rooms[one], rooms[other]):
                joined[one].add(other)
                joined[other].add(one)
    for link in links:
        if link.key != cut.key:
            joined[link.room].add(link.beyond)
            joined[link.beyond].add(link.room)
    side = _reached(joined, names[0])
    if (cut.room in side) == (cut.beyond in side):
        return None
    return tuple(n for n in names if n in side), tuple(n for n in names if n not in side)


def _meet(one: Ring, other: Ring) -> bool:
    """Whether two rooms share some of a wall line, not only a corner."""
    return bool(Polygon(one).intersection(Polygon(other)).length > 1)


def _reached(joined: Mapping[str, set[str]], first: str) -> set[str]:
    reached, waiting = {first}, [first]
    while waiting:
        for name in joined[waiting.pop()] - reached:
            reached.add(name)
            waiting.append(name)
    return reached


def _reach_of_part(
    part: Sequence[str],
    rooms: Mapping[str, Ring],
    links: Sequence[Link],
    cut: Link,
    direction_deg: float,
) -> Reach:
    """Return how far rooms reach with the doorways between them and half of the one cut."""
    inside = [k.ring for k in links if k.key != cut.key and {k.room, k.beyond} <= set(part)]
    a, b, c, d = cut.ring
    middle = _between(a, d), _between(b, c)
    half = (a, b, middle[1], middle[0]) if cut.room in part else (*middle, c, d)
    return reach_of([*(rooms[name] for name in part), *inside, half], direction_deg)


def _between(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
