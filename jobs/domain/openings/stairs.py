"""The risers of a flight before and after the floor: what each one becomes, and the limits. Pure.

    floor above   comes up by `above`
      riser n
    tread n - 1   comes up by `treads`
      ...
    tread 1       comes up by `treads`
      riser 1
    floor below   comes up by `below`

Lengths are inches. The limits are those of IRC 2021 R311.7.5; local amendments differ, and the
code of the place decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO, require_number, require_text

RISER_DIFFERENCE_IN = Decimal("0.375")
"""Greatest less smallest riser in a flight. IRC 2021 R311.7.5.1."""
RISER_MOST_IN = Decimal("7.75")
"""IRC 2021 R311.7.5.1."""
TREAD_LEAST_IN = Decimal(10)
"""IRC 2021 R311.7.5.2."""
SOURCE = "IRC 2021 R311.7.5"
ROUTE_RISERS_IN = (Decimal(4), Decimal(7))
ROUTE_TREAD_IN = Decimal(11)
ROUTE_SOURCE = "2010 ADA Standards 504.2"
"""Risers and treads of stairs on an accessible route."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Flight:
    """A flight as measured: risers from the bottom, depth of a tread, what comes up by how much."""

    name: str
    risers_in: tuple[Decimal, ...] = ()
    tread_in: Decimal | None = None
    treads_up_in: Decimal = ZERO
    below_up_in: Decimal = ZERO
    above_up_in: Decimal = ZERO

    def __post_init__(self) -> None:
        """Refuse a flight without a name, and risers or treads of nought."""
        require_text("flight.name", self.name)
        for riser in self.risers_in:
            require_number(f"flight {self.name}.risers_in", riser, above=0)
        if self.tread_in is not None:
            require_number(f"flight {self.name}.tread_in", self.tread_in, above=0)


def risers_after(flight: Flight) -> tuple[Decimal, ...]:
    """Return the risers once floor and treads are covered, from the bottom.

    A riser grows by what its upper end comes up and shrinks by what its lower end does.
    """
    count = len(flight.risers_in)
    ups = [flight.below_up_in, *[flight.treads_up_in] * (count - 1), flight.above_up_in]
    return tuple(
        riser + ups[place + 1] - ups[place] for place, riser in enumerate(flight.risers_in)
    )


def difference_in(flight: Flight) -> Decimal:
    """Return the greatest riser less the smallest, afterwards; 0 where none is measured."""
    after = risers_after(flight)
    return max(after) - min(after) if after else ZERO


def is_uneven(flight: Flight) -> bool:
    """Whether the risers differ by more than one flight may; at the limit it may."""
    return difference_in(flight) > RISER_DIFFERENCE_IN


def is_steep(flight: Flight) -> bool:
    """Whether a riser would be higher than the code has it."""
    return max(risers_after(flight), default=ZERO) > RISER_MOST_IN


def is_narrow(flight: Flight) -> bool:
    """Whether a tread is known to be less deep than the code has it."""
    return flight.tread_in is not None and flight.tread_in < TREAD_LEAST_IN


def misses_route(flight: Flight) -> bool:
    """Whether a riser or the tread, afterwards, is not what an accessible route has."""
    least, most = ROUTE_RISERS_IN
    off = any(not least <= riser <= most for riser in risers_after(flight))
    return off or (flight.tread_in is not None and flight.tread_in < ROUTE_TREAD_IN)
