"""From a few depths of a low subfloor to bags of leveler, as a range. Pure.

Each reading stands for the part of the room that lies nearest to it (the polygons of A. H.
Thiessen, Monthly Weather Review 39, 1911). A straightedge and a rule are read to 1/16 in, so every
depth may be that much less or more, and the bags come out as a range.

    +-----+--------+
    |  x  |    x   |      x  a reading; the lines lie half-way between two
    +-----+--+-----+
    |    x   |  x  |
    +--------+-----+
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from shapely.geometry import MultiPoint, Point, Polygon
from shapely.ops import voronoi_diagram

from layout.values.errors import InputError
from layout.values.outline import Ring
from layout.values.units import INCH, INCHES_PER_FOOT, Unit, parse_length

MOST_READINGS = 60
READ_TO_IN = 1 / 16
DEEPEST_IN = 6.0
_IN3_PER_FT3 = float(INCHES_PER_FOOT**3)
_IN2_PER_FT2 = float(INCHES_PER_FOOT**2)


class SurveyError(ValueError):
    """A reading can't be used: in which row, which field, and why, in a sentence."""

    def __init__(self, sentence: str, *, row: int, field: str) -> None:
        super().__init__(sentence)
        self.sentence, self.row, self.field = sentence, row, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """How far the subfloor lies low at a place of the room, in the job's unit."""

    x: float
    y: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """What the readings come to: bags between least and most, primer in square feet."""

    deepest: float
    low_ft2: float
    fill_ft3: tuple[float, float]
    bags: tuple[int, int]

    @property
    def bag_words(self) -> str:
        """The bags as a range."""
        least, most = self.bags
        return f"{least} to {most}" if least != most else f"{most}"


def read_depths(
    rows: Sequence[Mapping[str, str]], outline: Ring, *, unit: str
) -> tuple[Depth, ...]:
    """Return the readings as typed, x along the first wall, y square to it into the room.

    Raises SurveyError for what is no length, a place outside the room, two readings at one place,
    or a depth beyond what is filled.
    """
    room = Polygon(outline)
    depths: list[Depth] = []
    hand = 1.0 if room.exterior.is_ccw else -1.0
    for row, typed in enumerate(rows):
        x, y, depth = (_length(typed, name, row, unit) for name in ("x", "y", "depth"))
        place = Point(x, y * hand)
        if not room.covers(place):
            sentence = f"“{typed['x']}”, “{typed['y']}” lies outside the room; accepted: inside it."
            raise SurveyError(sentence, row=row, field="x")
        if depth > DEEPEST_IN * INCH[unit]:
            most = '6"' if unit == "in" else "152 mm"
            sentence = f"“{typed['depth']}” is too deep to fill; accepted: up to {most}."
            raise SurveyError(sentence, row=row, field="depth")
        for other in depths:
            if Point(other.x, other.y).distance(place) < INCH[unit]:
                sentence = "Two readings lie at one place; accepted: places of their own."
                raise SurveyError(sentence, row=row, field="x")
        depths.append(Depth(x=x, y=place.y, depth=depth))
    return tuple(depths)


def survey(
    depths: Sequence[Depth], outline: Ring, *, unit: str, bag_fills_ft3: Decimal
) -> Survey | None:
    """Return the bags and the primer that the readings ask for, None without a low one."""
    low = [depth for depth in depths if depth.depth > 0]
    if not low:
        return None
    inch, error = INCH[unit], READ_TO_IN * INCH[unit]
    cells = list(_cells(depths, Polygon(outline)))
    parts = [(area, depth.depth) for depth, area in cells if depth.depth > 0]
    fills = [
        sum(area * max(0.0, depth + change) for area, depth in parts) / (inch**3 * _IN3_PER_FT3)
        for change in (-error, error)
    ]
    least, most = (_up(Decimal(repr(fill)) / bag_fills_ft3) for fill in fills)
    return Survey(
        deepest=max(depth.depth for depth in low),
        low_ft2=sum(area for area, _ in parts) / (inch**2 * _IN2_PER_FT2),
        fill_ft3=(fills[0], fills[1]),
        bags=(least, most),
    )


def _cells(depths: Sequence[Depth], room: Polygon) -> Iterator[tuple[Depth, float]]:
    """Yield each reading with the area of the room that lies nearest to it."""
    if len(depths) == 1:
        yield depths[0], float(room.area)
        return
    places = {depth: Point(depth.x, depth.y) for depth in depths}
    diagram = voronoi_diagram(MultiPoint(list(places.values())), envelope=room.envelope)
    for cell in diagram.geoms:
        nearest = next(depth for depth, place in places.items() if cell.covers(place))
        yield nearest, float(cell.intersection(room).area)


def _up(number: Decimal) -> int:
    return int(number.to_integral_value(ROUND_CEILING))


def _length(typed: Mapping[str, str], name: str, row: int, unit: str) -> float:
    text = typed[name].strip()
    if text in ("0", ""):
        return 0.0
    try:
        length = parse_length(text, bare=Unit(unit))
    except InputError:
        accepted = '3/8" or 10 mm' if name == "depth" else "4' 6\" or 1.2 m"
        sentence = f"“{text}” is no length; accepted: such as {accepted}."
        raise SurveyError(sentence, row=row, field=name) from None
    return float(length.mm if unit == "mm" else length.inches)
