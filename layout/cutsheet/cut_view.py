"""A cut as the kneeling person sees it: the part in hand, ends and edges by their words, figures.

    far edge
+----------------+        x runs to the right and y away from the person; the near left
| left     right |        corner of the whole board lies at 0, 0
+----------------+
    near edge
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from layout.cutsheet.in_hand import PartCut, kept_sides
from layout.values.outline import Point, Region, polygons_of
from layout.values.sheet import SawCut
from layout.values.tolerances import CUT_LINE_TOLERANCE, LENGTH_TOLERANCE
from layout.values.units import TAPE_STEP, length_words

ENDS, EDGES = ("left", "right"), ("near", "far")
ACROSS = {"left": "right", "right": "left", "near": "far", "far": "near"}
_TOWARD = {"left": (-1, 0), "right": (1, 0), "near": (0, -1), "far": (0, 1)}
_NAMES = {"left end": "left", "right end": "right", "low side": "near", "high side": "far"}
_NAMES |= {"left": "left", "right": "right", "low": "near", "high": "far"}


@dataclass(frozen=True, eq=False, kw_only=True)
class CutView:
    """A cut and the part that it is made in, as the kneeling person sees them on the board.

    x runs to the right, y away from the person, the near left corner of the whole board at 0, 0.
    ``figures`` are what its words measure: from which end or edge, to which place.
    """

    made: PartCut
    size: tuple[float, float]
    unit: str
    turned: bool
    figures: list[tuple[str, float]] = field(default_factory=list)

    @property
    def cut(self) -> SawCut:
        """The cut itself."""
        return self.made.cut

    @property
    def step(self) -> float:
        """What figures are told to."""
        return TAPE_STEP[self.unit]

    def name(self, word: str) -> str:
        """Return an end, edge or side of the sheet as the person calls it."""
        return ACROSS[_NAMES[word]] if self.turned else _NAMES[word]

    def at(self, point: Point) -> Point:
        """Return a point of the plank as the person sees it."""
        length, width = self.size
        return (length - point[0], width - point[1]) if self.turned else point

    @cached_property
    def path(self) -> tuple[Point, ...]:
        """The path, what stays on its left; a straight one from left to right, or away."""
        points = [self.at(point) for point in self.cut.path]
        if len(points) == 2:
            return tuple(sorted(points, key=lambda point: (round(point[1], 6), point[0])))
        closed = points[0] == points[-1]
        line = LineString(points).simplify(CUT_LINE_TOLERANCE)
        path = tuple((float(x), float(y)) for x, y in line.coords)
        return path[:-1] if closed else path

    @property
    def line(self) -> LineString:
        """The path as a line, closed where it goes all round."""
        closed = self.cut.path[0] == self.cut.path[-1]
        return LineString([*self.path, self.path[0]] if closed else self.path)

    @property
    def side_gone(self) -> str:
        """The side of a cut line that goes: left or right where it rises as much as it runs."""
        out, away = self.way_gone
        if abs(out) >= abs(away) - LENGTH_TOLERANCE[self.unit]:
            return "right" if out > 0 else "left"
        return "far" if away > 0 else "near"

    @cached_property
    def way_gone(self) -> Point:
        """Which way what goes lies from a straight cut: so far to the right, so far away."""
        (ax, ay), (bx, by) = self.path[0], self.path[-1]
        out, away = ay - by, bx - ax
        x, y = _TOWARD[self.name(self.cut.goes)]
        return (-out, -away) if out * x + away * y < 0 else (out, away)

    def seen(self, region: Region) -> Region:
        """Return a region of the plank as the person sees it."""
        if not self.turned:
            return region
        length, width = self.size
        return affine_transform(region, [-1, 0, 0, -1, length, width])

    @cached_property
    def part(self) -> Polygon:
        """The part in hand."""
        return polygons_of(self.seen(self.made.part))[0]

    def is_on_site(self, point: Point, *, rip: bool) -> bool:
        """Whether a place lies on a rip, or on another cut, that was found on site before."""
        near = LENGTH_TOLERANCE[self.unit]
        return any(
            (cut.kind == "rip") is rip
            and LineString([self.at(p) for p in cut.path]).distance(Spot(point)) <= near
            for cut in self.made.on_site
        )

    @cached_property
    def kept(self) -> tuple[str, ...]:
        """Ends and edges that the part still has as they came, those that stay first."""
        stays, there = (
            [self.name(side) for side in sorted(kept_sides(part, self.size, self.unit))]
            for part in (self.made.stays, self.made.part)
        )
        return tuple(dict.fromkeys([*stays, *there]))

    def figure(self, value: float) -> float:
        """Return a length as a tape shows it."""
        step = Fraction(self.step)
        exact = Fraction(value).limit_denominator(1_000_000)
        return float((exact / step + Fraction(1, 2)) // 1 * step)

    def words(self, figure: float) -> str:
        """Return a figure in words."""
        return length_words(figure, self.unit, on_tape=True)

    def along(self, x: float, end: str) -> float:
        """Return how far a place along the board lies from an end, as told."""
        return self.figure(x if end == "left" else self.size[0] - x)

    def across(self, y: float, edge: str) -> float:
        """Return how far a place across the board lies from an edge, as told."""
        return self.figure(y if edge == "near" else self.size[1] - y)

    @cached_property
    def straight_figure(self) -> float:
        """The figure of a square cut or a rip, one that takes something of the part in hand."""
        figure, name = self.figure(self.cut.at), self.name(self.cut.measure_from)
        axis = 0 if name in ENDS else 1
        low, high = self.part.bounds[axis], self.part.bounds[axis + 2]
        if name in ("right", "far"):
            low, high = self.size[axis] - high, self.size[axis] - low
        near = LENGTH_TOLERANCE[self.unit]
        if figure > high - near and self.cut.at <= high - near:
            return figure - self.step
        return figure + self.step if figure < low + near <= self.cut.at else figure
