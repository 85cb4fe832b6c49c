"""The request of a floor: what was stored stays as it was written, and is still held against it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from jobs.domain.documents import canonical_json
from jobs.models import FloorPlan, FloorZone
from jobs.readers.plan_request import request_of, whats_changed
from jobs.services.plans import JudgedPlan, keep_plan, plan_request
from layout.values.request import read_request, request_to_json
from tests.books.book import kept_books
from tests.builders import make_company, make_job, make_room, make_zone


def kept_requests() -> Iterator[str]:
    """Yield the texts of all plan requests in the kept books."""
    for folder in kept_books():
        for line in (folder / "rows" / "jobs.Document.jsonl").read_text().splitlines():
            row = json.loads(line)
            if row["kind"] == "request":
                yield row["text"]


def test_every_request_of_a_kept_book_is_written_again_byte_for_byte() -> None:
    texts = list(kept_requests())
    assert texts
    for text in texts:
        form = json.loads(text)
        again = request_to_json(read_request(form), name=form["name"])
        assert canonical_json(again | {"format": form["format"]}) == text


@pytest.fixture
def zone(db: None) -> FloorZone:
    """A den of 60 by 49 in."""
    return make_zone(make_room(make_job(make_company())))


def older(zone: FloorZone, **changes: Any) -> FloorPlan:
    """Return a plan of a floor whose stored request is of a time when forms said less."""
    form = request_of(zone)
    form["rules"] = {k: v for k, v in form["rules"].items() if k not in ("stagger", "wall_error")}
    form["product"] = {k: v for k, v in form["product"].items() if k != "backward"}
    del form["prefer"], form["lay"], form["zone"]["no_joints"], form["zone"]["edges"]
    form |= changes
    judged = plan_request({**form, "effort_iterations": 5}, stop=lambda: False)
    plan = JudgedPlan(request_form=form, plan_form=judged.plan_form)
    return keep_plan(zone=zone, judged=plan, user=None)


def test_a_plan_of_an_older_text_fits_the_floor_it_was_made_for(zone: FloorZone) -> None:
    assert whats_changed(older(zone)) == ""


def test_what_changed_since_an_older_text_is_named(zone: FloorZone) -> None:
    plan = older(zone, spares=9)
    plan.zone.start = "high"
    assert whats_changed(plan) == "Changed since this plan: spare planks, start wall."


def test_numbers_written_without_a_point_are_the_same_numbers(zone: FloorZone) -> None:
    product = {"length": 48, "width": 7, "per_carton": 10, "lock": "angle-angle"}
    assert whats_changed(older(zone, product=product)) == ""
