"""What an older plan says of its cuts, told as it says it."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from jobs.domain.plans.older import older_leftovers, older_pieces
from jobs.domain.plans.stored import PLAN, REQUEST, plan_from, request_from
from layout.values.material import Side
from layout.values.plan import Cut, Plan
from layout.values.request import PlanRequest
from tests.jobs.kept import kept


@pytest.fixture
def request_before() -> PlanRequest:
    """A request of format 1."""
    return request_from(REQUEST.read(kept("request-1")))[0]


@pytest.fixture
def plan_before() -> Plan:
    """The plan of format 1 that was made for it."""
    return plan_from(PLAN.read(kept("plan-1")))[0]


def test_every_piece_of_a_kept_plan_is_there(
    request_before: PlanRequest, plan_before: Plan
) -> None:
    ids = [piece.id for piece in older_pieces(request_before, plan_before)]
    kept_ids = [piece["id"] for piece in json.loads(kept("plan-1"))["pieces"]]
    assert sorted(ids) == sorted(kept_ids)


def test_every_leftover_of_a_kept_plan_is_there(plan_before: Plan) -> None:
    labels = [leftover.label for leftover in older_leftovers(plan_before)]
    assert labels == [offcut["id"] for offcut in json.loads(kept("plan-1"))["offcuts"]]


def first_cut(request: PlanRequest, plan: Plan, cut: Cut, start: Side) -> str:
    """Return the words for a cut of the first piece, laid from a side."""
    piece = replace(plan.pieces[0], cuts=(cut,))
    turned = replace(request, lay=replace(request.lay, start=start))
    pieces = older_pieces(turned, replace(plan, pieces=(piece, *plan.pieces[1:])))
    return next(one for one in pieces if one.id == piece.id).cuts[0]


@pytest.mark.parametrize(("start", "end"), [(Side.LOW, "left end"), (Side.HIGH, "right end")])
def test_a_cut_is_told_to_a_person_who_faces_the_next_row(
    request_before: PlanRequest, plan_before: Plan, start: Side, end: str
) -> None:
    cut = Cut(kind="crosscut", measure_from="left end", at=8.5)
    said = first_cut(request_before, plan_before, cut, start)
    assert said.startswith("Cut across ")
    assert said.endswith(f"from the {end}.")


def test_a_cut_that_is_measured_on_site_tells_its_limits(
    request_before: PlanRequest, plan_before: Plan
) -> None:
    cut = Cut(kind="rip", measure_from="low side", at=5, final="site", limits=(4, 6))
    said = first_cut(request_before, plan_before, cut, Side.LOW)
    assert "from the near edge, measured on site: " in said
