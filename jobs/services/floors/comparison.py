"""The same floor in other directions and other products, planned briefly and set side by side.

A comparison is asked like a plan and done by the worker. Every figure is of a plan that was made
and judged. Of each other product the best plan is kept, so that a quote may offer it as a choice;
what the office takes from the table is planned again in full.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass, field, replace
from decimal import Decimal
from typing import Any

from jobs.domain.checks import BadValueError
from jobs.domain.formats import Fields
from jobs.domain.lengths import MM2_PER_IN2
from jobs.domain.plans.refused import refusal_words
from jobs.domain.scope.hours import site_quantities, tasks_from
from jobs.domain.scope.inputs import JobTake, PlanCounts, RoomTake, ZoneTake, plan_counts
from jobs.domain.scope.takeoff import take_off
from jobs.models import Errand, FloorZone, Product, User
from jobs.models.work import ACTIVE
from jobs.readers.floors.alternatives import ALTERED, put_in, zone_in
from jobs.readers.penciled.site_work import site_work
from jobs.readers.plan_request import request_form, request_value
from jobs.readers.scope import company_rates, product_take, rings_of
from jobs.readers.stored_plan import stored_plan
from jobs.services.floors.alternatives import keep_alternative
from jobs.services.floors.stock import free_other_stock
from jobs.services.openings.doorways import follow_proposals
from jobs.services.plans import JudgedPlan, plan_request
from jobs.services.records import audit_job, writes_once
from jobs.services.saving import save_measured
from jobs.worker.errands import ask_anew, latest
from layout.values.errors import LayoutError
from layout.values.outline import main_directions
from layout.values.request import read_request

KIND = "compare-floor"
EFFORT_S = 2  # a plan: enough to tell alternatives apart
MOST = 8
_IN2 = {"in": Decimal(1), "mm": MM2_PER_IN2}


@dataclass(frozen=True, kw_only=True, slots=True)
class Compared:
    """One alternative: what it takes, or why it can't be planned (``refused``).

    ``hours``: to carry and lay it at the company's rates; empty where a rate is missing.
    ``counts`` and ``by_width``: what a takeoff counts in its plan (`PlanCounts`) as text; empty in
    comparisons made before they were kept.
    """

    product: int
    name: str
    direction_deg: float
    planks: int = 0
    lower_bound: int = 0
    cartons: int = 0
    waste: float = 0.0
    cuts: int = 0
    trapped: int = 0
    hours: str = ""
    refused: str = ""
    counts: dict[str, str] = field(default_factory=dict)
    by_width: list[list[str]] = field(default_factory=list)

    @property
    def plan_counts(self) -> PlanCounts | None:
        """The counts of its plan; None where they were not kept."""
        if not self.counts:
            return None
        area = Decimal(self.counts["area_in2"])
        counted = {name: int(text) for name, text in self.counts.items() if name != "area_in2"}
        by_width = tuple((Decimal(width), int(planks)) for width, planks in self.by_width)
        values: dict[str, Any] = {**counted, "area_in2": area, "by_width": by_width}
        return PlanCounts(**values)

    @property
    def direction(self) -> str:
        """The direction in words."""
        return f"{self.direction_deg:g}°"


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedRow:
    """A row of the table, and the plan that its figures are of; None where none could be made."""

    row: Compared
    judged: JudgedPlan | None = None


def _rank(row: Compared) -> tuple[bool, int, int, int]:
    """Return what a table is sorted by: fewest cartons first, what can't be planned last."""
    return bool(row.refused), row.cartons, row.planks, row.cuts


def refuse_begun(zone: FloorZone) -> None:
    """Refuse a floor whose rows are down: they hold its direction and product.

    Raises BadValueError.
    """
    if zone.going_on:
        accepted = "a floor of which nothing is down yet"
        raise BadValueError(field="the floor", value=f"{zone}, begun", accepted=accepted)


def directions_of(zone: FloorZone) -> list[float]:
    """Return the main wall directions of a floor, the longest first.

    Raises LayoutError where the floor can't be planned.
    """
    return main_directions(request_value(zone).zone.outline)


