"""Shades on drawings: a letter in every piece that has room, the planks of each told below."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from xml.etree import ElementTree

from layout.drawing.plan import draw_plan
from layout.planner.plan_floor import plan_floor
from layout.values.advice import SpreadRule
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms
from tests.layout.three_rows import plan as plain_plan
from tests.layout.three_rows import request as plain_request

SVG = "{http://www.w3.org/2000/svg}"
NINE = {"length": 48, "width": 9, "per_carton": 3, "variants": {"A": 1, "B": 2}}
SEVEN = {"length": 48, "width": 7, "per_carton": 4, "variants": {"C": 2, "D": 2}}


@cache
def planned() -> tuple[PlanRequest, Plan]:
    outline = [[0, 0], [110, 0], [110, 60], [0, 60]]
    boards = {"boards": [NINE, SEVEN]}
    request = read_request(rooms.request(outline, product=boards, effort_iterations=20))
    return request, plan_floor(request)


def marks(svg: str) -> Counter[str]:
    """Return the texts in the group of the shades, counted."""
    groups = (g for g in ElementTree.fromstring(svg).iter(f"{SVG}g") if g.get("class") == "shades")
    return Counter(text.text or "" for group in groups for text in group)


def words(svg: str) -> list[str]:
    return [text.text or "" for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def test_every_piece_with_room_for_it_has_its_shade_in_it() -> None:
    request, plan = planned()
    assert marks(draw_plan(request, plan)) == Counter(piece.variant for piece in plan.pieces)


def test_the_planks_of_every_width_and_shade_are_told_below() -> None:
    request, plan = planned()
    planks = Counter({p.plank: (p.size[1], p.variant) for p in plan.pieces}.values())
    nine, seven = (
        ", ".join(f"{name} {planks[width, name]}" for name in names)
        for width, names in ((9, "AB"), (7, "CD"))
    )
    assert f'planks by shade: 9": {nine}; 7": {seven}' in words(draw_plan(request, plan))


def test_boards_that_look_alike_have_no_mark() -> None:
    svg = draw_plan(plain_request(), plain_plan())
    assert not marks(svg)
    assert not any("shade" in word for word in words(svg))


def test_a_mix_nobody_knows_has_its_rule_below() -> None:
    spread = SpreadRule(shades=4, rule="no like plank end to end")
    svg = draw_plan(plain_request(), replace(plain_plan(), spread=spread))
    assert "4 shades, spread by eye: no like plank end to end" in words(svg)


def test_a_small_picture_has_no_marks() -> None:
    request, plan = planned()
    assert not marks(draw_plan(request, plan, numbers=False))


def test_those_who_cannot_see_it_hear_every_width() -> None:
    request, plan = planned()
    described = ElementTree.fromstring(draw_plan(request, plan)).find(f"{SVG}desc")
    assert described is not None
    assert described.text is not None
    assert """boards 4' 0" by 9" and 7",""" in described.text
