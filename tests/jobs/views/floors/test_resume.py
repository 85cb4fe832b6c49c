"""A floor gone on with from its log: what is down stays, what is at hand is used."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.days.remaining import unbroken
from jobs.models import FloorPlan, FloorZone, WorkDay
from jobs.readers.floors.resume import (
    begun_by_log,
    is_of_the_rest,
    left_words,
    leftovers,
    pieces_of_rows,
)
from jobs.readers.plan_request import request_of, whats_changed
from jobs.services.plans import plan_zone_now
from jobs.services.scope import latest_plans
from tests.builders import (
    make_company,
    make_crew,
    make_day,
    make_job,
    make_log_entry,
    make_person,
    make_plan,
    make_room,
    make_zone,
)
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan() -> FloorPlan:
    """A plan of thirty rows: 206 in between the gaps are 29 boards and 3 in."""
    job = make_job(make_company())
    return make_plan(make_zone(make_room(job, size=(150, 206.5))))


@pytest.fixture
def day(plan: FloorPlan) -> WorkDay:
    """A day of a crew on that floor."""
    company = plan.zone.job.company
    return make_day(plan.zone.job, make_crew(company, make_person(company, "crew")))


@pytest.fixture
def visitor(plan: FloorPlan) -> Visitor:
    """The browser of the owner."""
    signed_in = Visitor()
    signed_in.force_login(make_person(plan.zone.job.company))
    return signed_in


def logged(day: WorkDay, first: int, last: int, **more: Any) -> None:
    """Log rows of the floor."""
    who = day.crew.members.get()
    entry = {"task": "lay", "zone": "Den", "row_from": first, "row_to": last}
    make_log_entry(day, who, **(entry | more))


def sent(zone: FloorZone, **more: Any) -> dict[str, Any]:
    """Return the form of what is down: twelve rows, forty planks, nothing gone."""
    form = {"key": "k1", "version": zone.version, "rows": 12, "pieces": 0, "planks": 40}
    return form | more


def go_on(visitor: Visitor, zone: FloorZone, **more: Any) -> Any:
    """Return the answer to what is down."""
    answer = visitor.post(reverse("zone-going-on", args=[zone.pk]), sent(zone, **more))
    zone.refresh_from_db()
    return answer


@pytest.mark.parametrize(
    ("spans", "row"),
    [([], 0), ([(1, 7), (8, 12)], 12), ([(8, 12), (1, 9)], 12), ([(1, 4), (6, 9)], 4)],
)
def test_rows_count_as_down_up_to_the_first_gap(spans: list[tuple[int, int]], row: int) -> None:
    assert unbroken(spans) == row


def test_the_log_tells_how_far_the_floor_is(plan: FloorPlan, day: WorkDay) -> None:
    logged(day, 1, 7, planks_spoiled=3, spoil_reason="wrong side")
    logged(day, 8, 12, planks_spoiled=1, spoil_reason="wrong side")
    begun = begun_by_log(plan.zone, plan)
    lying = {p["plank"] for p in json.loads(plan.document.text)["pieces"] if p["row"] <= 12}
    assert (begun.rows, begun.of_rows, begun.spoiled) == (12, 30, 4)
    assert begun.planks == plan.cartons * 10 - len(lying) - 4


def test_what_is_left_of_thirty_rows_after_twelve_is_planned_around_them(
    visitor: Visitor, plan: FloorPlan, day: WorkDay
) -> None:
    logged(day, 1, 12)
    zone = plan.zone
    gone = leftovers(plan, pieces_of_rows(plan, rows=12, pieces=0))[0].id
    assert go_on(visitor, zone, gone=[gone]).status_code == 303
    assert whats_changed(plan) == "Changed since this plan: what is at hand, what is down."
    rest = plan_zone_now(zone)
    was, now = (_outlines(each, 12) for each in (plan, rest))
    assert was == now
    assert gone not in {o["id"] for o in request_of(zone)["on_hand"]["offcuts"]}
    assert whats_changed(rest) == ""


def test_what_is_down_holds_the_direction_and_is_no_change_of_rules(
    visitor: Visitor, plan: FloorPlan
) -> None:
    zone = plan.zone
    zone.direction_deg = None
    zone.save()
    compared = plan_zone_now(zone)
    go_on(visitor, zone)
    assert whats_changed(compared) == "Changed since this plan: what is at hand, what is down."


def _outlines(plan: FloorPlan, rows: int) -> dict[str, Any]:
    """Return the outlines of the pieces of the first rows by their ids."""
    pieces = json.loads(plan.document.text)["pieces"]
    return {piece["id"]: piece["outline"] for piece in pieces if piece["row"] <= rows}


def test_too_few_planks_are_said_in_cartons_and_the_price_stays_the_whole_floors(
    visitor: Visitor, plan: FloorPlan
) -> None:
    zone = plan.zone
    go_on(visitor, zone, planks=5)
    rest = plan_zone_now(zone)
    short = json.loads(rest.document.text)["totals"]["shortage"]
    assert short["planks"] > 0
    assert f"{short['planks']} planks are missing: buy {short['cartons']}" in left_words(rest)[0]
    assert is_of_the_rest(rest)
    assert latest_plans(zone.job) == {zone: plan}
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert "planks are missing: buy" in page
    assert "5 whole planks at hand" in page
    assert "To buy" not in page
    page_of_rest = words(visitor.get(reverse("plan", args=[rest.pk])))
    assert "Still to buy" in page_of_rest
    assert "5 whole ones at hand" in page_of_rest
    assert "To buy" not in page_of_rest


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"rows": 31}, "31 can't be used; accepted: whole rows from the start wall, from 0 to 30."),
        ({"pieces": 9}, "pieces: 9 can't be used; accepted: 0 to"),
        ({"planks": ""}, "Nothing was typed; accepted: a whole number from 0 to 20000."),
        ({"gone": ["F999"]}, "F999"),
    ],
)
def test_what_can_not_be_down_is_refused_at_its_field(
    visitor: Visitor, plan: FloorPlan, fields: dict[str, Any], sentence: str
) -> None:
    answer = go_on(visitor, plan.zone, **fields)
    assert answer.status_code == 422
    assert sentence in words(answer)
    assert plan.zone.going_on == {}


def test_a_floor_that_was_measured_smaller_than_what_is_down_is_refused(
    visitor: Visitor, plan: FloorPlan
) -> None:
    room = plan.zone.rooms.get()
    room.outline = [[0, 0], [100, 0], [100, 206.5], [0, 206.5]]
    room.save()
    answer = go_on(visitor, plan.zone)
    assert answer.status_code == 422
    assert "lies outside this floor" in words(answer)


def test_no_row_down_begins_the_floor_anew(visitor: Visitor, plan: FloorPlan) -> None:
    go_on(visitor, plan.zone)
    go_on(visitor, plan.zone, rows=0, key="k2")
    assert plan.zone.going_on == {}


def test_without_a_plan_there_is_nothing_to_go_on_from(visitor: Visitor, plan: FloorPlan) -> None:
    plan.delete()
    answer = visitor.get(reverse("zone-going-on", args=[plan.zone.pk]), follow=True)
    assert "There is no plan to go on from yet." in words(answer)


def test_the_page_is_filled_from_the_log(visitor: Visitor, plan: FloorPlan, day: WorkDay) -> None:
    logged(day, 1, 12)
    page = words(visitor.get(reverse("zone-going-on", args=[plan.zone.pk])))
    assert "rows 1 to 12 of 30 are down" in page
    assert 'name="rows" value="12"' in page
