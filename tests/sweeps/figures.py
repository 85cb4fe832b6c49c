"""Reading the cuts of a sheet by their figures, each checked against the part in hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from tests.sweeps.bench import CutRead
from tests.sweeps.planks_wanted import SIDES, Json, PlankWanted, Point
from tests.sweeps.strokes import (
    NEAR,
    SAME,
    CannotCutError,
    Stroke,
    keeps,
    line_through,
)

TOWARD: dict[str, Point] = {
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
    "low": (0.0, -1.0),
    "high": (0.0, 1.0),
}
GOES = {
    "crosscut": {"left", "right"},
    "rip": {"low", "high"},
    "angle": {"left", "right", "low", "high"},
    "notch": {"inside"},
    "hole": {"inside"},
}


class FigureReader:
    """Reads the cuts of one plank by where they are measured from, their paths and limits."""

    def __init__(self, request: Json, plank: PlankWanted) -> None:
        rules = request["rules"]
        self.unit, self.size, self.plank = request["unit"], plank.size, plank
        self.kerf = float(rules["saw_kerf"])
        self.rip_kerf = float(rules.get("rip_kerf", self.kerf))

    def __call__(self, cut: Json, part: Polygon, more: float = 0.0) -> CutRead:
        """Return the stroke of a cut, its figure so much more than drawn."""
        kind = cut["kind"]
        faults = [*self._names(cut), *self._tool(cut)]
        if kind not in GOES or faults:
            raise CannotCutError("; ".join(faults))
        path = [(float(x), float(y)) for x, y in cut["path"]]
        at = float(cut["at"])
        if not keeps(part, self.size, cut["measure_from"], self.unit):
            faults.append(f"the {cut['measure_from']} is no longer there")
        faults += [*self._at(kind, cut, path), *self._limits(cut, part)]
        if kind in ("crosscut", "rip"):
            path = self._placed(path, cut["measure_from"], at)
        if more:
            path = self._moved(path, cut["measure_from"], more)
        else:
            faults += self._ends(kind, path, part)
        limits, stroke = cut.get("limits"), self._stroke(cut, path)
        if not more and part.difference(shapely.union_all(stroke.divide(part)[0])).is_empty:
            faults.append("it takes nothing")
        return CutRead(
            stroke=stroke,
            limits=None if limits is None else (limits[0] - at, limits[1] - at),
            faults=tuple(faults),
        )

    def _names(self, cut: Json) -> Iterator[str]:
        """Yield what is wrong with the words of a cut that have a list."""
        kind = cut["kind"]
        if kind not in GOES:
            yield f"no kind of cut: {kind}"
            return
        if cut["goes"] not in GOES[kind]:
            yield f"goes {cut['goes']}"
        wanted = {"crosscut": SIDES[:2], "rip": SIDES[2:]}.get(kind, SIDES)
        if cut["measure_from"] not in wanted:
            yield f"measured from the {cut['measure_from']}"
        if len(cut["path"]) < (2 if kind in ("crosscut", "rip", "angle") else 3):
            yield f"a path of {len(cut['path'])} points"

    def _tool(self, cut: Json) -> Iterator[str]:
        """Yield a tool that is not the one for the cut."""
        kind = cut["kind"]
        kerf = self.rip_kerf if kind == "rip" else self.kerf
        wanted = "jigsaw" if kind in ("notch", "hole") else "saw" if kerf else "score"
        if cut["tool"] != wanted:
            yield f"tool {cut['tool']}, where a {wanted} takes the kerf"

    def _from(self, side: str, point: Point) -> float:
        """Return how far a point lies from an end or side of the plank."""
        x, y = point
        return {
            "left end": x,
            "right end": self.size[0] - x,
            "low side": y,
            "high side": self.size[1] - y,
        }[side]

    def _at(self, kind: str, cut: Json, path: Sequence[Point]) -> Iterator[str]:
        """Yield a figure that the path does not agree with."""
        side, place, near = cut["measure_from"], float(cut["at"]), SAME[self.unit]
        off = [self._from(side, point) for point in path]
        text = f"at {place:.4f} from the {side}, its path at {', '.join(f'{o:.4f}' for o in off)}"
        if kind in ("crosscut", "rip"):
            agrees = all(abs(o - place) <= near for o in off)
        elif kind == "angle":
            agrees = abs(min(off) - place) <= near
        else:
            agrees = any(abs(o - place) <= near for o in off)
        if not agrees:
            yield text

    def _limits(self, cut: Json, part: Polygon) -> Iterator[str]:
        """Yield limits that do not hold the figure or do not lie on the plank."""
        limits, on_site = cut.get("limits"), cut.get("final") == "measure on site"
        if cut.get("final") not in ("exact", "measure on site"):
            yield f"final {cut.get('final')}"
        if (limits is not None) != on_site:
            yield f"final {cut.get('final')} with limits {limits}"
        if limits is None:
            return
        least, most = limits
        near, place = SAME[self.unit], float(cut["at"])
        long = self.size[0 if cut["measure_from"] in SIDES[:2] else 1]
        if not least - near <= place <= most + near:
            yield f"limits {least:.4f} to {most:.4f} do not hold {place:.4f}"
        if least < -near or most > long + near:
            yield f"limits {least:.4f} to {most:.4f} leave the plank"
        x0, y0, x1, y1 = part.bounds
        corners = [(x0, y0), (x1, y1)]
        if most > max(self._from(cut["measure_from"], c) for c in corners) + NEAR[self.unit]:
            yield f"limit {most:.4f} is more than the part in hand has"

    def _moved(self, path: Sequence[Point], side: str, by: float) -> list[Point]:
        """Return a path moved away from an end or side."""
        x, y = {
            "left end": (by, 0.0),
            "right end": (-by, 0.0),
            "low side": (0.0, by),
            "high side": (0.0, -by),
        }[side]
        return [(px + x, py + y) for px, py in path]

    def _placed(self, path: Sequence[Point], side: str, at: float) -> list[Point]:
        """Return a straight path where its figure says it lies."""
        length, width = self.size
        x = at if side == "left end" else length - at
        y = at if side == "low side" else width - at
        return [(x, py) if side in SIDES[:2] else (px, y) for px, py in path]

    def _ends(self, kind: str, path: Sequence[Point], part: Polygon) -> Iterator[str]:
        """Yield ends of a path that do not lie where the cut meets the edge of the part in hand."""
        near = NEAR[self.unit]
        if kind == "hole":
            if not part.buffer(SAME[self.unit]).covers(Polygon(path)):
                yield "the ring leaves the part in hand"
            return
        for end in (path[0], path[-1]):
            off = part.boundary.distance(Spot(end))
            if off > near and path[0] != path[-1]:
                yield f"its path ends at {_spot(end)}, {off:.3f} from the edge of the part in hand"
        if kind == "notch":
            return
        through = line_through(path, part)
        if through is None:
            yield "its path misses the part in hand"
            return
        reach = LineString(path).buffer(near)
        for end in through:
            if not reach.covers(Spot(end)):
                yield f"the cut runs on to {_spot(end)}, past the path {[*map(_spot, path)]}"

    def _stroke(self, cut: Json, path: Sequence[Point]) -> Stroke:
        kind = cut["kind"]
        if kind == "hole" or (kind == "notch" and path[0] == path[-1]):
            return Stroke(path=tuple(path), inside=True)
        if kind == "notch":
            # What goes is inside the path and the edge: the side that the piece does not lie on.
            piece = self.plank.piece(cut["then"]["in_hand"])
            if piece is None:
                text = f"no piece {cut['then']['in_hand']} in this plank"
                raise CannotCutError(text)
            spot = piece.shape.representative_point()
            return Stroke(
                path=tuple(path), stays=(float(spot.x), float(spot.y)), run_on=2 * NEAR[self.unit]
            )
        kerf = self.rip_kerf if kind == "rip" else self.kerf
        return Stroke(path=tuple(path), toward=TOWARD[cut["goes"]], kerf=kerf)


def _spot(point: Point) -> str:
    return f"({point[0]:.3f}, {point[1]:.3f})"
