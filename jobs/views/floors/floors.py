"""The floors of a job: put together, placed, planned."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import (
    SignedInRequest,
    company_of,
    job_for,
    office,
    signed_in,
    writable_job_for,
    writable_room_for,
    writable_zone_for,
    zone_for,
)
from jobs.domain.floors.join import zone_area
from jobs.domain.floors.walls import wall_error_of_new
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.lengths import core_area_words
from jobs.domain.plans.refused import refusal_words
from jobs.forms.base import VersionedForm, sent
from jobs.forms.floors.floors import RoomFloorForm, ZoneForm
from jobs.http import Context, go_to, render_page, wants_part
from jobs.models import Errand, FloorPlan, FloorZone, Job, Product
from jobs.readers.floors.breaks import laying_sentences, too_far
from jobs.readers.floors.cartons import bought_cartons, shares_product
from jobs.readers.floors.facts import floor_facts
from jobs.readers.floors.floors import FloorRows, floor_rows, zone_of
from jobs.readers.floors.piles import kinds_of
from jobs.readers.floors.resume import is_of_the_rest, left_words
from jobs.readers.floors.rules import rule_lines
from jobs.readers.floors.spending import offer_for
from jobs.readers.floors.stock import stock_for
from jobs.readers.floors.suitability import fitness_of
from jobs.readers.path import path_context
from jobs.readers.plan_request import whats_changed
from jobs.readers.plans import newest_plans, plan_costs
from jobs.readers.room_drawings import sketch_zone
from jobs.readers.stored_plan import of_older_rules
from jobs.services.floors import floors
from jobs.services.floors.joining import proposals_for
from jobs.services.floors.names import free_name
from jobs.services.plans import ask_for_plan, being_planned, errand_of, is_active
from jobs.views.edit_page import confirm_page, edit_page, edits, refusals
from jobs.worker.errands import cancel, stop_and_keep, worker_is_running
from layout.values.errors import LayoutError

MOST_COMPARED = 12
"""Plans of a floor that are set side by side, the newest first."""

NEW = {"spares": 3, "start": "low"}


@require_safe
@signed_in
def zone_list(request: SignedInRequest, pk: int) -> HttpResponse:
    """The floors of a job, and the rooms that are in none."""
    job = job_for(request, pk)
    context = path_context(request, job, "Floor") | {
        **_lines(job),
        "loose": job.rooms.filter(zone__isnull=True),
        "any_room": job.rooms.exists(),
        "any_product": company_of(request).products.filter(retired_at__isnull=True).exists(),
        "form": RoomFloorForm(job=job, initial={"product": _likely_product(job)}),
    }
    return render_page(request, "jobs/floors/floors.html", context)


@edits
@office
def zone_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put rooms together as a floor."""
    job = writable_job_for(request, pk)
    loose = job.rooms.filter(zone__isnull=True)
    initial = {
        **NEW,
        "wall_error": wall_error_of_new(job.company.wall_error_mm, job.units),
        "rooms": list(loose),
        "name": free_name(job),
        "product": _likely_product(job),
        "prefer": floors.preference_of_new(job, _likely_product(job)),
    }
    form = ZoneForm(sent(request), job=job, units=job.units, initial=initial)
    return edit_page(
        request,
        form=form,
        write=lambda: floors.add_zone(
            job=job,
            user=request.user,
            key=form.once_key,
            values=form.values,
            rooms=form.cleaned_data["rooms"],
        ),
        done="The floor is put together.",
        to=lambda zone: reverse("zone-place" if proposals_for(zone) else "zone", args=[zone.pk]),
        context=path_context(request, job, "Floor") | {"title": "New floor"},
        template="jobs/floors/form.html",
    )


