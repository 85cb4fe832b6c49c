"""What a takeoff is made from: plain values of rooms, zones, doorways and stairs.

Lengths are inches and areas square inches, as decimals; weights are pounds. `PlanCounts` is what
a plan says about itself. Defaults are common practice without a source and are meant to be edited.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal, get_args

from jobs.domain.checks import (
    ONE,
    ZERO,
    BadValueError,
    require_choice,
    require_number,
    require_text,
    require_unique,
)
from jobs.domain.lengths import MM2_PER_IN2, MM_PER_IN
from jobs.domain.openings.transitions import Fixing
from jobs.domain.trim.stock import STOCK_IN, TrimLength
from layout.values.outline import Ring

RoomKind = Literal["dry", "damp", "wet"]
BaseTreatment = Literal["keep", "reinstall", "replace", "none"]
ShoeTreatment = Literal["none", "reinstall", "replace"]
Furniture = Literal["empty", "some", "full"]
OldFloor = Literal["none", "carpet", "resilient", "laminate", "wood", "tile", "other"]
Treatment = Literal["carry through", "T-molding", "reducer", "end cap", "threshold", "stair nose"]
TrimKind = Literal["base", "shoe"]
TrimAction = Literal["", "keep", "reinstall", "replace", "none"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Roll:
    """A roll of pad or barrier: its size, and how far one strip laps the next (0 for butted).

    `source` says in words where the size comes from; empty: a common one.
    """

    name: str
    width_in: Decimal
    length_in: Decimal
    lap_in: Decimal = ZERO
    source: str = ""

    def __post_init__(self) -> None:
        """Refuse a roll without size, and a lap as wide as the roll."""
        require_text("roll.name", self.name)
        require_number("roll.width_in", self.width_in, above=0)
        require_number("roll.length_in", self.length_in, above=0)
        narrower = min(self.width_in, self.length_in)
        require_number("roll.lap_in", self.lap_in, least=0, below=narrower)


@dataclass(frozen=True, kw_only=True, slots=True)
class ProductTake:
    """A flooring product: laid cover of one plank, what a carton holds and what goes under it.

    `length_in` and `width_in` are laid cover; with mixed widths they are those of the widest plank,
    `carton_area_in2` says what a whole carton covers and `widths` how many planks it holds of each
    width.
    """

    name: str
    length_in: Decimal
    width_in: Decimal
    per_carton: int
    carton_weight_lb: Decimal = ZERO
    carton_area_in2: Decimal | None = None
    attached_pad: bool = False
    pad: Roll | None = None
    barrier: Roll | None = None
    acclimatize_hours: Decimal = ZERO
    widths: tuple[tuple[Decimal, int], ...] = ()

    def __post_init__(self) -> None:
        """Refuse sizes and contents of nought, and a separate pad under an attached one."""
        require_text("product.name", self.name)
        require_number("product.length_in", self.length_in, above=0)
        require_number("product.width_in", self.width_in, above=0)
        require_number("product.per_carton", self.per_carton, least=1)
        require_number("product.carton_weight_lb", self.carton_weight_lb, least=0)
        require_number("product.acclimatize_hours", self.acclimatize_hours, least=0)
        if self.carton_area_in2 is not None:
            require_number("product.carton_area_in2", self.carton_area_in2, above=0)
        if self.attached_pad and self.pad is not None:
            raise BadValueError(
                field="product.pad", value=self.pad.name, accepted="no pad: one is attached"
            )

    @property
    def carton_covers_in2(self) -> Decimal:
        """Laid cover of one carton, square inches."""
        if self.carton_area_in2 is not None:
            return self.carton_area_in2
        return self.length_in * self.width_in * self.per_carton


@dataclass(frozen=True, kw_only=True, slots=True)
class PlanCounts:
    """What a plan counts: planks, cartons, pieces, cuts and rows; area laid in square inches.

    `cartons` are those of this floor alone, its spares in them; `by_width` says how many of the
    planks are of each width, widest first, and is empty where the plan doesn't say.
    """

    planks: int
    cartons: int
    pieces: int
    full_pieces: int
    crosscuts: int
    rips: int
    notches: int
    rows: int
    area_in2: Decimal
    trapped: int = 0
    by_width: tuple[tuple[Decimal, int], ...] = ()

    def __post_init__(self) -> None:
        """Refuse a plan without planks, pieces, rows or area, and negative counts."""
        for name in ("planks", "pieces", "rows"):
            require_number(f"plan.{name}", getattr(self, name), least=1)
        for name in ("cartons", "full_pieces", "crosscuts", "rips", "notches", "trapped"):
            require_number(f"plan.{name}", getattr(self, name), least=0)
        require_number("plan.area_in2", self.area_in2, above=0)


def plan_counts(plan: Mapping[str, object]) -> PlanCounts:
    """Return the counts of a plan document (format 1, unit "in" or "mm").

    Raises BadValueError where the plan lacks totals or pieces.
    """
    totals = plan.get("totals")
    pieces = plan.get("pieces")
    if not isinstance(totals, Mapping) or not isinstance(pieces, list) or not pieces:
        raise BadValueError(field="plan", value=None, accepted="a plan with totals and pieces")
    for name in ("planks", "laid_area"):
        if name not in totals:
            raise BadValueError(field=f"plan.totals.{name}", value=None, accepted="a number")
    area = Decimal(str(totals["laid_area"]))
    scale = MM_PER_IN if plan.get("unit") == "mm" else ONE
    counted = {
        name: int(totals.get(name, 0))
        for name in ("planks", "cartons", "full_pieces", "crosscuts", "rips", "notches")
    }
    return PlanCounts(
        pieces=len(pieces),
        rows=max(int(piece["row"]) for piece in pieces),
        trapped=sum(1 for piece in pieces if piece.get("trapped")),
        area_in2=area / MM2_PER_IN2 if plan.get("unit") == "mm" else area,
        by_width=_planks_by_width(pieces, scale),
        **counted,
    )


def _planks_by_width(
    pieces: Sequence[Mapping[str, Any]], scale: Decimal
) -> tuple[tuple[Decimal, int], ...]:
    """Return how many planks the pieces are cut from, by width in inches, the widest first."""
    if not all("plank" in piece and "size" in piece for piece in pieces):
        return ()
    planks = {piece["plank"]: Decimal(str(piece["size"][1])) / scale for piece in pieces}
    widths = Counter(width.quantize(Decimal("0.01")) for width in planks.values())
    return tuple(sorted(widths.items(), reverse=True))


@dataclass(frozen=True, kw_only=True, slots=True)
class TrimTake:
    """A run of base or shoe: what is cut, of which material, and what happens to it.

    `action` empty: what happens to all of its room; `material` empty: by the room's moisture.
    """

    kind: TrimKind
    cut: TrimLength
    action: TrimAction = ""
    material: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomTake:
    """A room: floor area, perimeter, moisture kind, its base, and what is in the way.

    `base_run_in` is the wall length that carries base, doorways already left out; `shoe_run_in` is
    that of shoe, None: the same. `perimeter_in` holds what else a person runs base along, a hearth
    or an island. `trim` are the runs of both, one by one, where they are known.
    """

    name: str
    area_in2: Decimal
    perimeter_in: Decimal
    kind: RoomKind = "dry"
    base_run_in: Decimal = ZERO
    base_treatment: BaseTreatment = "keep"
    shoe_treatment: ShoeTreatment = "none"
    old_floor: OldFloor = "none"
    furniture: Furniture = "empty"
    toilets: int = 0
    appliances: int = 0
    leveler_bags: int = 0
    primer_in2: Decimal = ZERO
    subfloor_screws: int = 0
    paint_in2: Decimal = ZERO
    shoe_run_in: Decimal | None = None
    trim: tuple[TrimTake, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a room without a name or area, negative counts, base longer than its walls."""
        require_text("room.name", self.name)
        where = f"room {self.name}"
        require_number(f"{where}.area_in2", self.area_in2, above=0)
        require_number(f"{where}.perimeter_in", self.perimeter_in, above=0)
        require_number(f"{where}.base_run_in", self.base_run_in, least=0, most=self.perimeter_in)
        require_choice(f"{where}.kind", self.kind, get_args(RoomKind))
        require_choice(f"{where}.base_treatment", self.base_treatment, get_args(BaseTreatment))
        require_choice(f"{where}.shoe_treatment", self.shoe_treatment, get_args(ShoeTreatment))
        require_choice(f"{where}.old_floor", self.old_floor, get_args(OldFloor))
        require_choice(f"{where}.furniture", self.furniture, get_args(Furniture))
        for name in ("toilets", "appliances", "leveler_bags", "subfloor_screws"):
            require_number(f"{where}.{name}", getattr(self, name), least=0)
        for name in ("primer_in2", "paint_in2"):
            require_number(f"{where}.{name}", getattr(self, name), least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class ZoneTake:
    """One floor: its rooms, its product, what its plan counts, spares and the carton for the attic.

    `outline` and `holes` are its rings in inches, over which pad and barrier are rolled out;
    `perimeter_in` is the edge of the whole zone, for spacers; `on_hand` planks are not bought.
    """

    name: str
    rooms: tuple[str, ...]
    product: ProductTake
    plan: PlanCounts
    area_in2: Decimal
    perimeter_in: Decimal
    outline: Ring
    holes: tuple[Ring, ...] = ()
    spares: int = 0
    attic_carton: bool = False
    barrier_wanted: bool = False
    on_hand: int = 0

    def __post_init__(self) -> None:
        """Refuse a zone without name or rooms, and a barrier that no roll is named for."""
        require_text("zone.name", self.name)
        where = f"zone {self.name}"
        if not self.rooms:
            raise BadValueError(field=f"{where}.rooms", value=None, accepted="at least one room")
        require_unique(f"{where}.rooms", self.rooms)
        require_number(f"{where}.outline", Decimal(len(self.outline)), least=3)
        require_number(f"{where}.area_in2", self.area_in2, above=0)
        require_number(f"{where}.perimeter_in", self.perimeter_in, above=0)
        require_number(f"{where}.spares", self.spares, least=0)
        if self.barrier_wanted and self.product.barrier is None:
            raise BadValueError(
                field=f"{where}.barrier", value=None, accepted="a roll named by the product"
            )


@dataclass(frozen=True, kw_only=True, slots=True)
class DoorwayTake:
    """A doorway of a room: its width, what the floor does in it, casings, doors to take off."""

    name: str
    width_in: Decimal
    treatment: Treatment
    zone: str = ""
    profile: str = ""
    fixing: Fixing = "track"
    casings: int = 0
    doors_off: int = 0
    doors_trimmed: int = 0
    room: str = ""

    def __post_init__(self) -> None:
        """Refuse a doorway without width, an unknown treatment or fixing, negative counts."""
        require_text("doorway.name", self.name)
        where = f"doorway {self.name}"
        require_number(f"{where}.width_in", self.width_in, above=0)
        require_choice(f"{where}.treatment", self.treatment, get_args(Treatment))
        require_choice(f"{where}.fixing", self.fixing, get_args(Fixing))
        for name in ("casings", "doors_off", "doors_trimmed"):
            require_number(f"{where}.{name}", getattr(self, name), least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class StairTake:
    """A flight: treads, risers and nosings of one width, covered with planks of its zone."""

    name: str
    zone: str
    treads: int
    risers: int
    nosings: int
    width_in: Decimal
    tread_depth_in: Decimal = Decimal(10)
    riser_height_in: Decimal = Decimal("7.5")
    glued: bool = True

    def __post_init__(self) -> None:
        """Refuse a flight without a step and sizes of nought."""
        require_text("stair.name", self.name)
        where = f"stair {self.name}"
        require_number(f"{where}.treads", self.treads, least=1)
        require_number(f"{where}.risers", self.risers, least=0)
        require_number(f"{where}.nosings", self.nosings, least=0)
        for name in ("width_in", "tread_depth_in", "riser_height_in"):
            require_number(f"{where}.{name}", getattr(self, name), above=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class JobTake:
    """Everything of one job that is counted.

    `trim_stock_in` are the lengths in which trim is bought that is cut run by run.
    """

    rooms: tuple[RoomTake, ...]
    zones: tuple[ZoneTake, ...]
    doorways: tuple[DoorwayTake, ...] = ()
    stairs: tuple[StairTake, ...] = ()
    trim_stock_in: tuple[Decimal, ...] = STOCK_IN

    def __post_init__(self) -> None:
        """Refuse names that stand twice, and zones, doorways, stairs that name what isn't there."""
        rooms = [room.name for room in self.rooms]
        zones = [zone.name for zone in self.zones]
        require_unique("rooms", rooms)
        require_unique("zones", zones)
        require_unique("doorways", [doorway.name for doorway in self.doorways])
        require_unique("stairs", [stair.name for stair in self.stairs])
        require_unique("rooms of the zones", [name for zone in self.zones for name in zone.rooms])
        for length in self.trim_stock_in:
            require_number("trim_stock_in", length, above=0)
        for zone in self.zones:
            for name in zone.rooms:
                require_choice(f"zone {zone.name}.rooms", name, rooms)
        for doorway in self.doorways:
            require_choice(f"doorway {doorway.name}.zone", doorway.zone, ["", *zones])
        for stair in self.stairs:
            require_choice(f"stair {stair.name}.zone", stair.zone, zones)
