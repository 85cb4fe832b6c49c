"""What is done with a plan that older rules made: it stays current, nothing new is made of it."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from django.db.models import F

from jobs.domain.documents import canonical_json
from jobs.domain.formats import Fields
from jobs.domain.packet.floor import PacketFloor, floor_content
from jobs.domain.plans.older import OlderPlanError
from jobs.models import FloorPlan, FloorZone, Job, Packet, Product, SiteFacts
from jobs.readers.packets.gather import gather
from jobs.readers.plan_request import request_of, whats_changed
from jobs.readers.scope import scope_value
from jobs.readers.stored_plan import stored_plan
from jobs.services.floors.rules import set_going_on
from jobs.services.packets import ask_for_packet, print_packet
from jobs.services.plans import plan_request
from jobs.services.records import freeze
from jobs.services.scope import floors_to_plan_again, freeze_scope
from layout.resume.remaining import pieces_down
from layout.values.request import read_request
from tests.builders import (
    make_company,
    make_job,
    make_packet,
    make_person,
    make_product,
    make_room,
    make_zone,
)
from tests.jobs.older import job_agreed_before
from tests.jobs.plans import judged, planned

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job agreed on with a plan of format 1, laid onto days."""
    return job_agreed_before()


def as_issued(job: Job) -> Fields:
    """Return the floor of the job as an earlier release printed it."""
    row = FloorPlan.objects.get(zone__job=job)
    form = request_of(row.zone)
    floor = PacketFloor(
        name="Den",
        product="Plank",
        lock="tap",
        number=1,
        sha256=row.document.sha256,
        request=read_request(form),
        plan=judged(canonical_json(form)).plan,
    )
    content: Fields = json.loads(canonical_json(floor_content(floor, 1)))
    return content


def issued(job: Job) -> Packet:
    """Return the packet of the job as an earlier release issued it."""
    content = gather(job, issued=[as_issued(job)]) | {"number": 1, "issued_on": "2026-11-01"}
    packet = make_packet(job)
    packet.document = freeze(company=job.company, kind="packet", content=content, user=None)
    packet.save()
    return packet


def with_new_parking(job: Job) -> Job:
    """Return the job once something is new to say of its site."""
    SiteFacts.objects.filter(job=job).update(parking="In the drive")
    return Job.objects.get(pk=job.pk)


def test_a_floor_planned_before_is_still_current(job: Job) -> None:
    assert whats_changed(FloorPlan.objects.get(zone__job=job)) == ""


def test_a_product_saved_again_with_the_rip_it_always_had_outdates_no_plan(job: Job) -> None:
    Product.objects.update(rip_kerf_mm=F("saw_kerf_mm"))
    assert whats_changed(FloorPlan.objects.get(zone__job=job)) == ""


def test_another_rip_kerf_outdates_a_plan(job: Job) -> None:
    Product.objects.update(rip_kerf_mm=Decimal("4.7625"))
    assert whats_changed(FloorPlan.objects.get(zone__job=job)) == "Changed since this plan: rules."


def test_a_request_says_what_a_rip_takes() -> None:
    company = make_company()
    product = make_product(company, saw_kerf_mm=Decimal(0), rip_kerf_mm=Decimal("3.175"))
    rules = request_of(make_zone(make_room(make_job(company)), product))["rules"]
    assert (rules["saw_kerf"], rules["rip_kerf"]) == (0.0, 0.125)


def test_a_packet_issued_before_is_still_current(job: Job) -> None:
    issued(job)
    ask_for_packet(job=job, user=make_person(job.company))
    assert print_packet(job) is None


def test_a_packet_that_would_say_something_new_asks_to_plan_again(job: Job) -> None:
    issued(job)
    with pytest.raises(OlderPlanError, match="plan the floor again"):
        ask_for_packet(job=with_new_parking(job), user=make_person(job.company))


def test_a_first_packet_of_an_older_plan_asks_to_plan_again(job: Job) -> None:
    with pytest.raises(OlderPlanError, match="the plan of Den is 'made by older rules'"):
        print_packet(job)


def test_a_floor_that_is_being_laid_is_printed_as_it_was_issued(job: Job) -> None:
    floor = as_issued(job)
    issued(job)
    begin(job.zones.get())
    packet = print_packet(with_new_parking(job))
    assert packet is not None
    assert packet.content["floors"] == [floor]


def begin(zone: FloorZone) -> None:
    """Note the first row of a floor as down, fifty planks at hand."""
    plan = zone.plans.get()
    set_going_on(
        zone=zone,
        user=make_person(zone.job.company),
        key="k1",
        expected=zone.version,
        plan=plan,
        laid=pieces_down(stored_plan(plan).plan, rows=2),
        planks=50,
        gone=(),
    )


def test_a_floor_begun_by_an_older_plan_is_gone_on_with(job: Job) -> None:
    zone = job.zones.get()
    begin(zone)
    judged = plan_request(request_of(zone) | {"effort_iterations": 5}, stop=lambda: False)
    assert judged.plan.format == 2
    assert {piece.row for piece in judged.plan.pieces} > {1, 2}


def test_only_floors_that_are_not_begun_are_to_be_planned_again(job: Job) -> None:
    zone = job.zones.get()
    assert floors_to_plan_again(job) == (zone,)
    begin(zone)
    assert floors_to_plan_again(job) == ()


def test_a_floor_planned_again_is_agreed_on_and_printed(job: Job) -> None:
    planned(job.zones.get())
    assert floors_to_plan_again(job) == ()
    job.agreed_scope = freeze_scope(job=job, user=None)
    assert print_packet(job) is not None


def test_a_plan_made_before_is_counted_as_it_always_was(job: Job) -> None:
    counted = scope_value(freeze_scope(job=job, user=None)).quantities
    planks = next(entry.amount for entry in counted if entry.code == "planks")
    assert planks == FloorPlan.objects.get(zone__job=job).planks
