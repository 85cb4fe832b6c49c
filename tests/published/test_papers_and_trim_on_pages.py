"""Values of trim, cuts, products, calendars and papers, where users meet them."""

from __future__ import annotations

import csv
import json
from decimal import Decimal
from io import StringIO
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from icalendar import Calendar

from jobs.domain.documents import canonical_json
from jobs.models import Company, FloorZone, Job, Product, Room, SiteFacts, TrimRun
from jobs.readers.packets.gather import gather
from jobs.services import packets
from tests.builders import (
    make_client,
    make_crew,
    make_day,
    make_doorway,
    make_job,
    make_product,
    make_room,
    make_zone,
)
from tests.estimates.a_job import set_prices
from tests.estimates.invoices_by_hand import an_invoice_of
from tests.jobs.agreed import agree, make_scope
from tests.jobs.readers.test_worked_counts import base_along, counted_of, torn_out
from tests.jobs.room_sheets import sheet
from tests.packet_sheets.houses import one_room
from tests.reading import words

pytestmark = pytest.mark.django_db

IN = Decimal("25.4")


def test_base_of_a_published_exercise_fits_27_sticks(visitor: Visitor, company: Company) -> None:
    # Dagostino and Peterson, Estimating in Building Construction, example 13-25: outside walls
    # 148 ft, inside walls 149 ft on two sides, less 25 ft of doors = 421 ft. 16 ft sticks: 27.
    job = make_job(company, trim_stock=["4876.8"])
    room = make_room(job, base="replace")
    assert 148 + 2 * 149 - 25 == 26 * 16 + 5
    for feet in [16] * 26 + [5]:
        TrimRun.objects.create(room=room, wall=0, kind="base", length_mm=feet * 12 * IN)
    page = words(visitor.get(reverse("job-trim", args=[job.pk])))
    assert "To buy: 27" in page


def test_inside_corners_are_coped_over_the_run_before(visitor: Visitor, company: Company) -> None:
    # Common practice, no source: inside corners one square, one coped; outside ones mitered. An ell
    # of six corners, one of which juts into the room: five inside, one outside.
    walls, turns = ("10'", "4'", "4'", "4'", "6'", "8'"), "llrlll"
    sent = sheet(*walls, base="replace")
    for row, turn in enumerate(turns):
        sent[f"wall-{row}-turn"] = {"l": "left", "r": "right"}[turn]
    visitor.post(reverse("room-add", args=[make_job(company).pk]), sent)
    room = Room.objects.get()
    page = words(visitor.get(reverse("room-trim", args=[room.pk])))
    runs = page[page.index("Runs along the walls") : page.index("</table>")].lower()
    # Five inside corners: each has the square end of one run and the coped start of the next.
    assert runs.count("into the corner") == runs.count("over the run before") == 5
    assert runs.count("itered, round the corner") == 2  # either run at the outside corner


def worked_den(company: Company) -> FloorZone:
    """The den worked out by hand: 96 by 42-1/2 in, six rows of 7 in, 12 planks and 3 spares."""
    job = make_job(company)
    torn_out(job)
    den = make_room(job, "Den", (96, 42.5), base="reinstall")
    base_along(den, 64, "42.5", 96, "42.5")
    sizes = {"offset_mm": 30 * IN, "width_mm": 32 * IN, "depth_mm": 0}
    make_doorway(den, wall=0, beyond_kind="tile", treatment="T-molding", casings=2, **sizes)
    zone = make_zone(den, make_product(company))
    counted_of(zone, "a_rectangle")
    return zone


def test_an_offcut_begins_a_row_and_whole_cartons_are_bought(
    visitor: Visitor, company: Company
) -> None:
    # Common practice, no source: an offcut begins the next row; whole cartons, some kept. By hand:
    # 16 pieces of 12 planks; 12 and 3 spares are 15, two cartons of 10.
    set_prices(company)
    zone = worked_den(company)
    plan = zone.plans.get()
    cuts = words(visitor.get(reverse("plan-cuts", args=[plan.pk])))
    rack = cuts[cuts.index("Offcuts in stacks") :]
    assert "Waits for" in rack
    priced = visitor.get(reverse("job-price", args=[zone.job_id])).context["priced"]
    (cartons,) = [line for line in priced.lines if line.code == "cartons"]
    assert cartons.quantity == 2
    taken = json.loads(plan.document.text)["totals"]["planks"]
    assert taken == 12 < len(json.loads(plan.document.text)["pieces"]) == 16


def test_the_starting_rates_lay_what_one_installer_is_known_to_lay(
    visitor: Visitor, company: Company
) -> None:
    # Common practice, no source: one installer lays 150 to 300 ft2 of click plank in eight hours.
    # By hand: 28.33 ft2 at 2 h a hundred, 16 pieces at 0.01, 10 cuts at 0.03 are 1.03 h: 220 ft2.
    set_prices(company)
    zone = worked_den(company)
    priced = visitor.get(reverse("job-price", args=[zone.job_id])).context["priced"]
    (laying,) = [line for line in priced.lines if line.code == "lay"]
    assert laying.quantity == Decimal("1.03")
    assert 150 <= Decimal("28.33") / laying.quantity * 8 <= 300


