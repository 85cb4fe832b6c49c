"""What a floor passport would tell as things stand now, to be frozen or to be held against it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from estimates.domain.passport.content import (
    FloorTold,
    LeftPlanks,
    PassportContent,
    ReadingTold,
    RoomOnMap,
)
from estimates.models import Purchase, PurchaseOf
from estimates.readers.quote import acceptance_of, stored_quote
from jobs.clock import day_of
from jobs.domain.checks import BadValueError
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.passport.care import CareLine, care_of
from jobs.domain.plans.stored import StoredPlan
from jobs.domain.site.moisture import METHODS, Reading, readings_of
from jobs.models import Document, FloorZone, Job, LockType, Product, SiteFacts
from jobs.readers.current_plan.floors import CurrentFloor, current_floors
from jobs.readers.floors.floors import place_of, placed_room
from layout.values.errors import LayoutError

CARTONS = "cartons"


def content_now(job: Job, *, frozen_on: date) -> PassportContent:
    """Return what the passport of a job tells, told on this day."""
    slip = job.completion_slips.order_by("signed_at").first()
    done_at = slip.signed_at if slip else job.closed_at
    site = SiteFacts.objects.filter(job=job).first()
    return PassportContent(
        frozen_on=frozen_on.isoformat(),
        done_on=day_of(done_at, job.company).isoformat() if done_at else "",
        site=job.address,
        floors=_floors(job),
        readings=tuple(_in_words(each) for each in readings_of(site.readings if site else ())),
        warranty=_warranty(job),
    )


def _floors(job: Job) -> tuple[FloorTold, ...]:
    """Return the floors of the agreed scope as they lie; none before it is agreed on."""
    try:
        current = current_floors(job)
    except BadValueError:
        return ()
    bought = list(job.purchases.filter(code=CARTONS).select_related("product"))
    single = len({floor.product for floor in current}) == 1
    return tuple(
        _floor(floor, [one for one in bought if _is_of(one, floor, single=single)])
        for floor in current
    )


def _floor(floor: CurrentFloor, bought: Sequence[Purchase]) -> FloorTold:
    row = floor.row
    product = row.product if row and row.product.name == floor.product else None
    stored = _stored(floor)
    kind = f"{product.size}, {product.get_core_display().lower()}" if product else ""
    return FloorTold(
        name=floor.name,
        product=floor.product,
        kind=kind,
        glued=product is not None and product.lock == LockType.GLUE,
        lots=tuple(dict.fromkeys(one.lot for one in bought if one.lot)),
        attic=_attic(bought, product),
        planned_spares=stored.request.spares if stored else 0,
        care=_care(product),
        plan=floor.mark.sha256,
        request=_request_of(floor) if stored else "",
        rooms=_rooms(row) if row and stored else (),
    )


def _is_of(purchase: Purchase, floor: CurrentFloor, *, single: bool) -> bool:
    """Whether cartons are those of a floor: of its product, or of the job's only one."""
    if purchase.product is None:
        return single
    return purchase.product.name == floor.product


def _stored(floor: CurrentFloor) -> StoredPlan | None:
    """Return the plan of a floor; None where it is one of older rules or can't be read."""
    if floor.of_older_rules:
        return None
    try:
        return floor.stored()
    except (BadValueError, BrokenDocumentError, LayoutError):
        return None


def _request_of(floor: CurrentFloor) -> str:
    """Return the digest of what the plan of a floor was asked for."""
    plan = floor.mark.plan
    return str(
        Document.objects.get(pk=plan.request_id).sha256 if plan else floor.document.inputs_sha256
    )


def _attic(bought: Iterable[Purchase], product: Product | None) -> tuple[LeftPlanks, ...]:
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


def _rooms(row: FloorZone) -> tuple[RoomOnMap, ...]:
    rooms = sorted(row.rooms.all(), key=lambda room: (room.order, room.pk))
    alone = len(rooms) == 1
    rings = (placed_room(room, place_of(room, alone=alone)).ring for room in rooms)
    return tuple(
        RoomOnMap(name=room.name, ring=tuple((_exact(x), _exact(y)) for x, y in ring))
        for room, ring in zip(rooms, rings, strict=True)
    )


def _exact(length: float) -> Decimal:
    """Return a length of the core as a decimal that reads back as the same number."""
    return Decimal(repr(float(length)))


def _in_words(reading: Reading) -> ReadingTold:
    method = METHODS[reading.method]
    value = f"{reading.value.normalize():f}"
    space = "" if method.unit == "%" else " "
    return ReadingTold(
        method=f"{method.label}, {method.standard}" if method.standard else method.label,
        value=f"{value}{space}{method.unit}".strip(),
        where=reading.where,
        read_on=reading.on.isoformat() if reading.on else "",
    )


def _warranty(job: Job) -> str:
    """Return the warranty as the accepted quote promised it; empty where none was."""
    accepted = acceptance_of(job)
    if accepted is None:
        return ""
    try:
        return stored_quote(accepted.quote).warranty
    except BrokenDocumentError:
        return ""
