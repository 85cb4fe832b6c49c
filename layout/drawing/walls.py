"""A room on paper: its walls, what stands in it and at its edges, in lines and words."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from layout.drawing.lettering import Spot, lettering_width, spots_along, spots_around
from layout.drawing.paper import LETTER, OBJECT, ROW, SMALL, WALL, DrawingPaper
from layout.values.outline import (
    Edge,
    EdgeKind,
    Hole,
    HoleKind,
    Point,
    Ring,
    Zone,
    edges_of,
    ring_area,
)

EDGE_WORDS = {
    EdgeKind.CASING: "casing, undercut",
    EdgeKind.TOE_KICK: "toe kick",
    EdgeKind.TRANSITION: "transition",
    EdgeKind.STAIR_NOSE: "stair nose",
    EdgeKind.CABINET: "cabinet",
    EdgeKind.RADIATOR: "radiator",
    EdgeKind.SLIDER: "slider",
}
EDGE_DASHES = {EdgeKind.CASING: "14 5", EdgeKind.TOE_KICK: "5 4", EdgeKind.TRANSITION: "1.5 4"}
_OFF = 14.0  # from a wall to the middle of its word
_SHORT = 40.0  # walls shorter on the paper get no dimension line

_OUTSIDE = 3.0  # what a word outside the floor costs less than

Stretch = tuple[Point, Point]


def bounds_of(ring: Ring) -> tuple[float, float, float, float]:
    """Return least x, least y, most x, most y."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs), max(ys)


def draw_walls(paper: DrawingPaper, zone: Zone) -> None:
    """Draw the outline, each edge in the line of its kind."""
    paper.taken.floor(paper.at(point) for point in zone.outline)
    by_kind: dict[EdgeKind, list[Ring]] = defaultdict(list)
    for i, edge in enumerate(edges_of(zone.outline)):
        by_kind[kind_at(zone, i)].append(edge)
    if set(by_kind) == {EdgeKind.WALL}:
        paper.lines([zone.outline], name="wall", weight=WALL, closed=True)
        return
    for kind, edges in by_kind.items():
        name = f"wall {kind.replace(' ', '-')}"
        paper.lines(edges, name=name, weight=WALL, dash=EDGE_DASHES.get(kind, ""))


def kind_at(zone: Zone, index: int) -> EdgeKind:
    """Return what stands at an edge."""
    return zone.edges.get(index, Edge()).kind


def letter_edges(paper: DrawingPaper, zone: Zone) -> None:
    """Write what stands at each stretch of edges of one kind, once, where there is room.

    Drawn last of all: the words keep clear of what is there. A line that the key explains goes
    without a word where that would stand on the floor.
    """
    hand = 1 if ring_area(zone.outline) > 0 else -1
    for kind, stretch in _stretches(zone):
        if kind in EDGE_WORDS:
            edges = sorted(stretch, key=lambda edge: -math.dist(*edge))
            spots = list(_spots_at(paper, edges, EDGE_WORDS[kind], hand))
            most = _OUTSIDE if kind in EDGE_DASHES else math.inf
            paper.word(EDGE_WORDS[kind], spots, name="edge-word", most=most)


def _stretches(zone: Zone) -> Iterator[tuple[EdgeKind, list[Stretch]]]:
    """Yield edges of one kind that follow each other together, once round the zone."""
    edges = list(edges_of(zone.outline))
    kinds = [kind_at(zone, i) for i in range(len(edges))]
    turns = [i for i in range(len(edges)) if kinds[i] != kinds[i - 1]] or [0]
    for begin, end in zip(turns, [*turns[1:], turns[0] + len(edges)], strict=True):
        yield kinds[begin], [edges[i % len(edges)] for i in range(begin, end)]


def _spots_at(
    paper: DrawingPaper, edges: Sequence[Stretch], word: str, hand: int
) -> Iterator[Spot]:
    """Yield where the word of a stretch may stand: along an edge outside it, or at a leader."""
    drawn = [(paper.at(a), paper.at(b)) for a, b in edges]
    for a, b in drawn:
        if math.dist(a, b) > 0.8 * lettering_width(word, SMALL):
            yield from spots_along(a, b, _OFF * hand)
    for pair in drawn:
        yield from _leaders(pair, hand)


def draw_holes(paper: DrawingPaper, holes: Sequence[Hole]) -> None:
    """Draw posts crossed, registers dashed, cabinets with their word."""
    for hole in holes:
        if hole.kind is HoleKind.REGISTER:
            paper.lines([hole.ring], name="register", weight=ROW, dash="6 4", closed=True)
            continue
        paper.lines([hole.ring], name="paper", weight=0, closed=True, fill="#fff")
        paper.lines([hole.ring], name=hole.kind.value, weight=OBJECT, closed=True)
        x0, y0, x1, y1 = bounds_of(hole.ring)
        if hole.kind is HoleKind.POST:
            corners = _crossed(hole.ring)
            paper.lines(corners, name="post", weight=ROW)
        elif (x1 - x0) * paper.scale > lettering_width("cabinet", SMALL) + 8:
            paper.letter(paper.at(((x0 + x1) / 2, (y0 + y1) / 2)), "cabinet", size=SMALL)


def _crossed(ring: Ring) -> list[Ring]:
    """Return the two lines that cross out a hole: diagonals, or those of its bounds."""
    if len(ring) == 4:
        return [(ring[0], ring[2]), (ring[1], ring[3])]
    x0, y0, x1, y1 = bounds_of(ring)
    dx, dy = (x1 - x0) * 0.15, (y1 - y0) * 0.15
    low, high = (x0 + dx, y0 + dy), (x1 - dx, y1 - dy)
    return [(low, high), ((low[0], high[1]), (high[0], low[1]))]


def draw_wall_lengths(paper: DrawingPaper, outline: Ring) -> None:
    """Draw the length of every wall outside it, or inside where the floor lies on both sides.

    Walls too short for a dimension line have their length at a leader.
    """
    hand = 1 if ring_area(outline) > 0 else -1
    short = []
    for a, b in edges_of(outline):
        pair = paper.at(a), paper.at(b)
        text = paper.length(math.dist(a, b))
        if math.dist(*pair) < max(_SHORT, lettering_width(text, LETTER)):
            short.append((pair, text))
        else:
            paper.dimension(*_beside(paper, pair, hand), text)
    for pair, text in short:
        paper.word(text, list(_leaders(pair, hand)), name="wall-length")


def _beside(paper: DrawingPaper, pair: Stretch, hand: int) -> Stretch:
    """Return where the dimension line of a wall lies, so that its text stands off the wall."""
    (ax, ay), (bx, by) = pair
    length = math.dist(*pair)
    ux, uy = (bx - ax) / length, (by - ay) / length
    for off in (24 * hand, -24 * hand):
        ox, oy = -uy * off, ux * off
        line = ((ax + ox, ay + oy), (bx + ox, by + oy))
        if off * hand > 0 and paper.taken.indoors(line):
            continue
        break
    return line if off < 0 else (line[1], line[0])


def _leaders(pair: Stretch, hand: int) -> Iterator[Spot]:
    """Yield where a word may stand off the middle of a wall, outside it first."""
    (ax, ay), (bx, by) = pair
    out = math.degrees(math.atan2((bx - ax) * hand, (ay - by) * hand))
    yield from spots_around(((ax + bx) / 2, (ay + by) / 2), first=out)
