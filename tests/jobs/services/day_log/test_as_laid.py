"""A floor planned again after row 12 of 30: another last width, four planks spoiled, one broken."""

from __future__ import annotations

import re
from datetime import date
from io import BytesIO
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from pypdf import PdfReader

from jobs.models import FloorPlan, FloorZone, Job, User, WorkDay
from jobs.readers.current_plan.floors import current_floors
from jobs.readers.current_plan.sheets import rows_of
from jobs.readers.floors.resume import followed_plan, left_words, leftovers, pieces_of_rows
from jobs.readers.stored_plan import stored_plan
from jobs.services.packets import print_packet
from jobs.services.plans import plan_zone_now
from jobs.services.scope import freeze_scope
from jobs.worker.worker import carry_out_waiting
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.judge.check import check_plan
from layout.resume.far_wall import last_row_width
from layout.resume.remaining import planks_begun
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from tests.builders import make_company, make_job, make_person, make_room, make_zone
from tests.jobs.agreed import a_crew, agree, laid_out
from tests.jobs.services.day_log.a_phone import phone_of, sent
from tests.reading import words

pytestmark = pytest.mark.django_db

ROWS_DOWN, SPOILED, AT_HAND = 12, 4, 40


@pytest.fixture
def job() -> Job:
    """A job of one den of thirty rows, agreed and laid out onto days."""
    job = make_job(make_company())
    room = make_room(job, "Den", size=(150, 206.5))
    plan_zone_now(make_zone(room), effort_iterations=60)
    return agree(job, freeze_scope(job=job, user=None))


@pytest.fixture
def days(job: Job) -> list[WorkDay]:
    """Its days."""
    return laid_out(job, a_crew(job.company))


@pytest.fixture
def lead(days: list[WorkDay]) -> User:
    """Who lays it."""
    lead = days[0].crew.members.first()
    assert lead is not None
    return lead


def logged(days: list[WorkDay], lead: User, **more: Any) -> None:
    """Log that twelve rows are down, with four planks spoiled and one offcut broken."""
    name = "lay__1"
    values = {f"hours__{name}__{lead.pk}": "8", f"through__{name}": ROWS_DOWN}
    values |= {f"spoiled__{name}__wrong__side": SPOILED, "cartons": 9, "lot": "7 A", "broken": 1}
    sent(lead, days[0], **values, last_width="4 1/4", **more)


def replanned(job: Job, visitor: Visitor) -> tuple[FloorPlan, FloorPlan, str]:
    """Note what is down as the page has it, a broken offcut gone; return both plans and its id."""
    zone = job.zones.get()
    before = followed_plan(zone)
    assert before is not None
    address = reverse("zone-going-on", args=[zone.pk])
    form = visitor.get(address).context["form"]
    broken = leftovers(before, pieces_of_rows(before, rows=ROWS_DOWN, pieces=0))[0].id
    values = {name: form.get_initial_for_field(form.fields[name], name) for name in form.fields}
    assert (values["rows"], values["last_width"]) == (ROWS_DOWN, "4 1/4")
    values |= {"key": "k7", "planks": AT_HAND, "gone": [broken]}
    assert visitor.post(address, values).status_code == 303
    return before, planned_by_the_button(zone, visitor), broken


def planned_by_the_button(zone: FloorZone, visitor: Visitor) -> FloorPlan:
    """Press the button that plans a floor, let the worker do it, and return its new plan."""
    numbers = set(zone.plans.values_list("number", flat=True))
    page = visitor.get(reverse("zone", args=[zone.pk]))
    assert f'action="{reverse("zone-plan", args=[zone.pk])}"' in page.content.decode()
    assert visitor.post(reverse("zone-plan", args=[zone.pk]), {"key": "k8"}).status_code == 303
    assert set(zone.plans.values_list("number", flat=True)) == numbers  # it waits for the worker
    assert carry_out_waiting() == 1
    (made,) = zone.plans.exclude(number__in=numbers)
    return made


def test_the_plan_of_the_rest_is_good_the_laid_lies_still_and_the_shortage_is_right(
    job: Job, days: list[WorkDay], lead: User
) -> None:
    logged(days, lead)
    owner = phone_of(make_person(job.company))
    zone = job.zones.get()
    page = words(owner.get(reverse("zone-going-on", args=[zone.pk])))
    assert "rows 1 to 12 of 30 are down, 4 planks spoiled" in page
    first, rest, broken = replanned(job, owner)
    was, now = stored_plan(first), stored_plan(rest)
    assert check_plan(now.request, now.plan) == ()
    laid = {piece.id: piece.outline for piece in was.plan.pieces if piece.row <= ROWS_DOWN}
    assert {p.id: p.outline for p in now.plan.pieces if p.id in laid} == laid
    assert last_row_width(now.plan) == pytest.approx(4.25)
    assert now.request.on_hand is not None
    assert broken not in {offcut.id for offcut in now.request.on_hand.offcuts}
    begun = planks_begun(now.request, now.plan, [piece.id for piece in now.plan.pieces])
    short = begun + now.request.spares - AT_HAND  # 52 planks to begin, 3 spares, 40 there: 15
    assert short == 15
    assert now.plan.totals.shortage_planks == short
    cartons = -(-short // 10)
    assert f"{short} planks are missing: buy {cartons} carton" in left_words(rest)[0]
    assert "of lot 7 A." in left_words(rest)[0]


@pytest.mark.usefixtures("set_paper")
def test_day_page_strips_and_packet_lay_by_the_new_plan(
    job: Job, days: list[WorkDay], lead: User
) -> None:
    logged(days, lead)
    WorkDay.objects.filter(pk=days[0].pk).update(date=date(2026, 11, 2))
    first, rest, _ = replanned(job, phone_of(make_person(job.company)))
    assert [floor.number for floor in current_floors(Job.objects.get(pk=job.pk))] == [rest.number]
    (floor,) = current_floors(Job.objects.get(pk=job.pk))
    sheet = rows_of(floor)
    assert sheet is not None
    rows = {row.row: row for row in sheet.rows()}
    assert sorted(rows) == list(range(ROWS_DOWN + 1, 31))
    was = {row.row: row.line for row in RowsOfSheet(*_of(first)).rows()}
    assert any(was[number] != row.line for number, row in rows.items())
    page = words(phone_of(lead).get(reverse("today")))
    cuts = page.partition("First cuts")[2].partition("Before going home")[0]
    for number in (14, 15, 16):  # the second day begins at row 14
        lengths = re.findall('([^ ]+)"', rows[number].line)
        assert lengths
        assert [length for length in lengths if length not in cuts] == []
    day_page = words(phone_of(lead).get(reverse("day", args=[days[1].pk])))
    assert f'href="{reverse("plan", args=[rest.pk])}"' in day_page
    packet = print_packet(Job.objects.get(pk=job.pk))
    assert packet is not None
    text = "".join(sheet.extract_text() for sheet in PdfReader(BytesIO(packet.pdf)).pages)
    text = "".join(text.split())
    assert f"Denbyplan{rest.number}" in text
    for number in range(ROWS_DOWN + 1, 30):
        last = rows[number].line.split(", ")[-1].split('"')[0]
        assert re.search(f"(cut|expect){last}tothewall", text), (number, last)
    assert "rip4¼tothewall4½" in text  # the last row comes out at 4 1/4 in, 1/4 in off the wall


def _of(plan: FloorPlan) -> tuple[PlanRequest, Plan, CutSheet]:
    stored = stored_plan(plan)
    return stored.request, stored.plan, cut_sheet(stored.request, stored.plan)
