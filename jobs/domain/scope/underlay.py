"""Pad and barrier: strips across the real floor, rolls by the job. Pure.

    +--------- along ---------+
    | strip 1                 |   strips run along the longer way of the floor, each one lapping the
    |-------------------------|   one before it; a barrier turns up at the walls, a pad is butted
    | strip 2                 |
    +-------------------------+

Every strip is of the whole width of the roll: what is cut off the last one is not counted on. A
roll that ends within a strip is gone on from the next roll, with the same lap.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from shapely.geometry import LineString, Polygon, box

from jobs.domain.checks import ZERO
from jobs.domain.lengths import IN2_PER_FT2
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.inputs import JobTake, ProductTake, Roll, ZoneTake
from jobs.domain.scope.rules import TakeoffRules, in_ft, up
from layout.values.outline import Region, main_directions, to_frame

SHORT_IN = 0.25
"""What a strip may stop short of the wall by: the gap of the floor; common practice, no source."""

BY_THE_BOOK = " ft2 a roll, as the price book has it"
"""What a count says of a roll whose size is not the common one; frozen scopes hold it."""

_HUNDREDTH = Decimal("0.01")
_LEAST_LENGTH = 0.01


@dataclass(frozen=True, kw_only=True, slots=True)
class Strips:
    """The strips of a layer over one floor, and the length of the seams between them, inches."""

    lengths_in: tuple[Decimal, ...]
    seams_in: Decimal

    @property
    def length_in(self) -> Decimal:
        """All strips end to end."""
        return sum(self.lengths_in, ZERO)

    @property
    def words(self) -> str:
        """The strips as they are cut: `3 strips of 12.0 ft`, or in all where lengths differ."""
        count = len(self.lengths_in)
        many = "strip" if count == 1 else "strips"
        if len(set(self.lengths_in)) == 1:
            return f"{count} {many} of {in_ft(self.lengths_in[0])} ft"
        return f"{count} {many}, {in_ft(self.length_in)} ft together"


@dataclass(frozen=True, kw_only=True, slots=True)
class Layer:
    """What is rolled out over a floor: the code it is bought by, its roll, its turn-up at walls."""

    code: str
    roll: Roll
    turn_up_in: Decimal = ZERO


def with_rolls_bought(job: JobTake, covers_ft2: Mapping[str, Decimal]) -> JobTake:
    """Return the job with its pad and barrier in rolls that cover so much, by the code bought.

    A roll keeps its width, and is as long as what it covers makes it. A code that is not named
    keeps its common roll, and so does one whose roll would end within a lap.
    """
    pad, barrier = covers_ft2.get("pad"), covers_ft2.get("vapour_barrier")

    def bought(product: ProductTake) -> ProductTake:
        return replace(
            product, pad=_covering(product.pad, pad), barrier=_covering(product.barrier, barrier)
        )

    zones = tuple(replace(zone, product=bought(zone.product)) for zone in job.zones)
    return replace(job, zones=zones)


def _covering(roll: Roll | None, covers_ft2: Decimal | None) -> Roll | None:
    if roll is None or covers_ft2 is None:
        return roll
    length = (covers_ft2 * IN2_PER_FT2 / roll.width_in).quantize(_HUNDREDTH)
    if length <= roll.lap_in:
        return roll
    source = f"{covers_ft2.normalize():f}{BY_THE_BOOK}"
    return replace(roll, length_in=length, source=source)


def rolls_counted(quantities: Sequence[Quantity]) -> dict[str, Decimal | None]:
    """Return what a roll of pad or barrier covers by these counts, in ft2; None: the common one."""
    counted: dict[str, Decimal | None] = {}
    for entry in quantities:
        if entry.code in ("pad", "vapour_barrier"):
            said = re.search(rf"([0-9.]+){BY_THE_BOOK}", entry.basis)
            counted[entry.code] = Decimal(said[1]) if said else None
    return counted


def layers_of(zone: ZoneTake, rules: TakeoffRules) -> list[Layer]:
    """Return what lies between the subfloor and the planks of a floor, in catalog order."""
    product = zone.product
    layers = [Layer(code="pad", roll=product.pad)] if product.pad is not None else []
    if zone.barrier_wanted and product.barrier is not None:
        turned = rules.barrier_turn_up_in
        layers.append(Layer(code="vapour_barrier", roll=product.barrier, turn_up_in=turned))
    return layers


def pad_area(zone: ZoneTake, rules: TakeoffRules) -> Quantity:
    """Return the area that is rolled out on a floor, once for each layer."""
    area = zone.area_in2 * len(layers_of(zone, rules))
    basis = "area of the zone for each layer under the floor"
    return quantity("pad_area", area / IN2_PER_FT2, basis, zone=zone.name)


def rolls(job: JobTake, rules: TakeoffRules) -> list[Quantity]:
    """Return the rolls of pad, of barrier and of tape for their seams, each once for the job."""
    laid: dict[tuple[str, Roll, Decimal], list[tuple[str, Strips]]] = defaultdict(list)
    for zone in job.zones:
        for layer in layers_of(zone, rules):
            strips = strips_over(zone, layer)
            laid[layer.code, layer.roll, layer.turn_up_in].append((zone.name, strips))
    bought: list[Quantity] = []
    seams = ZERO
    for (code, roll, turn_up), floors in laid.items():
        count = rolls_for(sum((strips.length_in for _, strips in floors), ZERO), roll)
        basis = _basis(floors, roll, turn_up)
        bought.append(quantity(code, count, basis, item=roll.name))
        seams += sum((strips.seams_in for _, strips in floors), ZERO)
        seams += (count - 1) * roll.width_in
    return [*bought, _tape(seams, rules)]


def rolls_for(length_in: Decimal, roll: Roll) -> int:
    """Return the rolls that give so much strip, each gone on from the one before with a lap."""
    return max(1, up((length_in - roll.lap_in) / (roll.length_in - roll.lap_in)))


def strips_over(zone: ZoneTake, layer: Layer) -> Strips:
    """Return the strips that cover a floor, along its longer way, and their seams."""
    floor, turned = _lengthwise(zone), float(layer.turn_up_in)
    if turned:
        floor = floor.buffer(turned, join_style="mitre")
    left, low, right, high = floor.bounds
    lap, width = float(layer.roll.lap_in), float(layer.roll.width_in)
    count = max(1, math.ceil((high - low - lap - SHORT_IN) / (width - lap)))
    starts = [low + place * (width - lap) for place in range(count)]
    lengths = [
        length
        for start in starts
        for length in _reaches(floor.intersection(box(left, start, right, start + width)))
    ]
    seams = sum(_seam(floor, start) for start in starts[1:])
    return Strips(lengths_in=tuple(lengths), seams_in=_inches(seams))


def _lengthwise(zone: ZoneTake) -> Polygon:
    """Return a floor turned so that its longer way lies along x."""
    turn = main_directions(zone.outline)[0]
    floor = _turned(zone, turn)
    left, low, right, high = floor.bounds
    return floor if right - left >= high - low else _turned(zone, turn + 90)


def _turned(zone: ZoneTake, turn: float) -> Polygon:
    holes = [to_frame(hole, turn) for hole in zone.holes]
    return Polygon(to_frame(zone.outline, turn), holes)


def _reaches(part: Region) -> list[Decimal]:
    """Return how long the floor is within one strip, each stretch of it by itself."""
    shapes = [shape for shape in getattr(part, "geoms", [part]) if shape.area > 0]
    reaches: list[tuple[float, float]] = []
    for left, _, right, _ in sorted(shape.bounds for shape in shapes):
        if reaches and left <= reaches[-1][1]:
            reaches[-1] = (reaches[-1][0], max(right, reaches[-1][1]))
        else:
            reaches.append((left, right))
    return [_inches(right - left) for left, right in reaches if right - left > _LEAST_LENGTH]


def _seam(floor: Polygon, at: float) -> float:
    """Return how long two strips lie side by side; along a wall there is no seam."""
    left, _, right, _ = floor.bounds
    beside = (at - _LEAST_LENGTH, at + _LEAST_LENGTH)
    lines = (LineString([(left, y), (right, y)]) for y in beside)
    return min(float(floor.intersection(line).length) for line in lines)


def _inches(length: float) -> Decimal:
    return Decimal(repr(length)).quantize(_HUNDREDTH)


def _basis(floors: Sequence[tuple[str, Strips]], roll: Roll, turn_up: Decimal) -> str:
    """Return how the rolls of one kind were got: strips by floor, roll, lap and turn-up."""
    cut = "; ".join(f"{name}: {strips.words}" for name, strips in floors)
    length = in_ft(sum((strips.length_in for _, strips in floors), ZERO))
    lapped = f"lapped {roll.lap_in} in" if roll.lap_in else "butted"
    turned = f", turned up {turn_up} in at the walls" if turn_up else ""
    source = f" ({roll.source})" if roll.source else ""
    return (
        f"{cut}; {length} ft of roll {roll.width_in} in wide, {lapped}{turned}, "
        f"{in_ft(roll.length_in)} ft to a roll{source}, rounded up once for the job"
    )


def _tape(seams_in: Decimal, rules: TakeoffRules) -> Quantity:
    basis = (
        f"{in_ft(seams_in)} ft of seams between strips and where a roll ends, "
        f"{in_ft(rules.tape_roll_in)} ft to a roll"
    )
    return quantity("seam_tape", up(seams_in / rules.tape_roll_in), basis)
