"""What a floor takes that nobody has measured, from least to most. Pure.

What was said counts at both ends; what nobody knows yet counts at the upper one alone. What
depends on the shape of rooms lies between a large open room and small ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, get_args

from estimates.domain.ballpark.area import RoughSize
from jobs.domain.checks import ONE, ZERO, require_choice, require_number
from jobs.domain.lengths import IN_PER_FT
from jobs.domain.scope.rules import TakeoffRules, up

OldFloorSaid = Literal["unknown", "none", "carpet", "resilient", "laminate", "wood", "tile"]
BaseSaid = Literal["unknown", "keep", "reinstall", "replace"]
MOST_COUNTED = 200
Ends = tuple[Decimal, Decimal]
RULES = TakeoffRules()

# Counted from this planner's plans of a 7 by 48 in plank: a room of 30 by 20 ft, one of 10 by 10.
PIECES: Ends = (Decimal("0.49"), Decimal("0.60"))
CROSSCUTS: Ends = (Decimal("0.10"), Decimal("0.28"))
RIPS: Ends = (Decimal("0.03"), Decimal("0.07"))
"""To the square foot."""

# Common practice, no source.
SIZE: Ends = (ONE, Decimal("1.10"))
"""What a caller says of the size may be a tenth short."""
NOTCHES: Ends = (ZERO, Decimal("0.02"))
WASTE: Ends = (Decimal("0.05"), Decimal("0.12"))
POUNDS: Ends = (Decimal("1.7"), Decimal("2.1"))
"""Weight of a square foot of plank, 1/4 in thick."""
CASINGS_A_DOOR = 2
PAD_ROLL_FT2 = Decimal(100)
STAIR_IN = Decimal(36)
STEP_FT2 = Decimal("4.375")
"""A tread of 10 in and a riser of 7 1/2 in, 36 in wide, as the takeoff assumes them."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoughFloor:
    """What a caller says: the size, what comes out, what goes in, what stands in the way.

    `flooring_ft2`: what a square foot of plank costs us; None: the caller has the planks.
    """

    size: RoughSize
    old_floor: OldFloorSaid = "unknown"
    base: BaseSaid = "unknown"
    flooring_ft2: Decimal | None = None
    pad: bool = False
    doors: int = 0
    strips: int = 0
    steps: int = 0
    furniture: int = 0
    toilets: int = 0
    appliances: int = 0

    def __post_init__(self) -> None:
        """Refuse unknown words, and counts that are negative or beyond any house."""
        require_choice("old_floor", self.old_floor, get_args(OldFloorSaid))
        require_choice("base", self.base, get_args(BaseSaid))
        for name in ("doors", "strips", "steps", "furniture", "toilets", "appliances"):
            require_number(name, getattr(self, name), least=0, most=MOST_COUNTED)
        if self.flooring_ft2 is not None:
            require_number("flooring_ft2", self.flooring_ft2, least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class RoughCount:
    """So much of one thing of the catalog, at least and at most; `item`: the old floor."""

    code: str
    least: Decimal
    most: Decimal
    item: str = ""


def rough_counts(floor: RoughFloor) -> tuple[RoughCount, ...]:
    """Return everything that a floor takes beside its planks and the trips to it."""
    counts = (*_laying(floor), *_old_floor(floor), *_in_the_way(floor), *_base(floor))
    return tuple(count for count in counts if count.most)


def planks_ft2(floor: RoughFloor) -> Ends:
    """Return the square feet of plank to be bought, steps and waste included."""
    steps = floor.steps * STEP_FT2
    least, most = _sized(floor.size.area_ft2)
    return ((least + steps) * (ONE + WASTE[0]), (most + steps) * (ONE + WASTE[1]))


def _sized(said: Decimal) -> Ends:
    """Return what was said of a size, and what it may really be."""
    return (said * SIZE[0], said * SIZE[1])


def _laying(floor: RoughFloor) -> Iterator[RoughCount]:
    least, most = _sized(floor.size.area_ft2)
    yield _sure("visits", ONE)
    yield RoughCount(code="floor_area", least=least, most=most)
    shares = {"pieces": PIECES, "crosscuts": CROSSCUTS, "rips": RIPS, "notches": NOTCHES}
    for code, (few, many) in (shares | {"carry": POUNDS}).items():
        yield RoughCount(code=code, least=least * few, most=most * many)
    if floor.pad:
        rolls = [Decimal(up(area / PAD_ROLL_FT2)) for area in (least, most)]
        yield RoughCount(code="pad_area", least=least, most=most)
        yield RoughCount(code="pad", least=rolls[0], most=rolls[1])


def _old_floor(floor: RoughFloor) -> Iterator[RoughCount]:
    if floor.old_floor == "none":
        return
    least, most = _sized(floor.size.area_ft2)
    known = floor.old_floor != "unknown"
    item = floor.old_floor if known else ""
    for code in ("tear_out", "disposal"):
        yield RoughCount(code=code, least=least if known else ZERO, most=most, item=item)


def _in_the_way(floor: RoughFloor) -> Iterator[RoughCount]:
    nosing = up(floor.steps * STAIR_IN / RULES.nosing_stick_in)
    counted = {
        "furniture": floor.furniture,
        "toilets": floor.toilets,
        "appliances": floor.appliances,
        "casings": floor.doors * CASINGS_A_DOOR,
        "doors_off": floor.doors,
        "transitions": floor.strips,
        "transition_profile": floor.strips,
        "treads": floor.steps,
        "risers": floor.steps,
        "nosings": floor.steps,
        "nosing_stock": nosing,
    }
    for code, count in counted.items():
        yield _sure(code, Decimal(count))


def _base(floor: RoughFloor) -> Iterator[RoughCount]:
    if floor.base == "keep":
        return
    around, most = _sized(floor.size.around_ft)
    least = ZERO if floor.base == "unknown" else around
    yield RoughCount(code="base_off", least=least, most=most)
    yield RoughCount(code="base_on", least=least, most=most)
    if floor.base == "replace":
        fewest, sticks = (Decimal(_sticks(feet)) for feet in (least, most))
        yield RoughCount(code="base_stock", least=fewest, most=sticks)


def _sticks(feet: Decimal) -> int:
    return up(feet * (ONE + RULES.trim_allowance) * IN_PER_FT / RULES.base_stick_in)


def _sure(code: str, amount: Decimal) -> RoughCount:
    return RoughCount(code=code, least=amount, most=amount)
