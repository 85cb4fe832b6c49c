"""Going on from what is down: from the log and a count at the rack to the request for what is left.

A floor keeps in ``going_on`` which plan was followed, which of its pieces are down, how many whole
planks are at hand and which of its leftovers are gone. The planner is then asked for the rest.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.db.models import Sum

from jobs.domain.days.remaining import unbroken
from jobs.domain.plans.stored import StoredPlan
from jobs.models import DayLog, FloorPlan, FloorZone, LogEntry
from jobs.readers.stored_plan import stored_plan
from layout.resume.far_wall import far_wall_moved, last_row_width
from layout.resume.remaining import go_on, offcuts_at_hand, pieces_down, planks_begun
from layout.values.plan import Offcut, Piece, Plan
from layout.values.request import PlanRequest

LAYING = "lay"


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """How far a floor has come by its plan and its log.

    ``rows`` are down and unbroken from the start; ``pieces`` more of the next row. ``planks`` is
    what was bought less what was cut, laid or spoiled.
    """

    rows: int
    of_rows: int
    spoiled: int
    planks: int


def is_of_the_rest(plan: FloorPlan) -> bool:
    """Whether a plan is only of what was left of a floor at its time."""
    return stored_plan(plan).is_of_the_rest


def left_words(plan: FloorPlan) -> tuple[str, bool]:
    """Return what a plan of what was left says of it, and whether planks are short."""
    stored = stored_plan(plan)
    totals = stored.plan.totals
    down = {piece.id for piece in stored.request.laid}
    short = totals.shortage_planks
    left = sum(1 for piece in stored.plan.pieces if piece.id not in down)
    said = f"{len(down)} pieces are down, {left} are left to lay. "
    if short:
        cartons = totals.shortage_cartons
        more = "s" if cartons != 1 else ""
        of_lot = lot_opened(plan.zone)
        lot = f", of lot {of_lot}" if of_lot else ""
        return f"{said}{short} planks are missing: buy {cartons} carton{more} more{lot}.", True
    return f"{said}What is at hand is enough.", False


def lot_opened(zone: FloorZone) -> str:
    """Return the lot that the log of the job says was opened last; empty where it says none."""
    logs = DayLog.objects.filter(day__job=zone.job_id).exclude(lot="").order_by("-pk")
    return logs.values_list("lot", flat=True).first() or ""


def width_logged(zone: FloorZone, plan: FloorPlan) -> str:
    """Return the width that the last row comes out at by the log since a plan; empty for none.

    Of a job of several floors nobody can tell whose it is.
    """
    if FloorZone.objects.filter(job=zone.job_id).count() > 1:
        return ""
    logs = DayLog.objects.filter(day__job=zone.job_id, at__gt=plan.made_at)
    said = logs.exclude(last_width="").order_by("-pk").values_list("last_width", flat=True)
    return said.first() or ""


def last_width(plan: FloorPlan) -> float:
    """Return how wide the last row of a plan is, in the unit of its job."""
    return last_row_width(stored_plan(plan).plan)


def wider_before(zone: FloorZone, plan: FloorPlan) -> float:
    """Return by how much the far wall was moved for the plan that is followed."""
    return float(zone.going_on.get("wider") or 0) if is_of_the_rest(plan) else 0.0


def followed_plan(zone: FloorZone) -> FloorPlan | None:
    """Return the newest plan of a floor, which is the one that is being laid; None without one."""
    return zone.plans.select_related("request", "document").first()


def begun_by_log(zone: FloorZone, plan: FloorPlan) -> Begun:
    """Return how far a floor has come, as its log tells."""
    stored = stored_plan(plan)
    entries = LogEntry.objects.filter(day__job=zone.job_id, zone=zone.name)
    laid = entries.filter(task=LAYING, row_from__isnull=False, row_to__isnull=False)
    spans = [(int(a or 0), int(b or 0)) for a, b in laid.values_list("row_from", "row_to")]
    of_rows = len({piece.row for piece in stored.plan.pieces})
    rows = min(unbroken(spans), of_rows)
    if stored.is_of_the_rest:  # planks were counted then
        entries = entries.filter(at__gt=plan.made_at)
    spoiled = entries.aggregate(sum=Sum("planks_spoiled"))["sum"] or 0
    ids = pieces_down(stored.plan, rows=rows)
    return Begun(
        rows=rows, of_rows=of_rows, spoiled=spoiled, planks=_left(stored, ids, zone, spoiled)
    )


def leftovers(plan: FloorPlan, laid_ids: Iterable[str]) -> tuple[Offcut, ...]:
    """Return the leftovers that lie at the rack once these pieces are down, by the plan."""
    stored = stored_plan(plan)
    return offcuts_at_hand(stored.request, stored.plan, _pieces(stored.plan, laid_ids))


def pieces_of_rows(plan: FloorPlan, *, rows: int, pieces: int) -> tuple[str, ...]:
    """Return the ids of the pieces of so many rows, and of so many pieces of the next one.

    Raises InputError (field ``rows`` or ``pieces``) where the plan does not have them.
    """
    return pieces_down(stored_plan(plan).plan, rows=rows, pieces=pieces)


def rest_of(zone: FloorZone, request: PlanRequest, plan: FloorPlan | None) -> PlanRequest:
    """Return the request of a floor for what is left of it; unchanged where nothing is down.

    ``request`` is the one for the whole floor as it stands, ``plan`` the one that was followed.
    Raises InputError where what is down doesn't lie in the floor as it stands.
    """
    if plan is None:
        return request
    begun, stored = zone.going_on, stored_plan(plan)
    before, followed = stored.request, stored.plan
    now = replace(
        request,
        zone=far_wall_moved(request.zone, followed, float(begun.get("wider") or 0)),
        lay=before.lay,
        rules=replace(request.rules, direction_deg=followed.direction_deg),
        laid=before.laid,
        on_hand=before.on_hand,
    )
    return go_on(
        now,
        followed,
        laid_ids=begun["laid"],
        planks_left=begun["planks"],
        offcuts_gone=begun["gone"],
    )


def _left(stored: StoredPlan, ids: tuple[str, ...], zone: FloorZone, spoiled: int) -> int:
    """Return the whole planks that are left of what was bought or was at hand."""
    on_hand = stored.request.on_hand
    had = on_hand.whole if on_hand else None
    if had is None:
        cartons = stored.plan.totals.cartons + int(zone.attic_carton)
        had = cartons * zone.product.carton_boards
    return max(0, had - planks_begun(stored.request, stored.plan, ids) - spoiled)


def _pieces(plan: Plan, ids: Iterable[str]) -> list[Piece]:
    known = set(ids)
    return [piece for piece in plan.pieces if piece.id in known]