@pytest.mark.parametrize(
    ("width", "apart"), [("2 1/4", 6), ("3", 6), ("3 1/4", 8), ("5", 8), ("5 1/8", 10)]
)
def test_joints_of_wood_lie_apart_by_the_width_of_the_board(
    visitor: Visitor, width: str, apart: int
) -> None:
    # NWFA Installation Guidelines (2008), its adviser: 6 in for strip, 8 to 10 in for plank of 3 to
    # 5 in, 10 in for wider.
    carton = {"name": "Oak", "core": "wood", "length": "48", "width": width, "thickness": "3/4"}
    sent = carton | {"per_carton": "10", "attached_pad": "no", "measured_in": "imperial"}
    visitor.post(reverse("product-add"), sent | {"key": "k", "version": "1"})
    product = Product.objects.get()
    assert product.min_offset_mm == apart * IN
    assert f'joints {apart}"' in words(visitor.get(reverse("product-edit", args=[product.pk])))


def test_laminate_lies_flat_for_48_hours(visitor: Visitor) -> None:
    # Common practice, no source: 24 to 48 h for a wood core, often none for a rigid one.
    carton = {"name": "Plank", "core": "laminate", "length": "48", "width": "7"}
    sent = carton | {"thickness": "1/2", "per_carton": "10", "attached_pad": "no"}
    visitor.post(reverse("product-add"), sent | {"key": "k", "version": "1"})
    assert "48 h" in words(visitor.get(reverse("product-edit", args=[Product.objects.get().pk])))


@pytest.mark.parametrize(
    ("size", "said"), [((480, 120), False), ((481, 120), True), ((120, 481), True)]
)
def test_a_long_floor_without_a_limit_is_told_and_a_lead_follows_the_longest_wall(
    visitor: Visitor, company: Company, size: tuple[int, int], said: bool
) -> None:
    # Common practice, no source: along the longest wall; a break about every 30 to 40 ft.
    zone = make_zone(make_room(make_job(company), "Hall", size), make_product(company))
    page = words(visitor.get(reverse("zone", args=[zone.pk])))
    assert ("is broken about every 30 to 40 ft" in page) == said
    turn = 0 if size[0] > size[1] else 90
    assert f"A lead would lay the rows along its longest wall, at {turn}°" in page


def printed(job: Job, monkeypatch: pytest.MonkeyPatch) -> str:
    """Return the packet of a job as it goes to the printer, not set in type."""
    monkeypatch.setattr(packets, "render_pdf", lambda *, html: html.encode())
    gathered = gather(job, with_access=False) | {"number": 1, "issued_on": "2027-03-01"}
    content = json.loads(canonical_json(gathered))
    return " ".join(packets.packet_pdf(content, paper="letter").decode().split())


def test_what_is_checked_in_print(monkeypatch: pytest.MonkeyPatch) -> None:
    # ASTM F710 and NWFA, from memory: 3/16 in in 10 ft, 1/8 in in 6 ft. Common practice, no source:
    # 65 to 85 F and 35 to 65 % before row one; glasses, ears and nailers as on the page of a day.
    paper = printed(one_room(), monkeypatch)
    assert "3/16 in under a 10 ft straightedge, 1/8 in under 6 ft" in paper
    assert "Glasses to ANSI Z87.1" in paper
    assert "3 at 97, 2 at 100" in paper


def test_the_air_before_row_one_has_its_bounds_in_print(monkeypatch: pytest.MonkeyPatch) -> None:
    # Common practice, no source: 65 to 85 F, 35 to 65 % relative humidity.
    job = one_room()
    SiteFacts.objects.filter(job=job).update(subfloor="slab")
    paper = printed(Job.objects.get(pk=job.pk), monkeypatch)
    assert "humidity: 65 to 85 and 35 to 65" in paper


def test_a_calendar_folds_its_lines_and_ends_a_day_on_the_next(
    visitor: Visitor, company: Company
) -> None:
    # RFC 5545, 3.1: lines of 75 octets at most, ended by CR LF, folded by a blank; 3.6.1, from
    # memory: the end of a whole day is the next.
    job = make_job(company, title="Böden, " + "ä" * 90)
    agree(job, make_scope(job))
    crew = make_crew(company)
    day = make_day(job, crew, job.agreed_scope)
    answer = visitor.get(reverse("crew-calendar", args=[crew.pk]))
    lines = answer.content.split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert any(line.startswith(b" ") for line in lines)
    event: Any = next(iter(Calendar.from_ical(answer.content).walk("VEVENT")))
    assert job.title in event["SUMMARY"]
    assert (event["DTEND"].dt - event["DTSTART"].dt).days == 1
    assert event["DTSTART"].dt == day.date


def test_quotes_commas_and_line_ends_survive_the_file_of_invoices(
    visitor: Visitor, company: Company
) -> None:
    # RFC 4180, 2: quotes doubled, fields with commas or quotes between quotes, CR LF.
    client = make_client(company, name='Okafor, "Ines"')
    job = make_job(company, client, title="Den 12' 6-1/2\", up")
    an_invoice_of(job)
    answer = visitor.get(reverse("invoices-export"))
    text = answer.content.decode("utf-8-sig")
    assert "\r\n" in text
    assert '""' in text
    rows = list(csv.reader(StringIO(text)))
    assert len({len(row) for row in rows}) == 1
