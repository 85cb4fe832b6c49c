"""Parts of planks, each in its plank's own coordinates.

0                 L      a *starter* keeps the right end of its plank, an *ender* the left
| ender |k|starter|      end; what a saw takes between them is the kerf k
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from shapely.affinity import translate
from shapely.geometry import Polygon, box

from layout.values.tolerances import OVERLAP_TOLERANCE, TOUCHING_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A piece in its plank's coordinates: extents along and across, its true shape if not a box.

    ``order`` is its place in the order of laying. A part that ``floats`` needs no factory end and
    may be shifted along its plank from where it is proposed. ``slack`` is what the far wall may
    add to its right end, ``rise`` what the last wall may add to its high side.
    """

    order: int
    left: float
    right: float
    low: float
    high: float
    shape: Polygon | None = None
    floats: bool = False
    slack: float = 0.0
    rise: float = 0.0

    @property
    def length(self) -> float:
        """The extent along the plank."""
        return self.right - self.left

    def shifted(self, left: float) -> Part:
        """Return the part moved along its plank."""
        step = left - self.left
        shape = None if self.shape is None else translate(self.shape, step)
        return replace(self, left=left, right=self.right + step, shape=shape)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The planks that parts are cut from: length, width, and what a cut between two parts takes."""

    length: float
    width: float
    kerf: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plank:
    """A plank and the parts cut from it, in the order of laying.

    One that was cut before has its ``number`` and the ``label`` of its leftover; the first part,
    of an order below 0, is then what is gone of it.
    """

    stock: Stock
    parts: tuple[Part, ...]
    number: int | None = None
    label: str | None = None


def clear(a: Part, b: Part, kerf: float) -> bool:
    """Whether two parts of one plank lie a kerf apart, wherever the walls stand."""
    least = kerf - TOUCHING_TOLERANCE
    if b.left - a.right >= least + a.slack or a.left - b.right >= least + b.slack:
        return True
    if b.low - a.high >= least + a.rise or a.low - b.high >= least + b.rise:
        return True
    if a.shape is None and b.shape is None:
        return False
    one, two = (p.shape or box(p.left, p.low, p.right, p.high) for p in (a, b))
    gap = least + max(a.slack + b.slack, a.rise + b.rise)
    apart = float(one.distance(two))
    return apart >= gap and (apart > 0 or one.intersection(two).area < OVERLAP_TOLERANCE)
