"""A plan request written: read again it is the same request, and its text stays what it was."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from layout.planner.plan_floor import plan_floor
from layout.resume.remaining import go_on, pieces_down
from layout.values.material import End, Lay, Prefer, Side
from layout.values.request import PlanRequest, read_request, request_to_json
from tests.rooms import ROOMS, study

MIXED = [{"length": 48, "width": 9, "per_carton": 3}, {"length": 48, "width": 7, "per_carton": 4}]


def written(request: PlanRequest) -> Any:
    """Return a request in its JSON form, which text must not change."""
    form = request_to_json(request)
    assert json.loads(json.dumps(form)) == form
    return form


@pytest.mark.parametrize("name", sorted(ROOMS))
def test_a_room_written_and_read_again_is_the_same_request(name: str) -> None:
    request = read_request(ROOMS[name]())
    assert read_request(written(request)) == request


def changes() -> Iterator[dict[str, Any]]:
    """Yield what a request may say beyond the plain rooms."""
    yield {"lay": {"start": "high", "first_end": "right", "tongue": "low"}}
    yield {"rules": study()["rules"] | {"max_rack": 3, "balance": False, "stagger": "half"}}
    yield {"rules": study()["rules"] | {"direction_deg": "best", "wall_error": 0.25}}
    yield {"product": {"boards": MIXED, "lock": "glue"}, "spares": 2, "prefer": "cartons"}
    yield {"zone": study()["zone"] | {"edges": {"2": {"kind": "casing", "gap": 0.5, "max_gap": 1}}}}
    yield {"seed": 7, "effort_iterations": 12}


@pytest.mark.parametrize("change", list(changes()))
def test_all_that_a_request_says_is_written(change: dict[str, Any]) -> None:
    request = read_request(study() | change)
    assert read_request(written(request)) == request


def test_variants_and_rows_both_ways_are_written() -> None:
    product = study()["product"] | {"variants": {"A": 4, "B": 6}, "backward": True}
    request = read_request(study() | {"product": product, "lay": {"control_row": 3}})
    form = written(request)
    assert form["lay"] == {"start": "low", "control_row": 3}
    assert read_request(form) == request


def test_what_stands_at_its_default_is_left_out() -> None:
    form = written(read_request(study()))
    assert form["lay"] == {"start": "low"}
    assert not {"max_rack", "balance"} & set(form["rules"])
    assert not {"name", "laid", "on_hand", "effort_s"} & set(form)


def test_whole_seconds_of_effort_have_no_point() -> None:
    request = replace(read_request(study()), effort_iterations=None, effort_s=8.0)
    assert json.dumps(request_to_json(request)["effort_s"]) == "8"


def test_a_name_is_written_for_people() -> None:
    assert request_to_json(read_request(study()), name="Job 7, Closet")["name"] == "Job 7, Closet"


def test_the_text_of_a_request_is_what_it_always_was() -> None:
    request = read_request(study())
    lay = Lay(start=Side.HIGH, first_end=End.RIGHT)
    request = replace(request, lay=lay, prefer=Prefer.CARTONS, effort_iterations=None, effort_s=8)
    assert json.dumps(request_to_json(request)) == (
        '{"format": 2, "unit": "in", "zone": {"outline": [[0.0, 0.0], [161.0, 0.0], [161.0, 128.5],'
        ' [0.0, 128.5]], "holes": [], "edges": {}, "no_joints": []}, "product": {"length": 48.0,'
        ' "width": 7.0, "per_carton": 10, "lock": null}, "rules": {"expansion_gap": 0.25,'
        ' "saw_kerf": 0.125, "min_end_piece": 8.0, "min_joint_offset": 8.0, "min_row_width": 2.0,'
        ' "wall_error": 0.0, "stagger": "free", "direction_deg": 0.0}, "lay": {"start": "high",'
        ' "first_end": "right"}, "spares": 0, "prefer": "cartons", "effort_s": 8, "seed": 0}'
    )


def test_what_is_down_and_at_hand_is_written_as_in_a_plan() -> None:
    request = read_request(study() | {"effort_iterations": 5})
    plan = plan_floor(request)
    begun = go_on(request, plan, laid_ids=pieces_down(plan, rows=2), planks_left=31)
    form = written(begun)
    assert form["on_hand"]["planks"] == 31
    assert read_request(form) == begun
