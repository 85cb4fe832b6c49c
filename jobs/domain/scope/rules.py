"""How material is reckoned: the rules of a takeoff and the small sums that follow them.

Lengths are inches, areas square inches. The rules are common practice without a source unless a
line says more; edit them at will.
"""

from collections.abc import Iterable
from dataclasses import dataclass, fields
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from jobs.domain.checks import ONE, ZERO, require_number
from jobs.domain.lengths import IN2_PER_FT2, IN_PER_FT
from jobs.domain.scope.inputs import ProductTake, StairTake


@dataclass(frozen=True, kw_only=True, slots=True)
class TakeoffRules:
    """How material is reckoned. Lengths in inches; common practice, no source, except the tube.

    A 10.1 fl oz tube (18.2 in3) drawn as a round 1/4 in bead gives 371 in, about 30 ft: computed.
    """

    base_stick_in: Decimal = Decimal(144)
    shoe_stick_in: Decimal = Decimal(96)
    profile_stick_in: Decimal = Decimal(72)
    nosing_stick_in: Decimal = Decimal(72)
    trim_allowance: Decimal = Decimal("0.10")
    saw_kerf_in: Decimal = Decimal("0.125")
    stud_spacing_in: Decimal = Decimal(16)
    shoe_nail_spacing_in: Decimal = Decimal(12)
    spacer_spacing_in: Decimal = Decimal(12)
    screw_spacing_in: Decimal = Decimal(8)
    bead_per_tube_in: Decimal = Decimal(360)
    barrier_turn_up_in: Decimal = Decimal(2)
    tape_roll_in: Decimal = Decimal(2160)
    bag_weight_lb: Decimal = Decimal(50)
    customary_waste: Decimal = Decimal("0.10")

    def __post_init__(self) -> None:
        """Refuse negative figures, and sticks, spacings and tubes of nought."""
        may_be_zero = {"trim_allowance", "saw_kerf_in", "barrier_turn_up_in", "bag_weight_lb"}
        for field in fields(self):
            value = getattr(self, field.name)
            if field.name in may_be_zero:
                require_number(f"rules.{field.name}", value, least=0)
            else:
                require_number(f"rules.{field.name}", value, above=0)


def up(number: Decimal) -> int:
    """Return the next whole number, itself where it is whole."""
    return int(number.to_integral_value(ROUND_CEILING))


def cartons_for(planks: int, per_carton: int, attic: int = 0) -> int:
    """Return the cartons that hold `planks`, and `attic` more."""
    require_number("per_carton", per_carton, least=1)
    require_number("planks", planks, least=0)
    return -(-planks // per_carton) + attic


def cartons_by_ten_percent(
    area_in2: Decimal, carton_covers_in2: Decimal, waste: Decimal = Decimal("0.10")
) -> int:
    """Return the cartons that floor area plus `waste` would buy (the rule we compare with)."""
    require_number("carton_covers_in2", carton_covers_in2, above=0)
    return up(area_in2 * (ONE + waste) / carton_covers_in2)


def sticks_for(lengths: Iterable[Decimal], stick_in: Decimal, kerf_in: Decimal = ZERO) -> int:
    """Return how many sticks first-fit decreasing uses for `lengths`; longer ones are joined.

    A proven cut list may need fewer: this is what is bought before one is made.
    """
    require_number("stick_in", stick_in, above=0)
    left: list[Decimal] = []
    whole = 0
    parts: list[Decimal] = []
    for length in lengths:
        require_number("length", length, above=0)
        whole += int(length // stick_in)
        parts.append(length % stick_in)
    for part in sorted((part for part in parts if part), reverse=True):
        place = next((i for i, room in enumerate(left) if room >= part), None)
        if place is None:
            left.append(stick_in - part - kerf_in)
        else:
            left[place] -= part + kerf_in
    return whole + len(left)


def stair_planks(stair: StairTake, product: ProductTake) -> int:
    """Return the planks that cover the treads and risers of a flight, offcuts of strips unused."""
    across_tread = up(stair.tread_depth_in / product.width_in)
    across_riser = up(stair.riser_height_in / product.width_in)
    strips = stair.treads * across_tread + stair.risers * across_riser
    per_plank = int((product.length_in / stair.width_in).to_integral_value(ROUND_FLOOR))
    if per_plank:
        return -(-strips // per_plank)
    return strips * up(stair.width_in / product.length_in)


def in_ft2(area_in2: Decimal) -> str:
    """Return an area in square feet, one decimal."""
    return str((area_in2 / IN2_PER_FT2).quantize(Decimal("0.1")))


def in_ft(length_in: Decimal) -> str:
    """Return a length in feet, one decimal."""
    return str((length_in / IN_PER_FT).quantize(Decimal("0.1")))


def in_percent(part: Decimal) -> str:
    """Return a part of one as a percentage without needless zeros."""
    return f"{(part * 100).normalize():f} %"