@require_POST
@office
def room_floor(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make one room a floor of its own."""
    room = writable_room_for(request, pk)
    form = RoomFloorForm(request.POST, job=room.job)
    if form.is_valid():
        zone = form.carry_out(
            lambda: floors.add_zone_of_room(
                room=room,
                product=form.cleaned_data["product"],
                user=request.user,
                key=form.once_key,
            )
        )
        if zone is not None:
            return go_to(request, "zone", zone.pk)
    for sentence in refusals(form):
        messages.error(request, sentence)
    return go_to(request, "zone-list", room.job_id)


@require_safe
@signed_in
def zone(request: SignedInRequest, pk: int) -> HttpResponse:
    """A floor: its rooms as placed, its product, its plans."""
    return _zone_page(request, zone_for(request, pk))


@edits
@office
def zone_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change the rooms, the product or the laying of a floor."""
    zone = writable_zone_for(request, pk)
    form = ZoneForm(
        sent(request),
        job=zone.job,
        zone=zone,
        units=zone.job.units,
        initial=_initial(zone),
        version=zone.version,
    )
    return edit_page(
        request,
        form=form,
        write=lambda: floors.change_zone(
            zone=zone,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
            rooms=form.cleaned_data["rooms"],
        ),
        done="The floor is changed.",
        to=lambda _: reverse("zone", args=[zone.pk]),
        context=path_context(request, zone.job, "Floor") | {"title": zone.name, "zone": zone},
        template="jobs/floors/form.html",
    )


@edits
@office
def zone_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take a floor apart again, after asking; its rooms stay."""
    zone = writable_zone_for(request, pk)
    count = zone.plans.count()
    return confirm_page(
        request,
        title=f"Remove the floor {zone.name}",
        sentence="Its rooms stay as they were measured.",
        consequences=[
            f"{count} plan{'' if count == 1 else 's'} of it can be opened again once it is back."
        ],
        action="Remove the floor",
        write=lambda: floors.remove_zone(zone=zone, user=request.user),
        done=f"{zone.name} is removed; its rooms are still there.",
        to=reverse("zone-list", args=[zone.job_id]),
        back=reverse("zone", args=[pk]),
    )


@require_POST
@office
def zone_plan(request: SignedInRequest, pk: int) -> HttpResponse:
    """Ask for a plan of the floor as it stands."""
    zone = writable_zone_for(request, pk)
    try:
        ask_for_plan(zone=zone, user=request.user)
    except LayoutError as refused:
        return _zone_page(request, zone, refused=refusal_words(refused, zone.job.unit), status=422)
    return go_to(request, "zone", zone.pk)


@require_safe
@signed_in
def zone_progress(request: SignedInRequest, pk: int) -> HttpResponse:
    """How far planning is; once it is done, the plan."""
    zone = zone_for(request, pk)
    errand = errand_of(zone)
    if not is_active(errand):
        plan = zone.plans.first()
        if errand is not None and errand.state == Errand.State.DONE and plan is not None:
            return go_to(request, "plan", plan.pk)
        return go_to(request, "zone", zone.pk)
    if not wants_part(request):
        return go_to(request, "zone", zone.pk)
    context = {"zone": zone, "errand": errand, "worker": worker_is_running()}
    return render_page(request, "jobs/floors/floor.html", context, part="progress")


@require_POST
@office
def zone_stop(request: SignedInRequest, pk: int) -> HttpResponse:
    """End planning: keep the best plan so far, or none."""
    zone = writable_zone_for(request, pk)
    errand = errand_of(zone)
    if errand is not None and is_active(errand):
        if request.POST.get("do") == "cancel":
            cancel(errand)
            messages.info(request, "Planning is canceled; earlier plans are as they were.")
        else:
            stop_and_keep(errand)
    return go_to(request, "zone", zone.pk)


def _zone_page(
    request: SignedInRequest, zone: FloorZone, *, refused: str = "", status: int = 200
) -> HttpResponse:
    """Return the page of a floor."""
    kept = zone.plans.select_related("zone__job__company", "zone__product", "request", "document")
    plans = list(kept)
    errand = errand_of(zone)
    context = path_context(request, zone.job, "Floor") | {
        "zone": zone,
        "rooms": zone.rooms.all(),
        "svg": sketch_zone(zone),
        "errand": errand,
        "active": is_active(errand),
        "worker": worker_is_running(),
        "plans": plans,
        "costs": plan_costs(plans[:MOST_COMPARED]),
        "refused": refused,
        "fitness": fitness_of(zone),
        "rules": rule_lines(zone),
        "sorted": len(kinds_of(zone.product)) > 1,
        "shared": shares_product(zone),
        "offer": offer_for(zone) if request.user.is_office else None,
        "stock": stock_for(zone) if request.user.is_office else None,
        "breaking": VersionedForm(version=zone.version),
        **_newest(plans[0] if plans else None),
        **_standing(zone),
    }
    return render_page(request, "jobs/floors/floor.html", context, status=status)


def _newest(plan: FloorPlan | None, rows: FloorRows | None = None) -> Context:
    """Return how the newest plan stands: changed since, what it leaves, why it can't be read.

    ``rows``: what the floor is made of, where that is read already.
    """
    stands: Context = {"changed": "", "left": None, "broken": "", "older": False}
    if plan is None:
        return stands
    try:
        left = _left(plan) if is_of_the_rest(plan) else None
        older = of_older_rules(plan.document)
        return stands | {"changed": whats_changed(plan, rows), "left": left, "older": older}
    except BrokenDocumentError as broken:
        return stands | {"broken": str(broken)}


def _left(plan: FloorPlan) -> dict[str, str]:
    """Return what the page says of what is left, and its tone."""
    sentence, short = left_words(plan)
    return {"sentence": sentence, "tone": "caution" if short else "plain"}


def _standing(zone: FloorZone) -> Context:
    """Return what is known of the floor with its joined area, or why its rooms make none."""
    try:
        joined = zone_of(zone)
    except LayoutError as bad:
        facts = floor_facts(zone, "")
        return {
            "fault": refusal_words(bad, zone.job.unit),
            "area": "",
            "facts_of_zone": facts,
            "too_far": None,
            "laying": (),
        }
    area = core_area_words(zone_area(joined), zone.job.unit)
    return {
        "fault": "",
        "area": area,
        "facts_of_zone": floor_facts(zone, area),
        "too_far": too_far(zone, joined),
        "laying": laying_sentences(zone, joined),
    }


def _lines(job: Job) -> Context:
    """Return what the list shows of each floor of a job, and the cartons of all together."""
    zones = list(job.zones.select_related("product").prefetch_related("rooms"))
    rows, plans = floor_rows(zones), newest_plans(zones)
    active = being_planned(job.company, zones)
    lines: list[Context] = [
        {
            "zone": zone,
            "rooms": [room.name for room in rows[zone.pk].rooms],
            "plan": (plan := plans.get(zone.pk)),
            **_newest(plan, rows[zone.pk]),
            "active": zone.pk in active,
        }
        for zone in zones
    ]
    begun = any(line["left"] for line in lines)
    return {"lines": lines, "bought": [] if begun else bought_cartons(zones, plans)}


def _likely_product(job: Job) -> Product | None:
    """Return the product of the job's last floor, else the company's only one."""
    last = job.zones.select_related("product").last()
    if last is not None:
        return last.product
    offered = list(job.company.products.filter(retired_at__isnull=True)[:2])
    return offered[0] if len(offered) == 1 else None


def _initial(zone: FloorZone) -> dict[str, object]:
    """Return what the form of a floor shows first."""
    names = ("name", "product", "start", "control_row", "spares", "attic_carton", "pad")
    initial = {name: getattr(zone, name) for name in (*names, "barrier", "prefer")}
    direction = zone.direction_deg
    return initial | {
        "rooms": list(zone.rooms.all()),
        "direction": None if direction is None else f"{direction.normalize():f}",
        "wall_error": zone.wall_error_mm,
    }
