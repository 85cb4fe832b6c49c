"""The page of a plan that older rules made, and what the packet says that is not printed of it."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import FloorPlan, FloorZone, User
from tests.builders import make_job, make_person, make_room, make_zone
from tests.jobs.older import job_agreed_before, planned_before
from tests.jobs.plans import planned
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(owner: User) -> FloorPlan:
    """A plan of format 1 of a den of 60 by 49 in."""
    assert owner.company
    return planned_before(make_zone(make_room(make_job(owner.company))))


@pytest.mark.parametrize("name", ["plan", "plan-cuts"])
def test_an_older_plan_is_shown_and_says_that_it_is_one(
    visitor: Visitor, plan: FloorPlan, name: str
) -> None:
    answer = visitor.get(reverse(name, args=[plan.pk]))
    page = words(answer)
    assert answer.status_code == 200
    assert "Planned under older rules" in page
    assert "<svg" in page


def test_an_older_plan_leads_to_its_floor_to_be_planned_again(
    visitor: Visitor, plan: FloorPlan
) -> None:
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert f'<a href="{reverse("zone", args=[plan.zone_id])}">Plan the floor again</a>' in page


def test_a_newer_plan_stands_in_place_of_an_older_one(visitor: Visitor, plan: FloorPlan) -> None:
    newer = planned(FloorZone.objects.get(pk=plan.zone_id))
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert f'<a href="{reverse("plan", args=[newer.pk])}">{newer}</a> has taken the place' in page


def test_the_floor_of_an_older_plan_says_so_and_can_be_planned_again(
    visitor: Visitor, plan: FloorPlan
) -> None:
    page = words(visitor.get(reverse("zone", args=[plan.zone_id])))
    assert "Planned under older rules" in page
    assert "Plan the floor again" in page


def test_a_packet_of_an_older_plan_is_refused_on_its_page_with_the_way_to_a_new_one() -> None:
    job, visitor = job_agreed_before(), Visitor()
    visitor.force_login(make_person(job.company))
    answer = visitor.post(reverse("packet-print", args=[job.pk]))
    page = words(answer)
    assert answer.status_code == 409
    assert "The plan of Den: made by older rules. Needed: one by today's rules" in page
    assert f'href="{reverse("zone", args=[job.zones.get().pk])}">Plan Den again</a>' in page
