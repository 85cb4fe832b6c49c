"""Reading the cuts of a sheet by their words alone, as the person with the saw does.

Nothing is known here but the words, the part in hand, from which side the row is laid, and what
the saw takes.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely.affinity import rotate
from shapely.geometry import Polygon

from tests.sweeps.bench import CutRead
from tests.sweeps.grammar import CutInWords, Words, cut_in_words
from tests.sweeps.kneeling import TOWARD, Kneeling
from tests.sweeps.lengths import figure
from tests.sweeps.planks_wanted import Json, PlankWanted, Point
from tests.sweeps.strokes import NEAR, SAME, CannotCutError, Stroke


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

    def __call__(self, cut: Json, part: Polygon, more: float = 0.0) -> CutRead:
        """Return the stroke that a cut's words tell, its figure so much more than drawn."""
        read = cut_in_words(cut["text"])
        if read is None:
            text = f"words that can't be followed: {cut['text']}"
            raise CannotCutError(text)
        turned = self._turned(cut["then"]["in_hand"])
        seen = rotate(part, 180, origin=(self.size[0] / 2, self.size[1] / 2)) if turned else part
        limits = read.limits and (figure(read.limits[0]), figure(read.limits[1]))
        person = Kneeling(part=seen, size=self.size, unit=self.unit)
        faults = [*self._kept(read, cut["then"])]
        drawn = person.figure_of(read.words)
        if limits is not None and not limits[0] <= drawn <= limits[1]:
            faults.append(f"limits {limits[0]} to {limits[1]} do not hold {drawn}")
        if read.on_site != (cut.get("final") == "measure on site"):
            faults.append(f"final {cut.get('final')}, in words: {cut['text']}")
        stroke = self._stroke(person, read, more)
        return CutRead(
            stroke=stroke.turned_round(self.size) if turned else stroke,
            limits=None if limits is None else (limits[0] - drawn, limits[1] - drawn),
            faults=(*faults, *person.faults),
        )

    def _turned(self, name: str) -> bool:
        """Whether the person kneels at the high side of the row of a piece."""
        piece = self.plank.piece(name)
        backward = (
            piece is not None and self.control_row is not None and piece.row < self.control_row
        )
        return bool(self.high != backward)

    def _kept(self, read: CutInWords, then: Json) -> Iterator[str]:
        """Yield where the words put the part that goes elsewhere than the labels of the cut."""
        aside, stack = frozenset(then.get("aside") or ()), then.get("stack")
        if (read.pieces, read.stack) != (aside, stack):
            yield (
                f"{sorted(read.pieces)} on stack {read.stack} in words, "
                f"by the labels {sorted(aside)} on {stack}"
            )
        if not aside and (read.kept == "waste") != bool(then.get("waste")):
            yield f"what goes is {read.kept} in words, waste {then.get('waste')} by the labels"

    def _stroke(self, person: Kneeling, read: CutInWords, more: float) -> Stroke:
        """Return the stroke of a cut, in the person's view."""
        words = read.words
        match read.cut:
            case "square":
                x = person.along(figure(words["at"]) + more, words["end"])
                path = ((x, 0.0), (x, self.size[1]))
                return Stroke(path=path, toward=TOWARD[words["side"]], kerf=self.kerf)
            case "rip":
                y = person.across(figure(words["at"]) + more, words["edge"])
                path = ((0.0, y), (self.size[0], y))
                return Stroke(path=path, toward=TOWARD[words["side"]], kerf=self.rip_kerf)
            case "line":
                path = self._line(person, read, more)
                return Stroke(path=path, toward=TOWARD[words["side"]], kerf=self.kerf)
            case "corner":
                return person.corner_notch(words)
            case "notch":
                return self._notch(person, words)
            case "bay" | "bay at an end":
                return person.bay(words)
            case "box":
                return person.box(words)
            case _:
                return Stroke(path=tuple(person.marks(words["marks"])), inside=True)

    def _line(self, person: Kneeling, read: CutInWords, more: float) -> tuple[Point, Point]:
        """Return the ends of a slanted cut."""
        marks = person.marks(read.words["marks"])
        if len(marks) != 2:
            text = f"a line through {len(marks)} marks"
            raise CannotCutError(text)
        (ax, ay), (bx, by) = marks
        if "rise" in read.words:
            rise, run = figure(read.words["rise"]), figure(read.words["run"])
            off = max(abs(abs(ax - bx) - run), abs(abs(ay - by) - rise))
            if off > NEAR[self.unit] + SAME[self.unit]:
                person.faults.append(
                    f"rise {rise} over run {run}, by the marks {abs(ay - by)} over {abs(ax - bx)}"
                )
        right = person.to_the_right(read.words, more) if more else 0.0
        return (ax + right, ay), (bx + right, by)

    def _notch(self, person: Kneeling, words: Words) -> Stroke:
        """Return the stroke of a notch from mark to mark."""
        path = tuple(person.marks(words["marks"]))
        return person.which_goes(path, words["goes"], run_on=2 * NEAR[self.unit])
