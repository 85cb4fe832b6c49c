"""Doorways, trim and templates on paper: one chain, sticks to scale, a template measured there."""

from __future__ import annotations

import math
from decimal import Decimal
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from django.template import engines

from jobs.domain.packet.notched import templates_content
from jobs.models import Job
from jobs.pdf import render_pdf
from jobs.readers.openings.edges import packet_edges
from layout.cutsheet.sheet import cut_sheet
from layout.drawing.casing_template import casing_pieces
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.builders import make_company, make_doorway, make_job, make_room, make_run, make_zone
from tests.packet_shapes.pages import paths_of, shapes_pdf, strokes_of, text_of, words_of
from tests.packet_shapes.planned import CASED, cased_room, room
from tests.rooms import request

IN = Decimal("25.4")


@pytest.fixture
def job(db: None) -> Job:
    """A job of one room with its floor, in feet and inches."""
    made = make_job(make_company())
    make_zone(make_room(made, "Hall"))
    return made


def opening(job: Job, **values: object) -> dict[str, Any]:
    """Return what a packet says of a doorway of the job's room, its wall 4 1/2 in deep."""
    hall = job.rooms.get()
    make_doorway(hall, **({"depth_mm": IN * Decimal("4.5"), "offset_mm": 100} | values))
    made: list[dict[str, Any]] = packet_edges(job)["openings"]
    return made[0]


def test_a_reducer_has_one_chain_from_the_hall_face(job: Job) -> None:
    # The floor's gap is 1/4: the middle of 4 1/2 is 2 1/4, less 1/4 is 2. 1 3/4 round 2 1/4.
    made = opening(job, treatment="reducer", step_mm=IN * 3 / 8, beyond_floor="bathroom tile")
    assert made["chain"] == [
        'Floor ends 2" from the face of the wall in Hall, as taped.',
        'Reducer covers 1⅜" to 3⅛" from there; measure the one you have.',
    ]
    assert made["refused"] == ""
    assert "Joint" not in [name for name, _ in made["facts"]]


def test_a_t_molding_is_refused_over_three_eighths(job: Job) -> None:
    made = opening(job, treatment="T-molding", step_mm=IN * 3 / 8)
    assert made["chain"] == []
    assert made["refused"] == (
        'Stop: the floor beyond stands ⅜" up; this T-molding holds ⅛" down to ⅛" up.'
        " Choose another strip before row one."
    )


def test_a_strip_as_bought_makes_the_chain(job: Job) -> None:
    # 2 1/2 round the middle of 4 1/2 at 2 1/4: from 1 to 3 1/2.
    bought = {"strip_covers_mm": IN * Decimal("2.5"), "strip_up_mm": IN / 4}
    made = opening(job, treatment="reducer", step_mm=IN / 4, **bought)
    assert made["chain"][1] == 'Reducer covers 1" to 3½" from there.'


def test_a_strip_as_bought_is_refused_past_its_own_range(job: Job) -> None:
    made = opening(job, treatment="reducer", step_mm=IN * 3 / 8, strip_up_mm=IN / 4)
    assert 'this reducer holds ½" down to ¼" up' in made["refused"]


def test_a_doorway_is_named_by_where_it_leads(job: Job) -> None:
    tile = {"beyond_floor": "Bathroom, tile", "beyond_kind": "tile"}
    made = opening(job, treatment="reducer", step_mm=IN * 3 / 8, **tile)
    assert made["where"] == "Hall, door to the bathroom"
    assert ["Beyond", 'Tile stands ⅜" up'] in made["facts"]
    assert "reducer, bathroom door" in made["section"]


def test_planks_that_run_through_say_so(job: Job) -> None:
    assert opening(job, treatment="carry through")["treatment"] == "Planks run through"


def test_a_wall_whose_depth_nobody_measured_has_no_figures(job: Job) -> None:
    made = opening(job, treatment="reducer", step_mm=IN * 3 / 8, depth_mm=0)
    assert made["chain"][0].startswith("The wall's depth is not known")


