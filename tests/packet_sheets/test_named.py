"""What the printed packet names stands on its load sheet; its gates stand on its first sheet."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from jobs.models import Job
from jobs.services.packets import print_packet
from tests.jobs.agreed import hold_asbestos
from tests.jobs.domain.packet.test_goods import named
from tests.packet_sheets.houses import two_rooms

pytestmark = pytest.mark.django_db


def texts_of(pdf: bytes) -> list[str]:
    """The text of every sheet, in single spaces."""
    return [" ".join(sheet.extract_text().split()) for sheet in PdfReader(BytesIO(pdf)).pages]


def printed(job: Job) -> tuple[list[str], list[str]]:
    """The text of a job's sheets, and the titles of its gates."""
    packet = print_packet(job)
    assert packet is not None
    gates = packet.content["gates"]
    assert all(gate["held"] for gate in gates)
    return texts_of(packet.pdf), [gate["title"] for gate in gates]


def test_every_thing_that_any_sheet_names_stands_on_the_load_sheet() -> None:
    texts, _ = printed(two_rooms())
    (load,) = (text for text in texts if "Load and tools" in text)
    head, card = load[load.index("Load and tools") :].split("Joining card")
    listed = head.lower()
    steps = {name for text in (*texts, card) if text != load for name in named(text)}
    assert {"pull bar", "story stick", "tapping block", "jigsaw", "wood glue"} <= steps
    assert [name for name in sorted(steps) if name not in listed] == []


def test_every_gate_of_the_job_stands_on_the_first_sheet_without_a_reading_as_a_hold() -> None:
    job = two_rooms()
    hold_asbestos(job)
    texts, gates = printed(Job.objects.get(pk=job.pk))
    assert len(gates) >= 2
    assert any(title.startswith("No moisture reading") for title in gates)
    for title in gates:
        assert f"HOLD. {title}" in texts[0], title


def test_each_floor_says_its_plank_its_walls_and_its_doors_and_slides_are_told_once() -> None:
    packet = print_packet(two_rooms())
    assert packet is not None
    texts = texts_of(packet.pdf)
    whole = " ".join(texts)
    assert whole.count("Plank 48 × 7, 10 a carton. Saw kerf ⅛. Gap at walls ¼. All in inches.") == 2
    floors = " ".join(text for text in texts if ": the floor" in text)
    for words, times in (("wall 1", 2), ("wall 2", 2), ("wall 3", 2), ("wall 4", 2), ("door", 1)):
        assert floors.count(words) >= times, words
    assert whole.count("Slide the stick where a wall is out") == 1
    (slides,) = (text for text in texts if "Slide the stick where a wall is out" in text)
    for name in ("Hall", "Bedroom"):
        assert f"{name} : stays, inches, slid as 3 says by" in slides.replace(
            f"{name}:", f"{name} :"
        )
    for floor in packet.content["floors"]:
        assert floor["plan_sha256"][:8] not in whole
    (doors,) = (text for text in texts if "Floor ends 2" in text)
    assert "stairs" not in doors
    assert "ask the office whether a T-molding is meant" in doors  # a reducer, and all lies level
    days = [text for text in texts if re.search(r"\bDay \d: ", text)]
    assert len(days) == len(packet.content["days"])
    assert whole.count("Before going home") == len(days)  # of a long day on the next one's sheet


def test_a_floor_says_what_the_tape_goes_to_and_that_no_doorway_was_measured() -> None:
    texts, _ = printed(two_rooms())
    floors = " ".join(text for text in texts if ": the floor" in text)
    assert floors.count("No doorway measured:") == 1  # the bedroom; the hall has its door
    assert floors.count("Base stays on: tape to its face") == 2  # no task takes base off
    assert floors.count("No task covers the gap of ¼") == 2
    sticks = [text for text in texts if "story stick Drawn" in text]
    assert sticks
    assert all(
        "Zero: start wall where furthest from the far wall; where nearer, scribe" in t
        for t in sticks
    )


def test_plank_drive_and_each_rooms_own_limits_stand_where_they_are_used() -> None:
    texts, _ = printed(two_rooms())
    assert "Drive 15 min each way" in texts[0]
    assert re.search(r"Joining card: [^.]*? Plank \S+ thick, no pad of its own", texts[1])
    hall, bedroom = (
        next(text for text in texts if f"{name}: the floor" in text) for name in ("Hall", "Bedroom")
    )
    assert "Hall. 2-1 behind a boxed A" in hall
    assert "Over 48 at 1-4" in bedroom  # row 1 of the hall has another piece of that name
    assert "1-4" not in hall
    ends = [text for text in texts if "Before going home" in text]
    assert all(re.search(r"\bDay \d: ", text) for text in ends)
