"""The floors of a passport as they were told: the map, what is left, a damaged plank."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from estimates.domain.passport.content import FloorTold, PassportContent
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.lengths import core_length_words
from jobs.domain.passport.care import PRACTICE, CareLine
from jobs.domain.passport.lifting import Lift, lift_of
from jobs.domain.passport.spares import DamagedPlank, damaged_plank, fitting_leftovers
from jobs.domain.plans.stored import StoredPlan
from jobs.models import Company, Document
from jobs.readers.stored_plan import of_older_rules, plan_of
from layout.drawing.homeowner import ShownRoom
from layout.drawing.picking.pick import draw_to_pick
from layout.values.errors import LayoutError
from layout.values.plan import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class PassportFloor:
    """One floor as it was told: ``stored`` is None where no map of it can be drawn any more.

    ``planks``: how many lie in each row.
    """

    place: int
    facts: FloorTold
    stored: StoredPlan | None = None
    rooms: tuple[ShownRoom, ...] = ()
    planks: Mapping[int, int] = field(default_factory=dict)

    @property
    def makers_care(self) -> tuple[CareLine, ...]:
        """What the maker says of its care."""
        return tuple(line for line in self.facts.care if line.source != PRACTICE)

    @property
    def common_care(self) -> tuple[CareLine, ...]:
        """What is common practice."""
        return tuple(line for line in self.facts.care if line.source == PRACTICE)


@dataclass(frozen=True, kw_only=True, slots=True)
class PickedPlank:
    """A damaged plank: what it is, how one gets at it, which leftovers fit."""

    plank: DamagedPlank
    size: str
    lift: Lift
    row_mates: int
    leftovers: tuple[str, ...]


def floors_of(content: PassportContent, company: Company) -> tuple[PassportFloor, ...]:
    """Return the floors that a passport tells of, each with the plan that it was laid by."""
    return tuple(
        _floor(place, facts, company) for place, facts in enumerate(content.floors, start=1)
    )


def map_of(floor: PassportFloor, picked: PickedPlank | None = None, *, edition: int = 0) -> str:
    """Return the map of a floor, every plank a link; empty where it can't be drawn any more.

    ``edition``: the number of the one that the links stay in, 0 where they need not say.
    """
    if floor.stored is None:
        return ""
    plan = floor.stored.plan
    there = f"#picked-{floor.place}"
    stay = f"edition={edition}&" if edition else ""
    addresses = {
        piece.id: f"?{stay}floor={floor.place}&row={piece.row}&plank={piece.place}{there}"
        for piece in plan.pieces
    }
    return draw_to_pick(
        floor.stored.request,
        plan,
        floor.rooms,
        title=f"{floor.facts.name}, as laid",
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


def _floor(place: int, facts: FloorTold, company: Company) -> PassportFloor:
    stored = _stored(facts, company)
    return PassportFloor(
        place=place,
        facts=facts,
        stored=stored,
        rooms=_rooms(facts) if stored else (),
        planks=Counter(piece.row for piece in stored.plan.pieces) if stored else {},
    )


def _stored(facts: FloorTold, company: Company) -> StoredPlan | None:
    """Return the plan of a floor; None where it is one of older rules or can't be read."""
    if not facts.request:
        return None
    kept = Document.objects.filter(company=company)
    plan = kept.filter(kind="plan", sha256=facts.plan).first()
    request = kept.filter(kind="request", sha256=facts.request).first()
    if plan is None or request is None or of_older_rules(plan):
        return None
    try:
        return plan_of(request=request, plan=plan)
    except (BrokenDocumentError, LayoutError):
        return None


def _rooms(facts: FloorTold) -> tuple[ShownRoom, ...]:
    return tuple(
        ShownRoom(name=room.name, ring=tuple((float(x), float(y)) for x, y in room.ring))
        for room in facts.rooms
    )
