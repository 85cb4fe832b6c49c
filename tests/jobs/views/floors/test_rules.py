"""Rules of one floor: stricter than its maker's, never laxer; and what the planner is told."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import FloorZone
from jobs.readers.floors.rules import rule_lines
from jobs.readers.plan_request import request_of
from jobs.services.plans import plan_zone_now
from tests.builders import (
    make_company,
    make_job,
    make_person,
    make_product,
    make_room,
    make_zone,
)
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def zone() -> FloorZone:
    """A floor of a product whose gap and offset come from its maker, the rest from practice."""
    company = make_company()
    sources = {"gap_mm": "sheet", "min_offset_mm": "sheet", "stagger": "sheet"}
    product = make_product(company, name="Larch", rule_sources=sources, sheet_edition="3 of 2026")
    return make_zone(make_room(make_job(company)), product)


@pytest.fixture
def visitor(zone: FloorZone) -> Visitor:
    """The browser of the owner."""
    signed_in = Visitor()
    signed_in.force_login(make_person(zone.job.company))
    return signed_in


def set_rules(visitor: Visitor, zone: FloorZone, **fields: str) -> Any:
    """Return the answer to rules of a floor's own."""
    form = {"key": "k1", "version": zone.version, **fields}
    return visitor.post(reverse("zone-rules", args=[zone.pk]), form)


def planner_request(zone: FloorZone) -> dict[str, Any]:
    """Return what the planner is asked."""
    zone.refresh_from_db()
    return request_of(zone)


def test_rules_of_a_floor_reach_the_planner(visitor: Visitor, zone: FloorZone) -> None:
    set_rules(visitor, zone, gap_mm="3/8", min_end_mm="6", min_offset_mm="10", min_row_mm="2 1/2")
    rules = planner_request(zone)["rules"]
    assert (rules["expansion_gap"], rules["min_end_piece"]) == (0.375, 6)
    assert (rules["min_joint_offset"], rules["min_row_width"]) == (10, 2.5)


def test_a_rule_left_empty_stays_the_products(visitor: Visitor, zone: FloorZone) -> None:
    set_rules(visitor, zone, gap_mm="3/8", stagger="third")
    assert planner_request(zone)["rules"]["min_end_piece"] == 8
    assert planner_request(zone)["rules"]["stagger"] == "third"


def test_a_rule_of_its_own_says_that_it_was_set_for_this_floor(
    visitor: Visitor, zone: FloorZone
) -> None:
    set_rules(visitor, zone, gap_mm="3/8")
    zone.refresh_from_db()
    lines = {line.label: (line.value, line.source) for line in rule_lines(zone)}
    assert lines["Expansion gap"] == ('⅜"', "Set for this floor")
    assert lines["Minimum stagger"] == ('8"', "Maker's sheet, 3 of 2026")
    assert lines["Minimum row width"] == ('2"', "Our default, common practice")


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        (
            {"gap_mm": "1/8"},
            "“1/8” is less than Larch asks; accepted: ¼\" or more (Maker's sheet, 3 of 2026).",
        ),
        ({"gap_mm": "7"}, '“7” is more than its boards allow; accepted: up to 6".'),
        ({"min_end_mm": "48"}, "“48” is more than its boards allow; accepted: less than 4' 0\"."),
        ({"min_offset_mm": "25"}, "“25” is more than its boards allow; accepted: up to 2' 0\"."),
        (
            {"min_offset_mm": "20", "stagger": "third"},
            "“20” is more than its boards allow; accepted: up to 1' 4\".",
        ),
        ({"min_row_mm": "7"}, '“7” is more than its boards allow; accepted: less than 7".'),
        ({"min_row_mm": "wide"}, "“wide” is no length"),
    ],
)
def test_a_rule_outside_what_product_and_boards_allow_is_refused(
    visitor: Visitor, zone: FloorZone, fields: dict[str, str], sentence: str
) -> None:
    answer = set_rules(visitor, zone, **fields)
    assert answer.status_code == 422
    assert sentence in words(answer)


