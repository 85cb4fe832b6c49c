"""Runs of trim cut from stock lengths so that the fewest feet are bought. Pure.

Lengths are inches. A run longer than the longest stick is joined from whole sticks and a rest, by
a scarf over a stud. The search is cut off after a fixed number of looks, never by a clock, so the
same runs always give the same sticks; what is proven says so. Allowances and limits are common
practice without a source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from functools import lru_cache

from jobs.domain.checks import ZERO, require_number, require_text
from layout.trim.form import StockLength, TrimPiece, TrimRequest, TrimStick
from layout.trim.plan_cuts import plan_cuts

STOCK_IN = (Decimal(96), Decimal(144), Decimal(192))
"""8, 12 and 16 ft."""
STOCK_MM = (Decimal(2400), Decimal(3600))
OUTSIDE_ADDS_IN = {"base": Decimal("0.625"), "shoe": Decimal("0.5")}
"""An outside miter reaches past the corner by the thickness of the trim."""
SHORTEST_PART_IN = Decimal(16)
"""A joined part reaches from one stud to the next."""
KERF_IN = Decimal("0.125")
LOOKS = 40
_PLACES = Decimal("0.000001")


@dataclass(frozen=True, kw_only=True, slots=True)
class TrimLength:
    """A run to cut: its name, the length of wall, and what its ends meet."""

    name: str
    length_in: Decimal
    start_end: str = "butt"
    finish_end: str = "butt"

    def __post_init__(self) -> None:
        """Refuse a run without name or length."""
        require_text("trim.name", self.name)
        require_number(f"trim {self.name}.length_in", self.length_in, above=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class StickCut:
    """A piece cut from a stick; ``part`` of ``parts`` where the run is joined."""

    name: str
    length_in: Decimal
    part: int = 1
    parts: int = 1


@dataclass(frozen=True, kw_only=True, slots=True)
class BoughtStick:
    """A stick of stock, what is cut from it in order, and what is left."""

    stock_in: Decimal
    cuts: tuple[StickCut, ...]
    left_in: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class Cuts:
    """The sticks to buy, their length together, and the least that any other way needs."""

    sticks: tuple[BoughtStick, ...]
    least_in: Decimal

    @property
    def bought_in(self) -> Decimal:
        """The length of all sticks together."""
        return sum((stick.stock_in for stick in self.sticks), ZERO)

    @property
    def proven(self) -> bool:
        """Whether nothing buys less: within a hair, stock being rounded to six places."""
        return self.bought_in - self.least_in < Decimal("0.01")

    def count(self) -> list[tuple[Decimal, int]]:
        """Return how many sticks of each length, the longest first."""
        counted = Counter(stick.stock_in for stick in self.sticks)
        return sorted(counted.items(), reverse=True)


@lru_cache(maxsize=256)
def cut_trim(kind: str, runs: tuple[TrimLength, ...], stock_in: tuple[Decimal, ...]) -> Cuts:
    """Return the cuts of ``runs`` of base or shoe from the stock lengths."""
    if not runs:
        return Cuts(sticks=(), least_in=ZERO)
    pieces = {
        f"{place}.{part}": (run, part, parts, length)
        for place, run in enumerate(runs)
        for part, parts, length in _parts(run, OUTSIDE_ADDS_IN[kind], max(stock_in))
    }
    request = TrimRequest(
        saw_kerf=float(KERF_IN),
        stock=tuple(_stock(length) for length in sorted(set(stock_in))),
        pieces=tuple(
            TrimPiece(id=name, length=float(length)) for name, (_, _, _, length) in pieces.items()
        ),
    )
    plan = plan_cuts(request, looks=LOOKS)
    sticks = tuple(_stick(stick, pieces) for stick in plan.sticks)
    return Cuts(sticks=sticks, least_in=plan.lower_bound_cost)


def _stock(length: Decimal) -> StockLength:
    """Return a stock length whose price is its length: least cost is least length bought."""
    return StockLength(id=str(length), length=float(length), price=length.quantize(Decimal("0.01")))


def _parts(run: TrimLength, adds: Decimal, most: Decimal) -> list[tuple[int, int, Decimal]]:
    """Return the parts of a run with what its outside ends add: whole sticks and a rest."""
    ends = (run.start_end, run.finish_end)
    length = (run.length_in + adds * ends.count("outside")).quantize(_PLACES)
    parts = int((length / most).to_integral_value(ROUND_CEILING))
    lengths = [most] * (parts - 1) + [length - most * (parts - 1)]
    if parts > 1 and lengths[-1] < SHORTEST_PART_IN:
        short = SHORTEST_PART_IN - lengths[-1]
        lengths[-2:] = [lengths[-2] - short, SHORTEST_PART_IN]
    return [(place, parts, part) for place, part in enumerate(lengths, start=1)]


def _stick(
    stick: TrimStick, pieces: dict[str, tuple[TrimLength, int, int, Decimal]]
) -> BoughtStick:
    cuts = []
    for cut in stick.cuts:
        run, part, parts, length = pieces[cut.id]
        cuts.append(StickCut(name=run.name, length_in=length, part=part, parts=parts))
    left = Decimal(repr(stick.left_over)).quantize(_PLACES)
    return BoughtStick(stock_in=Decimal(stick.stock), cuts=tuple(cuts), left_in=left)


def sticks_words(counted: Sequence[tuple[str, int]]) -> str:
    """Return how many sticks of which length in words: `2 of 16 ft, 1 of 8 ft`."""
    return ", ".join(f"{count} of {length}" for length, count in counted)