def test_the_chain_stands_on_paper_and_in_its_section(job: Job) -> None:
    opening(job, treatment="reducer", step_mm=IN * 3 / 8, beyond_floor="bathroom tile")
    pdf = shapes_pdf("_print_edges.html", {"edges": packet_edges(job)})
    text = text_of(pdf)
    assert 'Floor ends 2" from the face' in text
    for words in ('floor ends 2"', 'covers from 1⅜"', 'covers to 3⅛"'):
        assert words in text
    assert min(word.points for word in words_of(pdf)) >= 8.99


def test_trim_is_drawn_on_its_sticks_to_scale(job: Job) -> None:
    hall = job.rooms.get()
    hall.base = "replace"
    hall.save()
    make_run(hall, wall=0, length_mm=IN * 60)
    make_run(hall, wall=1, length_mm=IN * 30)
    edges = packet_edges(job)
    (stick,) = edges["trim"][0]["sticks"]
    assert stick["stock"] == "8 ft"
    pdf = shapes_pdf("_print_trim.html", {"edges": edges})
    boxes = [box for box in strokes_of(pdf, 1) if abs(box[3] - box[1] - 7) < 0.1]
    wide = sorted(box[2] - box[0] for box in boxes)
    # 16 ft fill 170 mm: 8 ft are 85, 60 in 53.1 and 30 in 26.6 mm of paper.
    for inches in (96, 60, 30):
        assert any(abs(w - inches * 170 / 192) < 0.1 for w in wide), inches
    assert "Hall, wall 1" in text_of(pdf)


def profiled_room() -> dict[str, Any]:
    """The cased room with a left casing whose face was traced: it slants 3/8 over its 2 1/4."""
    outline = [list(point) for point in CASED]
    outline[9] = [61.75, 99.625]
    edges = {str(i): {"kind": "casing", "gap": 0} for i in (3, 4, 5, 7, 8, 9)}
    return request(outline, zone={"edges": edges}, effort_iterations=10)


@cache
def template_pdf() -> bytes:
    """Return the templates of the profiled room on paper."""
    plan_request = read_request(profiled_room())
    plan = plan_floor(plan_request)
    templates = templates_content(plan_request, plan, cut_sheet(plan_request, plan))
    page = (
        '{% extends "base_print.html" %}'
        '{% block head %}<link rel="stylesheet" href="css/packet.css">{% endblock %}'
        "{% block content %}{% for piece in templates %}{% for sheet in piece.sheets %}"
        '<div class="true-size">{{ sheet|safe }}</div>{% endfor %}{% endfor %}{% endblock %}'
    )
    values = {"templates": templates, "title": "Packet", "company_name": "Example Floors"}
    html = engines["django"].from_string(page).render(values)
    return render_pdf(html=html)


def edges_on_paper() -> list[float]:
    """Return the lengths of all straight lines on the sheets, in millimeters."""
    pdf = template_pdf()
    pages = {word.page for word in words_of(pdf)}
    paths = [path for page in pages for path in paths_of(pdf, page)]
    return [math.dist(a, b) for path in paths for a, b in pairwise(path)]


@pytest.mark.parametrize(
    ("what", "inches"),
    [
        ("the ruler of 4 in", 4.0),
        ("the ruler of 100 mm", 100 / 25.4),
        ("the traced slant, 2 1/4 by 3/8", math.hypot(2.25, 0.375)),
    ],
)
def test_a_template_measures_true_in_the_units_of_the_pdf(what: str, inches: float) -> None:
    assert any(abs(mm - inches * 25.4) < 0.05 for mm in edges_on_paper()), what


def test_square_casings_have_figures_and_no_template() -> None:
    plan_request, plan = room("cased")
    sheet = cut_sheet(plan_request, plan)
    assert casing_pieces(plan_request, plan, sheet)
    assert templates_content(plan_request, plan, sheet) == []


def test_the_cased_room_is_the_one_of_the_square_casings() -> None:
    assert cased_room()["zone"]["outline"] == CASED