def ask_to_compare(
    *, zone: FloorZone, products: Iterable[Product], directions: Iterable[float], user: User
) -> Errand:
    """Return the errand that compares; one under way for other alternatives is canceled.

    Raises BadValueError for no alternative or more than 8; LayoutError where the floor itself
    can't be planned.
    """
    refuse_begun(zone)
    choices = [(product, turn) for product in products for turn in directions]
    if not 1 <= len(choices) <= MOST:
        accepted = f"1 to {MOST}: fewer products or directions"
        raise BadValueError(field="alternatives", value=len(choices), accepted=accepted)
    request_value(zone)
    payload = {"zone": zone.pk, "asked": [_alternative(zone, *choice) for choice in choices]}
    company, subject = zone.job.company, f"zone:{zone.pk}"
    return ask_anew(company=company, kind=KIND, subject=subject, payload=payload, user=user)


def comparison_of(zone: FloorZone) -> Errand | None:
    """Return the newest comparison of a floor, whatever its state."""
    return latest(company=zone.job.company, kind=KIND, subject=f"zone:{zone.pk}")


def compared(errand: Errand | None) -> list[Compared]:
    """Return what a comparison found, fewest cartons first, what can't be planned last."""
    if errand is None or errand.state != Errand.State.DONE:
        return []
    alternatives = [Compared(**row) for row in json.loads(errand.result)["compared"]]
    return sorted(alternatives, key=_rank)


def being_compared(zones: Iterable[FloorZone]) -> list[FloorZone]:
    """Return those of these floors for which a comparison waits or runs."""
    by_subject = {f"zone:{zone.pk}": zone for zone in zones}
    errands = Errand.objects.filter(kind=KIND, subject__in=by_subject, state__in=ACTIVE)
    return [by_subject[subject] for subject in errands.values_list("subject", flat=True)]


def alternatives_of(zones: Iterable[FloorZone]) -> dict[int, list[Compared]]:
    """Return by its pk what the newest comparison of each floor found, as `compared` has it.

    A comparison of another outline than the floor's newest plan covers is left out: rooms were
    measured anew since.
    """
    by_subject = {f"zone:{zone.pk}": zone for zone in zones}
    errands = Errand.objects.filter(kind=KIND, subject__in=by_subject, state=Errand.State.DONE)
    newest = {errand.subject: errand for errand in errands.order_by("pk")}
    return {
        by_subject[subject].pk: compared(errand)
        for subject, errand in newest.items()
        if _is_of_outline(by_subject[subject], errand)
    }


def _is_of_outline(zone: FloorZone, errand: Errand) -> bool:
    """Whether a comparison was made of the outline that the floor's newest plan covers."""
    plan = zone.plans.select_related("request", "document").first()
    if plan is None:
        return False
    outline = stored_plan(plan).request_form["zone"]
    requests = [one["request"] for one in json.loads(errand.payload)["asked"] if "request" in one]
    return all(request["zone"] == outline for request in requests)


def compare(
    zone: FloorZone,
    alternatives: Iterable[Fields],
    *,
    stop: Callable[[], bool],
    tell: Callable[[int], None],
) -> list[PlannedRow]:
    """Return a row for every alternative, in order; ``tell`` hears how many stand.

    After ``stop`` says so the rest is left out.
    """
    rows: list[PlannedRow] = []
    for one in alternatives:
        if stop():
            break
        rows.append(_compared(zone, one, stop))
        tell(len(rows))
    return rows


def keep_compared(zone: FloorZone, rows: Sequence[PlannedRow], user: User | None) -> Fields:
    """Return the table of a comparison; the best plan of each other product is kept."""
    best: dict[int, PlannedRow] = {}
    for planned in sorted(rows, key=lambda planned: _rank(planned.row)):
        if planned.judged is not None and planned.row.product != zone.product_id:
            best.setdefault(planned.row.product, planned)
    for product in Product.objects.filter(pk__in=best):
        planned = best[product.pk]
        if planned.judged is not None:
            keep_alternative(
                zone=zone,
                product=product,
                direction_deg=Decimal(str(planned.row.direction_deg)),
                judged=planned.judged,
                user=user,
            )
    return {"compared": [asdict(planned.row) for planned in rows]}


