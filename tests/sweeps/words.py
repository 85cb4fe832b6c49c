"""Reading the cuts of a sheet by their words alone, as the person with the saw does.

Nothing is known here but the words, the part in hand, from which side the row is laid, and what
the saw takes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon

from tests.sweeps.bench import DRAWN, LEAST, CutRead
from tests.sweeps.grammar import cut_of, marks_of
from tests.sweeps.lengths import figure
from tests.sweeps.planks_wanted import Json, PlankWanted, Point
from tests.sweeps.strokes import DUST, REACH, CannotCutError, Stroke, keeps

_SIDES = {
    "left": "left end",
    "right": "right end",
    "near": "low side",
    "far": "high side",
}
_TOWARD = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "near": (0.0, -1.0), "far": (0.0, 1.0)}
Words = dict[str, str]


class WordReader:
    """Reads the cuts of one plank by ``text``."""

    def __init__(self, request: Json, plank: PlankWanted) -> None:
        rules = request["rules"]
        self.unit, self.size, self.plank = request["unit"], plank.size, plank
        self.kerf = float(rules["saw_kerf"])
        self.rip_kerf = float(rules.get("rip_kerf", self.kerf))
        lay = request.get("lay") or {}
        self.high = lay.get("start", "low") == "high"
        self.control_row: int | None = lay.get("control_row")

    def __call__(self, cut: Json, part: Polygon, figure_meant: str = DRAWN) -> CutRead:
        """Return the stroke that a cut's words tell, at the drawn figure or at a limit."""
        read = cut_of(cut["text"])
        if read is None:
            text = f"words that can't be followed: {cut['text']}"
            raise CannotCutError(text)
        turned = self._turned(cut["then"]["in_hand"])
        seen = rotate(part, 180, origin=(self.size[0] / 2, self.size[1] / 2)) if turned else part
        person = _Person(self, seen, figure_meant)
        stroke = person.stroke(*read)
        return CutRead(
            stroke=self._back(stroke) if turned else stroke,
            on_site="least" in read[1],
            faults=tuple(person.faults),
        )

    def _turned(self, name: str) -> bool:
        """Whether the person kneels at the high side of the row of a piece."""
        piece = self.plank.piece(name)
        backward = (
            piece is not None and self.control_row is not None and piece.row < self.control_row
        )
        return bool(self.high != backward)

    def _back(self, stroke: Stroke) -> Stroke:
        """Return a stroke as the person sees it on the plank as it lies in the direction frame."""

        def turn(point: Point) -> Point:
            return self.size[0] - point[0], self.size[1] - point[1]

        toward = stroke.toward and (-stroke.toward[0], -stroke.toward[1])
        return Stroke(
            path=tuple(map(turn, stroke.path)),
            toward=toward,
            inside=stroke.inside,
            gone=stroke.gone and turn(stroke.gone),
            stays=stroke.stays and turn(stroke.stays),
            kerf=stroke.kerf,
        )


