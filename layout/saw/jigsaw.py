"""What no straight cut makes: notches and holes, each sawn along its path alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from layout.saw.lines import Corners
from layout.values.outline import Point, Region, polygons_of
from layout.values.tolerances import TOUCHING_TOLERANCE

_MITRE = 100.0  # tips of waste down to about a degree keep their point


@dataclass(frozen=True, eq=False, kw_only=True)
class Nibble:
    """A notch or a hole: what it takes of its piece."""

    kind: str
    waste: Polygon

    def paths(self, part: Polygon, near: float) -> list[Corners]:
        """Return where the jigsaw runs through a part: all round, or from edge to edge of it.

        What stays lies on the left.
        """
        ring = corners_of(orient(self.waste, -1.0))
        if self.kind == "hole":
            return [(*ring, ring[0])]
        rim = part.boundary
        inside = [
            rim.distance(Spot((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)) > near / 2
            for p, q in pairwise([*ring, ring[0]])
        ]
        if all(inside):
            return [(*ring, ring[0])]
        return list(_chains(ring, inside))


def nibbles_of(shape: Polygon, rest: Polygon, near: float, thin: float) -> list[Nibble]:
    """Return the notches and holes that make a piece of what straight cuts leave.

    Waste thinner than ``near``, and a notch no thicker than ``thin`` all over, ask for no cut.
    """
    waste = polygons_of(rest.difference(Polygon(shape.exterior)))
    notches = [thick for part in waste for thick in _thick(part, near)]
    notches = [part for part in notches if not part.buffer(-thin / 2).is_empty]
    notches.sort(key=lambda part: part.bounds)
    holes = sorted((Polygon(ring) for ring in shape.interiors), key=lambda part: part.bounds)
    return [
        *(Nibble(kind="notch", waste=part) for part in notches),
        *(Nibble(kind="hole", waste=part) for part in holes),
    ]


def _thick(waste: Polygon, near: float) -> list[Polygon]:
    """Return the parts of waste that are thicker than ``near``.

    A sliver may join several of them, or run on from one all round the piece: then no edge of the
    ring would lie inside, or one along a cut that is still to be made.
    """
    cores = polygons_of(_offset(waste, -near / 2))
    parts = (polygons_of(waste.intersection(_offset(core, near / 2))) for core in cores)
    thick = [max(part, key=lambda one: one.area) for part in parts if part]
    return [_without_repeats(part) for part in thick]


def _offset(shape: Polygon, by: float) -> Region:
    """Return a shape with its edges moved out, its corners pointed still."""
    return shape.buffer(by, join_style="mitre", mitre_limit=_MITRE)


def _without_repeats(shape: Polygon) -> Polygon:
    """Return a shape whose corners lie further apart than what touches."""
    return polygons_of(shapely.remove_repeated_points(shape, TOUCHING_TOLERANCE))[0]


def corners_of(shape: Polygon) -> Corners:
    """Return the corners of an outline, not closed."""
    return tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])


def _chains(ring: Corners, inside: list[bool]) -> Iterator[Corners]:
    """Yield the stretches of a ring whose edges lie inside, not closed."""
    begin = next(i for i, is_inside in enumerate(inside) if not is_inside)
    chain: list[Point] = []
    for k in range(begin, begin + len(ring) + 1):
        i = k % len(ring)
        if inside[i] and k < begin + len(ring):
            chain = chain or [ring[i]]
            chain.append(ring[(i + 1) % len(ring)])
        elif chain:
            yield tuple(chain)
            chain = []
