"""What a packet is asked to bear: long names, sixty rooms, a plan replaced while it is printed."""

from __future__ import annotations

import json
import re
from io import BytesIO
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from pypdf import PdfReader

from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json
from jobs.domain.formats import Fields
from jobs.models import Job
from jobs.readers.packets import gather as gathering
from jobs.services import packets
from jobs.services.packets import packet_pdf, print_packet
from tests.builders import make_company, make_job, make_room, make_zone
from tests.jobs.kept import a_packet
from tests.jobs.plans import planned
from tests.packet_sheets.houses import agreed_on, one_room
from tests.packet_sheets.letters import letters


def content(**changes: Any) -> Fields:
    """The packet of one small day with these keys otherwise."""
    fields: Fields = json.loads(canonical_json(a_packet()))
    return fields | changes


def sheets(fields: Fields) -> list[str]:
    """The text of every sheet."""
    pdf = packet_pdf(fields, paper="letter")
    assert min(letter.points for letter in letters(pdf)) >= 8.99
    return [sheet.extract_text() for sheet in PdfReader(BytesIO(pdf)).pages]


def test_sixty_rooms_are_read_on_a_sheet_of_their_own() -> None:
    fields = content()
    rooms = [f"Room {number}" for number in range(1, 61)]
    fields["gates"][0]["places"] = rooms
    fields["gates"][0]["reads"] = [{"place": room, "boxes": [1, 2, 3]} for room in rooms]
    texts = sheets(fields)
    assert "60 places" in texts[0]
    assert "Room 60" not in texts[0]
    readings = next(text for text in texts if "Readings:" in text)
    assert all(room in readings for room in ("Room 1 ", "Room 30 "))
    assert any("Room 60" in text for text in texts)


def test_names_of_200_letters_keep_the_cover_on_one_sheet() -> None:
    long = ("Wetherby Cholmondeley " * 10)[:200]
    fields = content()
    fields["job"]["title"] = fields["company"]["name"] = long
    fields["cover"]["contacts"] = [[role, long, "555-0102"] for role in ("Crew", "Homeowner")]
    fields["days"][0]["goal"] = long
    texts = sheets(fields)
    assert "HOLD. No moisture reading" in texts[0]
    assert "Issued Feb 26, 2027" in texts[0]
    assert texts[1].count("Load and tools") == 1


def test_every_gate_of_a_job_stands_on_its_first_sheet() -> None:
    fields = content()
    (gate,) = fields["gates"]
    fields["gates"] = [gate | {"title": f"Gate {number}", "places": []} for number in range(5)]
    cover = sheets(fields)[0]
    assert all(f"HOLD. Gate {number}" in cover for number in range(5))


def test_nothing_is_printed_that_a_gray_of_half_would_lose() -> None:
    dark = {"#000", "#333", "#fff"}
    for name in ("print", "packet", "packet-strips", "packet-shapes"):
        path = finders.find(f"css/{name}.css")
        assert path
        with open(str(path), encoding="utf-8") as sheet:  # noqa: PTH123
            colors = set(re.findall(r"#[0-9a-fA-F]{3,6}\b", sheet.read()))
        assert colors <= dark, name


@pytest.fixture
def job() -> Job:
    """A job of one room, laid onto days."""
    return one_room()


@pytest.mark.django_db
def test_a_job_changed_while_it_is_printed_is_read_again(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(packets, "packet_pdf", lambda *_, **__: b"%PDF-")
    looks: list[int] = []

    def changing(*args: Any, **options: Any) -> Fields:
        looks.append(1)
        read = gathering.gather(*args, **options)
        if len(looks) == 1:
            Job.objects.filter(pk=job.pk).update(title="Another title")
        return read

    monkeypatch.setattr(packets, "gather", changing)
    printed = print_packet(job)
    assert printed is not None
    assert (len(looks), printed.content["job"]["title"]) == (2, "Another title")


@pytest.mark.django_db
def test_a_job_that_never_stands_still_is_not_printed(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks: list[int] = []

    def changing(*args: Any, **options: Any) -> Fields:
        looks.append(1)
        Job.objects.filter(pk=job.pk).update(title=f"Title {len(looks)}")
        return gathering.gather(*args, **options)

    monkeypatch.setattr(packets, "gather", changing)
    with pytest.raises(BadValueError, match="changed while it was printed"):
        print_packet(job)


@pytest.mark.django_db
def test_a_floor_of_one_row_is_printed() -> None:
    job = make_job(make_company())
    planned(make_zone(make_room(job, "Niche", size=(60, 7.5))))
    printed = print_packet(agreed_on(job))
    assert printed is not None
    assert printed.content["floors"][0]["row_count"] == 1
    texts = [sheet.extract_text() for sheet in PdfReader(BytesIO(printed.pdf)).pages]
    assert any("Niche: the floor" in text for text in texts)


@pytest.mark.django_db
def test_a_plank_without_words_is_printed_by_its_size() -> None:
    fields: Fields = json.loads(canonical_json(gathering.gather(one_room())))
    fields |= {"number": 1, "issued_on": "2027-02-26"}
    (floor,) = fields["floors"]
    floor["product"] = floor["joining"]["lock"] = ""
    floor["joining"]["steps"] = []
    texts = sheets(fields)
    assert any("Plank 48 × 7, 10 a carton." in text for text in texts)
    assert not any("None" in text or "Joining card" in text for text in texts)
