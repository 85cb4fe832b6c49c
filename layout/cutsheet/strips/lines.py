"""Where the lines lie at which rows end in a doorway: so far past the face of the wall.

wall's face |<- 2 1/4 ->| the line; the floor stops its gap short of it, 2 past the face
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shapely.geometry import LineString, Point

from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.values import LinePlace
from layout.values.outline import EdgeKind, edges_of
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE

_LEVEL = 0.02  # a wall's face runs as the line does, but for so much over its length


def line_places(
    request: PlanRequest, walls: Mapping[int, str] | None = None
) -> Iterator[LinePlace]:
    """Yield where each line of a floor lies; ``walls`` names the wall of each line by its edge."""
    zone, unit = request.zone, request.unit
    near = LENGTH_TOLERANCE[unit]
    for number in sorted(zone.edges):
        edge = zone.edges[number]
        if edge.kind is not EdgeKind.TRANSITION:
            continue
        gap = request.rules.expansion_gap if edge.gap is None else edge.gap
        depth = past_face(request, number)
        short = f"the floor stops {bare_words(gap, unit)} short of it"
        wall = (walls or {}).get(number, "")
        face = f"{wall} as taped" if wall else "the face of the wall beside it"
        door = f"The end line in the doorway of {wall}" if wall else "The end line"
        its = f"{wall} as taped" if wall else "its wall's face"
        if depth is None or depth <= near:
            yield LinePlace(
                words=f"{door}: {face}; {short}.",
                short=f"End line on {its}; floor {bare_words(gap, unit)} short",
            )
        else:
            stop = bare_words(depth - gap, unit)
            far = bare_words(depth, unit)
            yield LinePlace(
                words=f"{door}: {far} past {face}; {short}, at {stop}.",
                short=f"End line {far} past {its}; floor to {stop}",
            )


def past_face(request: PlanRequest, number: int) -> float | None:
    """Return how far a line lies past the face of the wall beside it; None where none runs so."""
    edges = list(edges_of(request.zone.outline))
    line = LineString(edges[number])
    offs = []
    for step in (1, -1):
        for k in range(1, len(edges)):
            at = (number + step * k) % len(edges)
            kind = request.zone.edges[at].kind if at in request.zone.edges else EdgeKind.WALL
            if kind is EdgeKind.WALL and _runs_as(edges[number], edges[at]):
                offs.append(_off(line, edges[at][0]))
                break
    return min(offs, default=None)


def _runs_as(
    one: tuple[tuple[float, float], tuple[float, float]],
    other: tuple[tuple[float, float], tuple[float, float]],
) -> bool:
    """Whether two edges run alike, in the same sense."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    first, second = LineString(one).length, LineString(other).length
    cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    along = (bx - ax) * (dx - cx) + (by - ay) * (dy - cy)
    return abs(cross) <= _LEVEL * first * second and along > 0


def _off(line: LineString, place: tuple[float, float]) -> float:
    """Return how far a place lies off the line carried on both ways."""
    (ax, ay), (bx, by) = line.coords[0], line.coords[-1]
    reach = 1 + 2 * Point(place).distance(line) / line.length
    longer = LineString(
        [
            (ax - (bx - ax) * reach, ay - (by - ay) * reach),
            (bx + (bx - ax) * reach, by + (by - ay) * reach),
        ]
    )
    return float(longer.distance(Point(place)))
