"""Rows of the database become a plan request, a judged plan becomes rows."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.documents import canonical_json, digest
from jobs.domain.floors.join import ZoningError
from jobs.models import Errand, FloorPlan, FloorZone, Product, Room, UnitSystem
from jobs.readers.floors.floors import zone_of
from jobs.readers.plan_request import request_of, whats_changed
from jobs.readers.stored_plan import stored_plan
from jobs.services.floors.floors import add_zone_of_room
from jobs.services.plans import (
    FaultyPlanError,
    JudgedPlan,
    ask_for_plan,
    errand_of,
    keep_plan,
    plan_request,
    plan_zone_now,
)
from jobs.worker import worker
from layout.values.outline import EdgeKind
from layout.values.plan import Plan
from layout.values.plan_form import plan_to_json
from layout.values.request import read_request
from tests.builders import (
    make_company,
    make_doorway,
    make_job,
    make_person,
    make_product,
    make_room,
    make_zone,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def zone() -> FloorZone:
    """A den of 60 by 49 in, planned along its first wall."""
    return make_zone(make_room(make_job(make_company())))


def tampered(zone: FloorZone, change: dict[str, Any]) -> JudgedPlan:
    """Return a plan of the zone in whose JSON form some totals were changed."""
    judged = plan_request(request_of(zone), stop=lambda: False)
    form = json.loads(canonical_json(plan_to_json(judged.plan)))
    form["totals"] |= change
    return JudgedPlan(request_form=judged.request_form, plan_form=form)


def test_a_request_speaks_the_unit_of_the_job(zone: FloorZone) -> None:
    request = request_of(zone)
    assert (request["unit"], request["product"]["length"], request["rules"]["saw_kerf"]) == (
        "in",
        48.0,
        0.125,
    )


def test_a_metric_job_asks_in_millimeters() -> None:
    job = make_job(make_company(), units=UnitSystem.METRIC)
    request = request_of(make_zone(make_room(job, size=(3760, 2000))))
    assert (request["unit"], request["product"]["width"]) == ("mm", 177.8)


def test_a_request_carries_what_the_floor_was_told(zone: FloorZone) -> None:
    FloorZone.objects.update(direction_deg=None, spares=5, prefer="cartons", start="high")
    zone.refresh_from_db()
    request = read_request(request_of(zone))
    assert (request.rules.direction_deg, request.spares) == (None, 5)
    assert (str(request.prefer), str(request.lay.start)) == ("cartons", "high")


def test_the_same_rows_ask_for_the_same(zone: FloorZone) -> None:
    assert canonical_json(request_of(zone)) == canonical_json(request_of(zone))


def test_what_stands_at_the_walls_of_a_room_stands_at_the_edges_of_its_floor(
    zone: FloorZone,
) -> None:
    kinds = ("toe kick", "wall", "radiator", "wall")
    Room.objects.update(edges=[{"wall": n, "kind": kind} for n, kind in enumerate(kinds)])
    edges = request_of(zone)["zone"]["edges"]
    assert edges == {"0": {"kind": "toe kick"}, "2": {"kind": "radiator"}}


def test_holes_of_a_room_are_holes_of_its_floor(zone: FloorZone) -> None:
    ring = [[10, 10], [14, 10], [14, 14], [10, 14]]
    Room.objects.update(holes=[{"kind": "register", "ring": ring}])
    assert request_of(zone)["zone"]["holes"] == [{"outline": ring, "kind": "register"}]


@pytest.mark.parametrize("degrees", [30, 45])
def test_a_floor_laid_at_an_angle_by_score_and_snap_is_planned_and_kept(
    zone: FloorZone, degrees: int
) -> None:
    Product.objects.update(saw_kerf_mm=0, rip_kerf_mm=0)
    FloorZone.objects.update(direction_deg=degrees)
    plan = plan_zone_now(FloorZone.objects.get(), effort_iterations=20)
    assert "angle" in plan.document.text


@pytest.mark.parametrize("size", [(50, 3), (10, 20)])
def test_a_post_longer_or_wider_than_a_plank_is_laid_around(
    zone: FloorZone, size: tuple[int, int]
) -> None:
    left, low, right, high = 30, 40, 30 + size[0], 40 + size[1]
    ring = [[left, low], [right, low], [right, high], [left, high]]
    outline = [[0, 0], [110, 0], [110, 100], [0, 100]]
    Room.objects.update(outline=outline, holes=[{"kind": "post", "ring": ring}])
    plan = plan_zone_now(FloorZone.objects.get(), effort_iterations=20)
    assert not any(piece.holes for piece in stored_plan(plan).plan.pieces)


def test_a_room_alone_lies_as_it_was_measured(zone: FloorZone) -> None:
    Room.objects.update(place_x_mm=5000, place_turn_deg=90)
    assert request_of(zone)["zone"]["outline"][0] == [0.0, 0.0]


def test_a_floor_ends_under_the_strip_in_the_middle_of_the_wall(zone: FloorZone) -> None:
    make_doorway(zone.rooms.get(), treatment="T-molding", width_mm=762, depth_mm=Decimal("101.6"))
    joined = zone_of(zone)
    assert min(y for _, y in joined.outline) == -2.0
    assert EdgeKind.TRANSITION in {edge.kind for edge in joined.edges.values()}


def test_a_floor_runs_to_a_stair_nose_over_the_whole_depth(zone: FloorZone) -> None:
    doorway = {"treatment": "stair nose", "width_mm": 762, "depth_mm": Decimal("101.6")}
    make_doorway(zone.rooms.get(), **doorway)
    assert min(y for _, y in zone_of(zone).outline) == -4.0


def test_a_floor_carried_to_no_room_of_it_ends_at_the_wall(zone: FloorZone) -> None:
    make_doorway(zone.rooms.get(), beyond_floor="not measured yet")
    assert len(zone_of(zone).outline) == 4


def test_a_floor_without_rooms_can_not_be_asked_for(zone: FloorZone) -> None:
    Room.objects.update(zone=None)
    with pytest.raises(ZoningError, match="no room yet"):
        request_of(zone)


def test_a_plan_is_frozen_with_what_was_asked(zone: FloorZone) -> None:
    plan = plan_zone_now(zone)
    assert plan.document.inputs_sha256 == plan.request.sha256
    assert digest(plan.document.text) == plan.document.sha256
    assert (plan.document.kind, plan.request.kind) == ("plan", "request")


def test_a_plan_carries_its_counts(zone: FloorZone) -> None:
    plan = plan_zone_now(zone)
    totals = json.loads(plan.document.text)["totals"]
    assert (plan.planks, plan.cartons) == (totals["planks"], totals["cartons"])
    assert plan.lower_bound <= plan.planks


def test_a_newer_plan_leaves_the_older_as_it_was(zone: FloorZone) -> None:
    first = plan_zone_now(zone)
    second = plan_zone_now(zone)
    assert (first.number, second.number) == (1, 2)
    assert FloorPlan.objects.filter(pk=first.pk).exists()


@pytest.mark.parametrize("change", [{"planks": 1}, {"lower_bound": 99}, {"crosscuts": 0}])
def test_a_miscounted_plan_is_never_judged_good(zone: FloorZone, change: dict[str, int]) -> None:
    with pytest.raises(FaultyPlanError, match="It was not kept; accepted: a plan without faults"):
        tampered(zone, change)


def moved(plan: Plan) -> Plan:
    """Return the plan with its first piece pushed half an inch aside."""
    first = plan.pieces[0]
    outline = tuple((x + 0.5, y) for x, y in first.outline)
    return replace(plan, pieces=(replace(first, outline=outline), *plan.pieces[1:]))


def test_a_plan_with_a_moved_piece_can_not_be_stored(zone: FloorZone) -> None:
    good = plan_request(request_of(zone), stop=lambda: False)
    with pytest.raises(FaultyPlanError):
        keep_plan(
            zone=zone,
            judged=JudgedPlan(
                request_form=good.request_form, plan_form=plan_to_json(moved(good.plan))
            ),
            user=None,
        )
    assert not FloorPlan.objects.exists()


def test_a_plan_fits_until_something_changes(zone: FloorZone) -> None:
    assert whats_changed(plan_zone_now(zone)) == ""


def test_a_changed_product_outdates_the_plan(zone: FloorZone) -> None:
    plan = plan_zone_now(zone)
    Product.objects.update(gap_mm=Decimal(10))
    plan.zone.product.refresh_from_db()
    assert whats_changed(plan) == "Changed since this plan: rules."


def test_a_changed_room_outdates_the_plan(zone: FloorZone) -> None:
    plan = plan_zone_now(zone)
    Room.objects.update(outline=[[0, 0], [70, 0], [70, 49], [0, 49]])
    assert whats_changed(plan) == "Changed since this plan: rooms."


def test_another_name_outdates_no_plan(zone: FloorZone) -> None:
    plan = plan_zone_now(zone)
    plan.zone.name = "Ground floor"
    assert whats_changed(plan) == ""


def test_a_floor_that_can_no_longer_be_planned_says_why(zone: FloorZone) -> None:
    plan = plan_zone_now(zone)
    Room.objects.update(zone=None)
    assert "can't be planned as it stands now" in whats_changed(plan)


def test_asking_twice_is_one_errand(zone: FloorZone) -> None:
    user = make_person(zone.job.company)
    assert ask_for_plan(zone=zone, user=user) == ask_for_plan(zone=zone, user=user)


def test_asking_after_a_change_drops_the_older_errand(zone: FloorZone) -> None:
    user = make_person(zone.job.company)
    first = ask_for_plan(zone=zone, user=user)
    FloorZone.objects.update(spares=9)
    zone.refresh_from_db()
    second = ask_for_plan(zone=zone, user=user)
    first.refresh_from_db()
    assert first.state == Errand.State.CANCELED
    assert errand_of(zone) == second


@pytest.mark.django_db(transaction=True)
def test_the_worker_makes_the_plan_that_was_asked_for(zone: FloorZone) -> None:
    user = make_person(zone.job.company)
    errand = ask_for_plan(zone=zone, user=user)
    assert worker.carry_out_waiting() == 1
    errand.refresh_from_db()
    plan = FloorPlan.objects.get(zone=zone)
    assert (errand.state, json.loads(errand.result)) == ("done", {"plan": plan.pk})
    assert plan.document.made_by == user


@pytest.mark.django_db(transaction=True)
def test_a_request_that_the_planner_refuses_fails_with_its_sentence(zone: FloorZone) -> None:
    Room.objects.update(outline=[[0, 0], [10, 0], [10, 10], [0, 10]])
    Product.objects.update(gap_mm=Decimal("152.4"))
    zone.product.refresh_from_db()
    errand = ask_for_plan(zone=zone, user=make_person(zone.job.company))
    worker.carry_out_waiting()
    errand.refresh_from_db()
    assert errand.state == Errand.State.FAILED
    assert errand.error == (
        "The expansion gaps leave no floor to lay; accepted: rooms wider than the gaps at both of "
        "their walls."
    )


def test_an_effort_in_iterations_makes_the_same_plan_again(zone: FloorZone) -> None:
    first, second = (plan_zone_now(zone, effort_iterations=3) for _ in range(2))
    assert first.document.sha256 == second.document.sha256
    assert json.loads(first.request.text)["effort_iterations"] == 3


def test_a_new_floor_leaves_every_piece_measured_on_site_some_room() -> None:
    room = make_room(make_job(make_company()), size=(132, 118))
    owner, product = make_person(room.job.company), make_product(room.job.company)
    zone = add_zone_of_room(room=room, product=product, user=owner, key="k1")
    plan = plan_request(request_of(zone), stop=lambda: False).plan
    limits = [cut.limits for piece in plan.pieces for cut in piece.cuts if cut.limits]
    assert limits
    assert all(most - least > 0.2 for least, most in limits)
