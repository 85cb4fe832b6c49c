"""Bars from a zero line: what the parts of a gain come to, gains to the right, costs to the left.

Places are in the units of a drawing that is `WIDTH` wide; every row of a chart has the same scale.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from jobs.domain.checks import ZERO

WIDTH = Decimal(320)
EDGE = Decimal(8)
_TENTH = Decimal("0.1")
STEPS = tuple(Decimal(step) for step in ("0.10", "0.25", "0.50", "1", "2.50", "5", "10", "25"))


@dataclass(frozen=True, kw_only=True, slots=True)
class GainPart:
    """A part of a gain: what it is and what it comes to; negative where it costs."""

    label: str
    amount: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class Bar:
    """A part as drawn: where it begins, how long it is, and whether it is a gain."""

    label: str
    amount: Decimal
    left: Decimal
    length: Decimal
    is_gain: bool

    @property
    def middle(self) -> Decimal:
        """The middle of the bar."""
        return (self.left + self.length / 2).quantize(_TENTH)


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark:
    """An amount marked on the scale: where it is, and from which side its words are written."""

    amount: Decimal
    place: Decimal
    anchor: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Scale:
    """How amounts become places: the zero line in the middle, `most` at either edge."""

    most: Decimal

    @property
    def zero(self) -> Decimal:
        """Where nothing is."""
        return WIDTH / 2

    def place(self, amount: Decimal) -> Decimal:
        """Return where an amount is."""
        half = WIDTH / 2 - EDGE
        return (self.zero + amount / self.most * half).quantize(_TENTH)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Half of what fits and all of it to either side; only the outer ones bear their words."""
        half = self.most / 2
        places = ((-self.most, "start"), (-half, ""), (half, ""), (self.most, "end"))
        return tuple(
            Mark(amount=amount, place=self.place(amount), anchor=anchor)
            for amount, anchor in places
        )


def scale_for(rows: Sequence[Sequence[GainPart]]) -> Scale:
    """Return a scale on which the bars of all rows have their place."""
    ends = [abs(_sum(parts, sign)) for parts in rows for sign in (1, -1)]
    longest = max(ends, default=ZERO)
    fitting = next((step for step in STEPS if step >= longest), None)
    if fitting is None:
        fitting = (longest / 25).to_integral_value(ROUND_CEILING) * 25
    return Scale(most=fitting)


def bars_of(parts: Sequence[GainPart], scale: Scale) -> tuple[Bar, ...]:
    """Return the bars of a row: gains follow each other to the right, costs to the left."""
    bars = []
    ends = {True: ZERO, False: ZERO}
    for part in parts:
        if not part.amount:
            continue
        is_gain = part.amount > 0
        start, end = ends[is_gain], ends[is_gain] + part.amount
        ends[is_gain] = end
        left, right = sorted((scale.place(start), scale.place(end)))
        bar = Bar(
            label=part.label, amount=part.amount, left=left, length=right - left, is_gain=is_gain
        )
        bars.append(bar)
    return tuple(bars)


def _sum(parts: Sequence[GainPart], sign: int) -> Decimal:
    return sum((part.amount for part in parts if part.amount * sign > 0), ZERO)
