"""Parts of planks, each in its plank's own coordinates.

0                 L      a *starter* keeps the right end of its plank, an *ender* the left
| ender |k|starter|      end; what a saw takes between them is the kerf k
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from shapely.affinity import translate
from shapely.geometry import Polygon

from layout.saw.bench import LEAST_EDGE
from layout.values.material import LayingRules
from layout.values.tolerances import LENGTH_TOLERANCE, THIN_NOTCH_TOLERANCE
from layout.values.units import INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A piece in its plank's coordinates: extents along and across, its true shape if not a box.

    ``order`` is its place in the order of laying. A part that ``floats`` needs no factory end and
    may be shifted along its plank from where it is proposed. ``slack`` is what the far wall may
    add to its right end, ``rise`` what the last wall may add to its high side. Of order below 0 it
    is what is gone of a plank, ``left_over`` the true shape of what is at hand of it.
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
    left_over: Polygon | None = None

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
    """The planks that parts are cut from: length, width, and what a cut between two parts takes.

    ``kerf`` is what a cut across takes, ``rip`` what a rip does (None: the same); an end or a side
    shorter than ``least_edge`` is none to measure from. ``near``: lengths closer are the same.
    ``thin``: a notch no thicker is none.
    """

    length: float
    width: float
    kerf: float
    rip: float | None = None
    least_edge: float = LEAST_EDGE
    near: float = LENGTH_TOLERANCE["in"]
    thin: float = THIN_NOTCH_TOLERANCE["in"]

    @classmethod
    def of(cls, size: tuple[float, float], rules: LayingRules, unit: str) -> Stock:
        """Return the planks of a size under the rules of a request."""
        return cls(
            length=size[0],
            width=size[1],
            kerf=rules.saw_kerf,
            rip=rules.kerf_across,
            least_edge=LEAST_EDGE * INCH[unit],
            near=LENGTH_TOLERANCE[unit],
            thin=THIN_NOTCH_TOLERANCE[unit],
        )

    @property
    def kerf_across(self) -> float:
        """What lies between two parts side by side."""
        return self.kerf if self.rip is None else self.rip


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