def test_a_step_that_the_maker_asks_for_is_not_changed(visitor: Visitor, zone: FloorZone) -> None:
    type(zone.product).objects.update(stagger="third")
    answer = set_rules(visitor, zone, stagger="free")
    assert "accepted: A third of a board (Maker's sheet, 3 of 2026)." in words(answer)


def test_the_second_of_two_who_set_rules_is_told(visitor: Visitor, zone: FloorZone) -> None:
    set_rules(visitor, zone, gap_mm="3/8", key="theirs")
    answer = set_rules(visitor, zone, gap_mm="1/2", key="mine")
    assert answer.status_code == 409


def test_a_carton_of_one_width_is_asked_as_one_board(zone: FloorZone) -> None:
    assert planner_request(zone)["product"] == {
        "length": 48,
        "width": 7,
        "per_carton": 10,
        "lock": "angle-angle",
    }


def test_a_mixed_carton_is_asked_width_by_width(zone: FloorZone) -> None:
    more = [{"width_mm": "127", "per_carton": 4}]
    type(zone.product).objects.update(more_boards=more)
    product = planner_request(zone)["product"]
    assert [(b["width"], b["per_carton"]) for b in product["boards"]] == [(7, 10), (5, 4)]


def test_a_carton_of_prints_is_asked_with_their_counts(zone: FloorZone) -> None:
    type(zone.product).objects.update(variants={"A": 6, "B": 4})
    assert planner_request(zone)["product"]["variants"] == {"A": 6, "B": 4}


@pytest.mark.parametrize(
    ("start", "first_end", "tongue", "lay"),
    [
        ("low", "left", "high", {}),
        ("low", "right", "low", {"first_end": "right", "tongue": "low"}),
        ("high", "left", "high", {"first_end": "right", "tongue": "low"}),
        ("high", "right", "low", {}),
    ],
)
def test_hands_are_those_of_somebody_who_faces_the_next_row(
    zone: FloorZone, start: str, first_end: str, tongue: str, lay: dict[str, str]
) -> None:
    type(zone.product).objects.update(first_end=first_end, tongue=tongue)
    FloorZone.objects.update(start=start)
    assert planner_request(zone)["lay"] == {"start": start, **lay}


def test_rows_both_ways_are_asked_where_the_product_allows_them(zone: FloorZone) -> None:
    FloorZone.objects.update(control_row=3)
    assert "control_row" not in planner_request(zone)["lay"]
    type(zone.product).objects.update(both_ways=True)
    zone = FloorZone.objects.get()
    assert planner_request(zone)["lay"]["control_row"] == 3
    assert planner_request(zone)["product"]["backward"] is True


@pytest.mark.parametrize(
    ("values", "row"),
    [
        ({"more_boards": [{"width_mm": "127", "per_carton": 4}]}, None),
        ({"variants": {"A": 5, "B": 5}}, None),
        ({"both_ways": True, "lock": "angle-angle"}, 3),
        ({"first_end": "right", "tongue": "low"}, None),
    ],
)
def test_what_a_product_says_of_its_boards_is_planned_and_stands_the_judge(
    zone: FloorZone, values: dict[str, Any], row: int | None
) -> None:
    type(zone.product).objects.update(**values)
    FloorZone.objects.update(control_row=row)
    plan = plan_zone_now(FloorZone.objects.get())
    assert plan.planks >= plan.lower_bound


def test_a_limit_that_a_plan_proposes_stands_in_its_field_and_is_not_saved(
    visitor: Visitor, zone: FloorZone
) -> None:
    page = words(visitor.get(reverse("zone-rules", args=[zone.pk]), {"min_end_mm": "5 1/2"}))
    assert 'value="5 1/2"' in page
    zone.refresh_from_db()
    assert "min_end_mm" not in zone.own_rules