def _alternative(zone: FloorZone, product: Product, turn: float) -> Fields:
    """Return one alternative as the handler is told of it."""
    named = {"product": product.pk, "name": product.name, "direction_deg": turn}
    try:
        request = request_value(zone_in(zone, product, Decimal(str(turn))))
        request = replace(request, effort_s=EFFORT_S)
    except LayoutError as refused:
        return {**named, "refused": refusal_words(refused, zone.job.unit)}
    return {**named, "request": request_form(request, zone)}


def _compared(zone: FloorZone, one: Fields, stop: Callable[[], bool]) -> PlannedRow:
    """Return what one alternative comes to, with its plan."""
    named = {name: one[name] for name in ("product", "name", "direction_deg")}
    if "request" not in one:
        return PlannedRow(row=Compared(**named, refused=one["refused"]))
    try:
        judged = plan_request(one["request"], stop=stop)
    except LayoutError as refused:
        return PlannedRow(row=Compared(**named, refused=refusal_words(refused, zone.job.unit)))
    return PlannedRow(row=_row_of(zone, named, judged), judged=judged)


def _row_of(zone: FloorZone, named: Fields, judged: JudgedPlan) -> Compared:
    totals = judged.plan.totals
    return Compared(
        **named,
        planks=totals.planks,
        lower_bound=totals.lower_bound,
        cartons=totals.cartons,
        waste=totals.waste,
        cuts=totals.crosscuts + totals.rips + totals.notches,
        trapped=sum(piece.trapped for piece in judged.plan.pieces),
        hours=_hours(zone, Product.objects.get(pk=named["product"]), judged),
        **_counted(plan_counts(judged.plan_form)),
    )


def _counted(plan: PlanCounts) -> dict[str, Any]:
    """Return what a takeoff counts in a plan as it is kept with a comparison."""
    counts = {name: str(count) for name, count in asdict(plan).items() if name != "by_width"}
    return {"counts": counts, "by_width": [[str(w), str(count)] for w, count in plan.by_width]}


def _hours(zone: FloorZone, product: Product, judged: JudgedPlan) -> str:
    """Return the hours to carry and lay a plan, empty where a rate is missing."""
    plan_form = judged.plan_form
    outline, holes = rings_of(read_request(judged.request_form))
    area = Decimal(str(plan_form["totals"]["floor_area"])) / _IN2[plan_form["unit"]]
    area = area.quantize(Decimal("0.01"))
    room = RoomTake(name=zone.name, area_in2=area, perimeter_in=Decimal(1))
    take = ZoneTake(
        name=zone.name,
        rooms=(room.name,),
        product=product_take(product, pad=zone.pad, barrier=zone.barrier),
        plan=plan_counts(plan_form),
        area_in2=area,
        perimeter_in=room.perimeter_in,
        outline=outline,
        holes=holes,
        spares=zone.spares,
    )
    site = site_work(zone.job, {})
    quantities = take_off(JobTake(rooms=(room,), zones=(take,)))
    try:
        tasks = tasks_from(
            (*quantities, *site_quantities(quantities, site)), company_rates(zone.job.company), site
        )
    except BadValueError:
        return ""
    return str(sum((t.hours for t in tasks if t.code in ("carry", "lay")), Decimal(0)))


@writes_once(FloorZone, "take alternative")
def take_alternative(
    *,
    zone: FloorZone,
    product: Product,
    direction_deg: Decimal,
    user: User,
    key: str,
    expected: int,
) -> FloorZone:
    """Return the floor in another product or direction. Raises StaleError if overtaken."""
    job = zone.job
    put_in(zone, product, direction_deg)
    free_other_stock(zone)
    save_measured(zone, expected=expected, names=ALTERED, system=job.units)
    follow_proposals(job=job)
    act = f"Took {product} at {direction_deg:g}° for {zone}"
    audit_job(job=job, user=user, act=act)
    return zone
