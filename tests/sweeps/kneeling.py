"""A person with one part of a plank before them, x to the right and y away from them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from shapely.geometry import LineString, Polygon

from tests.sweeps.grammar import GOES, MARKS, Words, listed, one_of
from tests.sweeps.lengths import figure
from tests.sweeps.planks_wanted import Point
from tests.sweeps.strokes import DUST, REACH, CannotCutError, Stroke, keeps

_SIDES = {"left": "left end", "right": "right end", "near": "low side", "far": "high side"}
TOWARD: dict[str, Point] = {
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
    "near": (0.0, -1.0),
    "far": (0.0, 1.0),
}


@dataclass(slots=True, kw_only=True)
class Kneeling:
    """The part in hand as the person sees it; ``size`` is that of the board as it came."""

    part: Polygon
    size: tuple[float, float]
    unit: str
    faults: list[str] = field(default_factory=list)

    def along(self, value: float, end: str) -> float:
        """Return the place of a figure from an end."""
        self._there(end)
        return value if end == "left" else self.size[0] - value

    def across(self, value: float, edge: str) -> float:
        """Return the place of a figure from an edge."""
        self._there(edge)
        return value if edge == "near" else self.size[1] - value

    def _there(self, word: str) -> None:
        """Note an end or edge that is measured from and is no longer there."""
        if not keeps(self.part, self.size, _SIDES[word], self.unit):
            what = "end" if word in ("left", "right") else "edge"
            self.faults.append(f"the {word} {what} is gone")

    def corner(self, name: str) -> Point:
        """Return a corner of the part in hand."""
        edge, end = name.split()
        left, near, right, far = self.part.bounds
        return left if end == "left" else right, near if edge == "near" else far

    def marks(self, text: str) -> list[Point]:
        """Return the marks of a list as points."""
        return [self.mark(mark) for mark in listed(text)]

    def mark(self, text: str) -> Point:
        """Return the point of a mark."""
        read = one_of(MARKS, text)
        if read is None:
            message = f"a mark that can't be set: {text}"
            raise CannotCutError(message)
        name, words = read
        if name == "corner":
            return self._true_corner(words["corner"])
        if name == "within":
            x = self.along(figure(words["at"]), words["end"])
            return x, self.across(figure(words["across"]), words["edge"])
        if name == "on edge":
            x = self.along(figure(words["at"]), words["end"])
            low, high = self._reach([(x, -REACH), (x, REACH)], 1)
            return x, low if words["on"] == "near" else high
        y = self.across(figure(words["across"]), words["edge"])
        low, high = self._reach([(-REACH, y), (REACH, y)], 0)
        return low if words["on"] == "left" else high, y

    def _true_corner(self, name: str) -> Point:
        """Return a corner of the part in hand, which must be there."""
        x, y = self.corner(name)
        near = DUST[self.unit]
        if not any(
            abs(x - cx) <= near and abs(y - cy) <= near for cx, cy in self.part.exterior.coords
        ):
            self.faults.append(f"the {name} corner is not there")
        return x, y

    def _reach(self, line: Sequence[Point], axis: int) -> tuple[float, float]:
        """Return from where to where a line lies on the part in hand.

        A mark just off the part is set on its corner, as a person does.
        """
        near = DUST[self.unit] * 2
        met = LineString(line).intersection(self.part.buffer(near, join_style="mitre"))
        if met.is_empty:
            text = "a mark lies off the part in hand"
            raise CannotCutError(text)
        bounds = met.bounds
        return float(bounds[axis]) + near, float(bounds[axis + 2]) - near

    def _with_figures(self, words: Words) -> list[Words]:
        """Return the marks of a cut that have a figure along the board."""
        reads = [one_of(MARKS, mark) for mark in listed(words.get("marks", ""))]
        return [read[1] for read in reads if read is not None and "at" in read[1]]

    def figure_of(self, words: Words) -> float:
        """Return the figure of a cut as drawn, that of the nearer mark of several."""
        if "at" in words:
            return figure(words["at"])
        return min((figure(mark["at"]) for mark in self._with_figures(words)), default=0.0)

    def to_the_right(self, words: Words, more: float) -> float:
        """Return how far to the right marks move for their figures to come out so much more."""
        along = self._with_figures(words)
        if not along:
            text = "no mark has a figure along the board"
            raise CannotCutError(text)
        return more if along[0]["end"] == "left" else -more

    def corner_notch(self, words: Words) -> Stroke:
        """Return the stroke that takes a corner, square to the board."""
        x = self.along(figure(words["at"]), words["end"])
        y = self.across(figure(words["across"]), words["edge"])
        edge, end = words["corner"].split()
        left, near, right, far = self.part.bounds
        out_x = left - 1 if end == "left" else right + 1
        out_y = near - 1 if edge == "near" else far + 1
        ring = ((x, y), (out_x, y), (out_x, out_y), (x, out_y))
        return Stroke(path=ring, inside=True)

    def box(self, words: Words) -> Stroke:
        """Return the stroke that cuts out a rectangle."""
        xs = [self.along(figure(words[key]), words["end"]) for key in ("at", "to")]
        ys = [self.across(figure(words[key]), words["edge"]) for key in ("across", "over")]
        ring = ((xs[0], ys[0]), (xs[1], ys[0]), (xs[1], ys[1]), (xs[0], ys[1]))
        return Stroke(path=ring, inside=True)

    def bay(self, words: Words) -> Stroke:
        """Return the stroke that takes a rectangle open to an edge or an end of the board."""
        end, edge = words["end"], words["edge"]
        out_x, out_y = self.along(-1.0, end), self.across(-1.0, edge)
        xs = [
            self.along(figure(words[key]), end) if key in words else out_x for key in ("at", "to")
        ]
        ys = [
            self.across(figure(words[key]), edge) if key in words else out_y
            for key in ("across", "over")
        ]
        ring = ((xs[0], ys[0]), (xs[1], ys[0]), (xs[1], ys[1]), (xs[0], ys[1]))
        return Stroke(path=ring, inside=True)

    def which_goes(self, path: tuple[Point, ...], text: str, run_on: float) -> Stroke:
        """Return the stroke from mark to mark, by what is told of the part that goes."""
        read = one_of(GOES, text)
        if read is None:
            message = f"which part goes? {text}"
            raise CannotCutError(message)
        name, words = read
        if name == "corner goes":
            return Stroke(path=path, gone=self.corner(words["corner"]), run_on=run_on)
        if name == "corner stays":
            return Stroke(path=path, stays=self.corner(words["corner"]), run_on=run_on)
        if name == "side goes":
            return Stroke(path=path, furthest=TOWARD[words["side"]], run_on=run_on)
        if name == "mark goes":
            return Stroke(path=path, gone=self.mark(words["mark"]), run_on=run_on)
        spot = self._between(path, words["side"])
        if words["what"] == "goes":
            return Stroke(path=path, gone=spot, run_on=run_on)
        return Stroke(path=path, stays=spot, run_on=run_on)

    def _between(self, path: tuple[Point, ...], side: str) -> Point:
        """Return a spot between a path and the end or edge at which it begins and ends."""
        left, near, right, far = self.part.bounds
        closing = [
            {"left": (left - 1, y), "right": (right + 1, y), "near": (x, near - 1)}.get(
                side, (x, far + 1)
            )
            for x, y in (path[-1], path[0])
        ]
        inside = Polygon([*path, *closing]).buffer(0).intersection(self.part)
        if inside.is_empty:
            text = f"nothing lies between the marks and the {side}"
            raise CannotCutError(text)
        spot = inside.representative_point()
        return float(spot.x), float(spot.y)
