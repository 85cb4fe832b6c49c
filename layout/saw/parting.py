"""Parting: which straight cuts part the pieces of a plank, and which then finish each of them.

A cut goes through all of the part in hand, so that every piece lies on one side of it, clear of
its kerf. What stays holds the piece that is laid first; what goes is put aside. Of all orders one
with the fewest cuts is taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import TypeAlias

from layout.saw.bench import SawBench, Want
from layout.saw.lines import (
    HIGH,
    LEFT,
    LOW,
    RIGHT,
    Corners,
    SawLine,
    Way,
    back,
    beyond,
    clipped,
    reach,
)

_MANY = 4  # pieces from which on the first order that serves is taken
_ORDER = {"crosscut": 0, "rip": 1, "angle": 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """The straight cuts that finish one piece, in order."""

    want: Want
    lines: tuple[SawLine, ...]

    @property
    def cuts(self) -> int:
        """How many cuts there are."""
        return len(self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parting:
    """A cut that parts pieces, and what is then made of what stays and of what goes."""

    line: SawLine
    stays: Tree
    goes: Tree
    cuts: int


Tree: TypeAlias = Finish | Parting


def parted(
    bench: SawBench, wants: Sequence[Want], part: Corners | None = None, *, thorough: bool = True
) -> Tree | None:
    """Return how pieces are cut from a plank, or from a part of one, None where nothing serves.

    Unless ``thorough`` it is any way that serves.
    """
    search = _Search(bench, thorough=thorough and len(wants) <= _MANY)
    return search.tree(part or bench.plank, tuple(sorted(wants, key=lambda want: want.turn)))


class _Search:
    """One search for an order, with what was looked at before."""

    def __init__(self, bench: SawBench, *, thorough: bool) -> None:
        self._bench = bench
        self._thorough = thorough
        self._known: dict[tuple[tuple[str, ...], Corners], Tree | None] = {}

    def tree(self, part: Corners, wants: tuple[Want, ...]) -> Tree | None:
        """Return how the pieces are cut from a part."""
        key = (tuple(want.name for want in wants), part)
        if key not in self._known:
            one = len(wants) == 1
            self._known[key] = self._finish(part, wants[0]) if one else self._part(part, wants)
        return self._known[key]

    def _part(self, part: Corners, wants: tuple[Want, ...]) -> Parting | None:
        """Return the cut that parts pieces with the fewest cuts after it."""
        best: Parting | None = None
        for line, stay, go in splits(self._bench, wants):
            if not self._bench.has_base(part, line.kind):
                continue
            kerf = self._bench.takes(line.way)
            stays = self.tree(clipped(part, line), stay)
            goes = self.tree(beyond(part, line, kerf), go) if stays else None
            if stays and goes:
                cuts = 1 + stays.cuts + goes.cuts
                if best is None or cuts < best.cuts:
                    best = Parting(line=line, stays=stays, goes=goes, cuts=cuts)
                if not self._thorough:
                    break
        return best

    def _finish(self, part: Corners, want: Want) -> Finish | None:
        """Return the straight cuts that finish a piece, each with something to measure from."""
        bench = self._bench
        if want.fine and not bench.has_base(part, "notch"):
            return None
        lines = sorted(want.needed(part), key=lambda line: _ORDER[line.kind])
        order = _ordered(bench, part, tuple(lines), want.near)
        return None if order is None else Finish(want=want, lines=order)


def _ordered(
    bench: SawBench, part: Corners, lines: tuple[SawLine, ...], near: float
) -> tuple[SawLine, ...] | None:
    """Return cuts of one piece in an order in which each is measured from what is still there."""
    todo = tuple(line for line in lines if reach(part, line.way) > line.at + near)
    for line in todo:
        if bench.has_base(part, line.kind):
            rest = tuple(other for other in todo if other is not line)
            after = _ordered(bench, clipped(part, line), rest, near)
            if after is not None:
                return (line, *after)
    return None if todo else ()


def splits(
    bench: SawBench, wants: Sequence[Want]
) -> Iterator[tuple[SawLine, tuple[Want, ...], tuple[Want, ...]]]:
    """Yield the cuts that part pieces, with those that stay and those that go.

    What stays holds the first. Each cut runs along what stays, then once more along what goes.
    """
    for way in _ways(wants):
        kerf, facing = bench.takes(way), back(way)
        spans = {want.name: (-want.far(facing), want.far(way)) for want in wants}
        by_far = sorted(wants, key=lambda want: spans[want.name][1])
        for number, (last, _) in enumerate(pairwise(by_far), start=1):
            stay = {want.name for want in by_far[:number]}
            if wants[0].name not in stay:
                continue
            least = spans[last.name][1]
            most = min(spans[want.name][0] for want in by_far[number:]) - kerf
            if most < least - bench.near:
                continue
            stays = tuple(want for want in wants if want.name in stay)
            goes = tuple(want for want in wants if want.name not in stay)
            least = reach(last.corners, way) if number == 1 else least
            yield SawLine(way=way, at=least), stays, goes
            if most > least + bench.near:
                yield SawLine(way=way, at=most), stays, goes


def _ways(wants: Sequence[Want]) -> list[Way]:
    """Return the ways in which cuts may part pieces, along the axes first."""
    ways: dict[Way, None] = dict.fromkeys((RIGHT, LEFT, HIGH, LOW))
    for want in wants:
        for line in want.lines:
            if line.kind == "angle":
                ways.update({line.way: None, back(line.way): None})
    return list(ways)


def fewest(tree: Tree | None) -> float:
    """Return the cuts of a tree, without end where there is none."""
    return inf if tree is None else tree.cuts
