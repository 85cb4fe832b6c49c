"""The floors of a passport: the map as laid, product and lot, what is left, a damaged plank."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from estimates.models import Purchase, PurchaseOf
from jobs.domain.checks import BadValueError
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.lengths import core_length_words
from jobs.domain.passport.care import PRACTICE, CareLine, care_of
from jobs.domain.passport.lifting import Lift, lift_of
from jobs.domain.passport.spares import DamagedPlank, damaged_plank, fitting_leftovers
from jobs.domain.plans.stored import StoredPlan
from jobs.models import FloorZone, Job, LockType, Product
from jobs.readers.current_plan.floors import CurrentFloor, current_floors
from jobs.readers.floors.floors import place_of, placed_room
from layout.drawing.homeowner import ShownRoom
from layout.drawing.picking.pick import draw_to_pick
from layout.values.errors import LayoutError
from layout.values.plan import Plan

CARTONS = "cartons"


@dataclass(frozen=True, kw_only=True, slots=True)
class LeftPlanks:
    """Whole planks in the attic, of one lot: how many, and how it was noted."""

    planks: int
    lot: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PassportFloor:
    """One floor as it lies: ``plan`` is None where no map of it can be drawn any more.

    ``planned_spares``: planks that were bought beyond the plan, where nobody noted what is left.
    """

    place: int
    name: str
    product: Product | None
    product_name: str
    lots: tuple[str, ...]
    attic: tuple[LeftPlanks, ...]
    planned_spares: int
    care: tuple[CareLine, ...]
    stored: StoredPlan | None = None
    rooms: tuple[ShownRoom, ...] = ()
    planks: Mapping[int, int] = field(default_factory=dict)

    @property
    def attic_planks(self) -> int:
        """Whole planks of it in the attic."""
        return sum(left.planks for left in self.attic)

    @property
    def makers_care(self) -> tuple[CareLine, ...]:
        """What the maker says of its care."""
        return tuple(line for line in self.care if line.source != PRACTICE)

    @property
    def common_care(self) -> tuple[CareLine, ...]:
        """What is common practice."""
        return tuple(line for line in self.care if line.source == PRACTICE)

    @property
    def is_glued(self) -> bool:
        """Whether its planks are glued to each other, so that none is unlocked."""
        return self.product is not None and self.product.lock == LockType.GLUE


@dataclass(frozen=True, kw_only=True, slots=True)
class PickedPlank:
    """A damaged plank: what it is, how one gets at it, which leftovers fit."""

    plank: DamagedPlank
    size: str
    lift: Lift
    row_mates: int
    leftovers: tuple[str, ...]


def passport_floors(job: Job) -> tuple[PassportFloor, ...]:
    """Return the floors of the agreed scope as they lie; none before it is agreed on."""
    try:
        current = current_floors(job)
    except BadValueError:
        return ()
    bought = list(job.purchases.filter(code=CARTONS).select_related("product"))
    single = len({floor.product for floor in current}) == 1
    return tuple(
        _floor(place, floor, [one for one in bought if _is_of(one, floor, single=single)])
        for place, floor in enumerate(current, start=1)
    )


def map_of(floor: PassportFloor, picked: PickedPlank | None = None) -> str:
    """Return the map of a floor, every plank a link; empty where it can't be drawn any more."""
    if floor.stored is None:
        return ""
    plan = floor.stored.plan
    addresses = {
        piece.id: f"?floor={floor.place}&row={piece.row}&plank={piece.place}#picked-{floor.place}"
        for piece in plan.pieces
    }
    return draw_to_pick(
        floor.stored.request,
        plan,
        floor.rooms,
        title=f"{floor.name}, as laid",
        ident=f"passport-{floor.place}",
        addresses=addresses,
        picked=picked.plank.name if picked else "",
        lifted=picked.lift.planks[:-1] if picked else (),
    )


def picked_plank(
    floor: PassportFloor, *, row: int, plank: int, leftovers_stay: bool
) -> PickedPlank | None:
    """Return what is to be known of a plank; None where there is no such one."""
    plan = floor.stored.plan if floor.stored else None
    if plan is None:
        return None
    name = next((one.id for one in plan.pieces if (one.row, one.place) == (row, plank)), "")
    if not name:
        return None
    damaged, lift = damaged_plank(plan, name), lift_of(plan, name)
    fits = fitting_leftovers(plan, damaged) if leftovers_stay else ()
    out = Counter(_row_of(plan, one) for one in lift.planks)
    return PickedPlank(
        plank=damaged,
        size=_size(plan, damaged.length, damaged.width),
        lift=lift,
        row_mates=out[row] - 1,
        leftovers=tuple(f"{one.id}, {_size(plan, one.length, one.width)}" for one in fits),
    )


def _row_of(plan: Plan, name: str) -> int:
    return next(piece.row for piece in plan.pieces if piece.id == name)


def _size(plan: Plan, length: float, width: float) -> str:
    across, along = core_length_words(width, plan.unit), core_length_words(length, plan.unit)
    return f"{along} long, {across} wide"


def _is_of(purchase: Purchase, floor: CurrentFloor, *, single: bool) -> bool:
    """Whether cartons are those of a floor: of its product, or of the job's only one."""
    if purchase.product is None:
        return single
    return purchase.product.name == floor.product


def _floor(place: int, floor: CurrentFloor, bought: Sequence[Purchase]) -> PassportFloor:
    row = floor.row
    product = row.product if row and row.product.name == floor.product else None
    stored = _stored(floor)
    return PassportFloor(
        place=place,
        name=floor.name,
        product=product,
        product_name=floor.product,
        lots=tuple(dict.fromkeys(one.lot for one in bought if one.lot)),
        attic=_attic(bought, product),
        planned_spares=stored.request.spares if stored else 0,
        care=_care(product),
        stored=stored,
        rooms=_rooms(row) if row and stored else (),
        planks=Counter(piece.row for piece in stored.plan.pieces) if stored else {},
    )


def _stored(floor: CurrentFloor) -> StoredPlan | None:
    """Return the plan of a floor; None where it is one of older rules or can't be read."""
    if floor.of_older_rules:
        return None
    try:
        return floor.stored()
    except (BadValueError, BrokenDocumentError, LayoutError):
        return None


def _attic(bought: Sequence[Purchase], product: Product | None) -> tuple[LeftPlanks, ...]:
    each = product.carton_boards if product else 1
    return tuple(
        LeftPlanks(
            planks=int(one.quantity * (each if one.unit == "carton" else 1)),
            lot=one.lot,
        )
        for one in bought
        if one.kind == PurchaseOf.ATTIC
    )


def _care(product: Product | None) -> tuple[CareLine, ...]:
    if product is None:
        return ()
    facts = ("wettest", "heated_floor")
    return care_of(
        product.core,
        wettest=product.wettest,
        heated=product.heated_floor,
        sources={fact: rule_source(product, fact) for fact in facts},
    )


def _rooms(row: FloorZone) -> tuple[ShownRoom, ...]:
    rooms = sorted(row.rooms.all(), key=lambda room: (room.order, room.pk))
    return tuple(
        ShownRoom(
            name=room.name, ring=placed_room(room, place_of(room, alone=len(rooms) == 1)).ring
        )
        for room in rooms
    )