class _Person:
    """A person with one part of a plank before them, x to the right and y away from them."""

    def __init__(self, reader: WordReader, part: Polygon, figure_meant: str) -> None:
        self.reader, self.part, self.meant = reader, part, figure_meant
        self.faults: list[str] = []

    def stroke(self, name: str, words: Words) -> Stroke:
        """Return the stroke of a cut."""
        by_name: dict[str, Callable[[Words], Stroke]] = {
            "square": self._square,
            "rip": self._rip,
            "line": self._line,
            "corner": self._corner,
            "between": self._between,
            "box": self._box,
            "ring": self._ring,
        }
        return by_name[name](words)

    def _figure(self, words: Words) -> float:
        """Return the figure of a straight cut: as drawn, or one of its limits."""
        drawn = figure(words["at"])
        if "least" not in words:
            return drawn
        least, most = figure(words["least"]), figure(words["most"])
        if not least <= drawn <= most:
            self.faults.append(f"limits {least} to {most} do not hold {drawn}")
        return drawn if self.meant == DRAWN else least if self.meant == LEAST else most

    def _there(self, word: str) -> None:
        """Note where an end or edge that is measured from is no longer there."""
        if not keeps(self.part, self.reader.size, _SIDES[word], self.reader.unit):
            self.faults.append(
                f"the {word} {'end' if word in ('left', 'right') else 'edge'} is gone"
            )

    def _along(self, value: float, end: str) -> float:
        self._there(end)
        return value if end == "left" else self.reader.size[0] - value

    def _across(self, value: float, edge: str) -> float:
        self._there(edge)
        return value if edge == "near" else self.reader.size[1] - value

    def _square(self, words: Words) -> Stroke:
        x = self._along(self._figure(words), words["end"])
        path = ((x, 0.0), (x, self.reader.size[1]))
        return Stroke(path=path, toward=_TOWARD[words["part"]], kerf=self.reader.kerf)

    def _rip(self, words: Words) -> Stroke:
        y = self._across(self._figure(words), words["edge"])
        path = ((0.0, y), (self.reader.size[0], y))
        return Stroke(path=path, toward=_TOWARD[words["part"]], kerf=self.reader.rip_kerf)

    def _line(self, words: Words) -> Stroke:
        path = self._marks(words["marks"])
        if len(path) != 2:
            text = f"a line through {len(path)} marks"
            raise CannotCutError(text)
        return Stroke(path=tuple(path), toward=_TOWARD[words["part"]], kerf=self.reader.kerf)

    def _corner(self, words: Words) -> Stroke:
        x = self._along(figure(words["at"]), words["end"])
        y = self._across(figure(words["across"]), words["edge"])
        edge, end = words["corner"].split()
        left, near, right, far = self.part.bounds
        corner = (left if end == "left" else right, near if edge == "near" else far)
        ring = ((x, y), (corner[0], y), corner, (x, corner[1]))
        return Stroke(path=_wide(ring, corner), inside=True)

    def _between(self, words: Words) -> Stroke:
        path = self._marks(words["marks"])
        left, near, right, far = self.part.bounds
        off = self.reader.size[0]
        side, closing = words["side"], []
        for x, y in (path[-1], path[0]):
            closing.append(
                {
                    "left": (left - off, y),
                    "right": (right + off, y),
                    "near": (x, near - off),
                    "far": (x, far + off),
                }[side]
            )
        return Stroke(path=(*path, *closing), inside=True)

    def _box(self, words: Words) -> Stroke:
        xs = [self._along(figure(words[key]), words["end"]) for key in ("at", "to")]
        ys = [self._across(figure(words[key]), words["edge"]) for key in ("across", "over")]
        ring = ((xs[0], ys[0]), (xs[1], ys[0]), (xs[1], ys[1]), (xs[0], ys[1]))
        return Stroke(path=ring, inside=True)

    def _ring(self, words: Words) -> Stroke:
        return Stroke(path=tuple(self._marks(words["marks"])), inside=True)

    def _marks(self, text: str) -> list[Point]:
        """Return the marks of a list as points."""
        marks = marks_of(text)
        if marks is None:
            message = f"marks that can't be followed: {text}"
            raise CannotCutError(message)
        return [self._mark(name, words) for name, words in marks]

    def _mark(self, name: str, words: Words) -> Point:
        """Return the point of a mark."""
        if name == "within":
            x = self._along(figure(words["at"]), words["end"])
            return x, self._across(figure(words["across"]), words["edge"])
        if name == "on edge":
            x = self._along(figure(words["at"]), words["end"])
            low, high = self._reach([(x, -REACH), (x, REACH)], 1)
            return x, low if words["on"] == "near" else high
        y = self._across(figure(words["across"]), words["edge"])
        low, high = self._reach([(-REACH, y), (REACH, y)], 0)
        return low if words["on"] == "left" else high, y

    def _reach(self, line: Sequence[Point], axis: int) -> tuple[float, float]:
        """Return from where to where a line lies on the part in hand.

        A mark just off the part is set on its corner, as a person does.
        """
        near = DUST[self.reader.unit] * 2
        met = LineString(line).intersection(self.part.buffer(near, join_style="mitre"))
        if met.is_empty:
            text = "a mark lies off the part in hand"
            raise CannotCutError(text)
        bounds = met.bounds
        return float(bounds[axis]) + near, float(bounds[axis + 2]) - near


def _wide(ring: Sequence[Point], corner: Point) -> tuple[Point, ...]:
    """Return a ring about a corner of a part with that corner moved out, off its edges."""
    (ix, iy), *_ = ring
    x = corner[0] + (1 if corner[0] > ix else -1)
    y = corner[1] + (1 if corner[1] > iy else -1)
    return (ix, iy), (x, iy), (x, y), (ix, y)
