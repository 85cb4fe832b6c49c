"""The bench at which one plank is sawn: what is in hand, what is put aside, what comes out.

A cut is read by one of two readers, by its figures or by its words; both say a CutRead. What a cut
tells of ids (``then``) is no figure: both readers are followed by the same labels.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from shapely.geometry import Polygon

from tests.sweeps.planks_wanted import Json, PieceWanted, PlankWanted
from tests.sweeps.strokes import CannotCutError, Stroke, solid


@dataclass(frozen=True, slots=True, kw_only=True)
class OnBench:
    """A part of a plank, and the pieces that are to come of it."""

    shape: Polygon
    ids: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PutAside:
    """What a cut leaves beside the part in hand.

    ``cut_with`` is the piece in hand then, ``kept`` whether the sheet keeps it, ``used_by`` the
    first piece that is cut from it later, None for what is left over.
    """

    shape: Polygon
    cut_with: str
    kept: bool
    used_by: str | None
    stack: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRead:
    """What a reader makes of a cut: the stroke and its faults.

    ``limits``: by how much less and more than drawn its figure may come out on site.
    """

    stroke: Stroke
    limits: tuple[float, float] | None = None
    faults: tuple[str, ...] = ()


# A reader is handed the cut, the part in hand, and by how much more than drawn its figure comes
# out.
Reader = Callable[[Json, Polygon, float], CutRead]


@dataclass(slots=True, kw_only=True)
class Sawn:
    """What came of a plank.

    ``limits`` by the index of a cut whose figure is found on site; ``stuck`` where a cut could not
    be made.
    """

    pieces: dict[str, Polygon] = field(default_factory=dict)
    beside: list[PutAside] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    limits: dict[int, tuple[float, float]] = field(default_factory=dict)
    stuck: bool = False


class Bench:
    """One plank being sawn."""

    def __init__(self, plank: PlankWanted, cuts: Sequence[Json], read: Reader, unit: str) -> None:
        self.plank, self.cuts, self.read, self.unit = plank, cuts, read, unit
        self.sawn = Sawn()
        self.aside = [OnBench(shape=blank, ids=self._held(blank)) for blank in plank.blanks]
        self.part: OnBench | None = None
        self.name = ""  # the piece in hand
        self.measured: str | None = None  # the piece whose place is not as drawn

    def saw(self, number: int | None = None, more: float = 0.0) -> Sawn:
        """Return what comes of the plank, the figure of cut ``number`` so much more than drawn."""
        for i, cut in enumerate(self.cuts):
            try:
                self._cut(i, cut, more if i == number else 0.0)
            except CannotCutError as error:
                self.sawn.stuck = True
                self._fault(cut, str(error))
        self._put_down()
        for part in self.aside:
            if len(part.ids) == 1:
                self.sawn.pieces[next(iter(part.ids))] = part.shape
            elif part.ids:
                self.sawn.faults.append(f"{_listed(part.ids)} are never cut apart")
        return self.sawn

    def _held(self, blank: Polygon) -> frozenset[str]:
        """Return the pieces that lie in a blank."""
        if len(self.plank.blanks) == 1:
            return frozenset(piece.id for piece in self.plank.pieces)
        return frozenset(
            piece.id
            for piece in self.plank.pieces
            if blank.intersection(piece.shape).area > piece.shape.area / 2
        )

    def _fault(self, cut: Json, text: str) -> None:
        self.sawn.faults.append(f"cut {cut.get('n')} ({cut.get('kind')}): {text}")

    def _cut(self, index: int, cut: Json, more: float) -> None:
        """Make one cut."""
        then = cut["then"]
        self._take_up(then["in_hand"], cut)
        assert self.part is not None
        if self.measured == self.name and not then.get("aside"):
            return  # what is cut off the measured end moves with it
        reading = self.read(cut, self.part.shape, more)
        if reading.limits is not None:
            self.sawn.limits[index] = reading.limits
        for text in reading.faults:
            self._fault(cut, text)
        if more:
            self.measured = self.name
        stays, goes = (
            solid(shapes, self.unit) for shapes in reading.stroke.divide(self.part.shape)
        )
        if not stays and not more:
            text = "nothing stays in hand"
            raise CannotCutError(text)
        kept = max(stays, key=lambda shape: self._share(shape, self.name), default=Polygon())
        off = [*goes, *(shape for shape in stays if shape is not kept)]
        aside = frozenset(then.get("aside") or ())
        if lost := aside - self.part.ids:
            self._fault(cut, f"{_listed(lost)} can't come of the part in hand")
        self.part = OnBench(shape=kept, ids=self.part.ids - aside)
        self._lay_aside(index, cut, off, aside)

    def _take_up(self, name: str, cut: Json) -> None:
        """Put down what is done and take up the part that holds a piece, unless it is in hand."""
        if self.part is not None and name == self.name:
            return
        self._put_down()
        holding = [part for part in self.aside if name in part.ids]
        if not holding:
            text = f"no part put aside is to become {name}"
            raise CannotCutError(text)
        self.part, self.name = holding[0], name
        self.aside.remove(holding[0])

    def _put_down(self) -> None:
        """Put down the part in hand as the piece that it has become."""
        if self.part is None:
            return
        self.sawn.pieces[self.name] = self.part.shape
        if rest := self.part.ids - {self.name}:
            self.sawn.faults.append(f"{_listed(rest)} are left in {self.name}")
        self.part = None

    def _share(self, shape: Polygon, name: str) -> float:
        """Return how much of a piece lies in a shape."""
        piece: PieceWanted | None = self.plank.piece(name)
        return 0.0 if piece is None else float(shape.intersection(piece.shape).area)

    def _lay_aside(
        self, index: int, cut: Json, off: Sequence[Polygon], aside: frozenset[str]
    ) -> None:
        """Sort what goes into what later pieces come of, what is kept and what is waste."""
        then = cut["then"]
        waste = bool(then.get("waste"))
        held: dict[int, set[str]] = {}
        for name in aside:
            if not off:
                self._fault(cut, f"nothing goes, so nothing is left for {name}")
                return
            best = max(range(len(off)), key=lambda i: self._share(off[i], name))
            held.setdefault(best, set()).add(name)
        for i, shape in enumerate(off):
            ids = frozenset(held.get(i, ()))
            if waste and not ids and cut["kind"] in ("notch", "hole"):
                continue  # what a jigsaw takes out is no leftover
            if ids:
                self.aside.append(OnBench(shape=shape, ids=ids))
            beside = PutAside(
                shape=shape,
                cut_with=self.name,
                kept=bool(ids) or not waste,
                used_by=self._next_of(ids, index),
                stack=then.get("stack") if ids else None,
            )
            self.sawn.beside.append(beside)

    def _next_of(self, ids: frozenset[str], index: int) -> str | None:
        """Return the first piece that is cut of a part after cut ``index``."""
        if not ids:
            return None
        later = (cut["then"]["in_hand"] for cut in self.cuts[index + 1 :])
        return next((name for name in later if name in ids), min(ids))


def _listed(ids: frozenset[str]) -> str:
    return ", ".join(sorted(ids))
