"""Two rooms on fourteen sheets, a house on forty-five; nothing under 9 pt, no price, PDF/UA."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable
from io import BytesIO

import page as page_validation
import pytest
from pypdf import PdfReader

from jobs.models import Job
from jobs.readers.packets.gather import gather
from jobs.services.files import read_file
from jobs.services.packets import ask_for_packet, packet_pdf, print_packet
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_person
from tests.packet_sheets.houses import (
    nine_different_rooms,
    nine_rooms,
    one_floor,
    one_room,
    two_rooms,
)
from tests.packet_sheets.letters import letters

pytestmark = pytest.mark.django_db

SMALLEST = 9.0
MONEY = re.compile(r"[$€£¥]|\bUSD\b|\bprice|\bcost|\bmargin|\btotal\b", re.IGNORECASE)


def printed_by_the_worker(job: Job) -> bytes:
    """The packet of a job as the worker prints and keeps it."""
    ask_for_packet(job=job, user=make_person(job.company))
    assert carry_out_waiting() == 1
    return read_file(job.packets.get().pdf)


def wrong_pages(texts: list[str]) -> list[str]:
    """The floors whose stick is not drawn on the page that their sheets name."""
    name = r"([A-Z][a-z]+(?: [a-z]+| \d)?)"
    strips = re.compile(rf"Rows 1 to \d+, {name} .{{0,70}}?Hatched: .{{0,140}}?Stick: page (\d+)\.")
    same = re.compile(rf"The same stick as for {name}: drawn there, page (\d+)\.")
    named = [hit for text in texts for hit in (*strips.findall(text), *same.findall(text))]
    assert len(named) > 6
    return [who for who, at in named if f"{who}: story stick Drawn" not in texts[int(at) - 1]]


@pytest.mark.parametrize(
    ("house", "most"),
    [(two_rooms, 14), (nine_rooms, 45), (nine_different_rooms, 45), (one_floor, 45)],
)
def test_a_packet_is_few_sheets(house: Callable[[], Job], most: int) -> None:
    job = house()
    began = time.process_time()
    pdf = printed_by_the_worker(job)
    seconds = time.process_time() - began
    reader = PdfReader(BytesIO(pdf))
    print(f"{job.title}: {len(reader.pages)} sheets in {seconds:.0f} s of work")  # noqa: T201
    texts = [sheet.extract_text() for sheet in reader.pages]
    assert len(texts) <= most
    assert [letter for letter in letters(pdf) if letter.points < SMALLEST - 0.01] == []
    assert MONEY.findall("\n".join(texts)) == []
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").failures == []
    if house is nine_different_rooms:  # the other paper holds as much
        content = json.loads(job.packets.get().document.text)
        a4 = packet_pdf(content, paper="a4")
        assert len(PdfReader(BytesIO(a4)).pages) <= most
        assert [letter for letter in letters(a4) if letter.points < SMALLEST - 0.01] == []
        assert wrong_pages([" ".join(text.split()) for text in texts]) == []
    for number, text in enumerate(texts, start=1):
        assert f"Job {job.number}, Packet 1" in text
        assert f"Page {number} of {len(texts)}" in text


def test_both_papers_hold_a_packet() -> None:
    packet = print_packet(two_rooms())
    assert packet is not None
    content = packet.content
    a4 = PdfReader(BytesIO(packet_pdf(content, paper="a4")))
    sizes = {tuple(sorted(round(float(edge)) for edge in sheet.mediabox[2:])) for sheet in a4.pages}
    assert sizes == {(595, 842)}
    assert len(a4.pages) <= 14
    text = " ".join(" ".join(sheet.extract_text() for sheet in a4.pages).split())
    tried = "Try it dry, 2-6 while rows 1 and 2 are off the wall; where it tilts in there, shave"
    assert tried.lower() in text.lower()
    assert "2¼ past wall 2 as taped" in text


def test_the_way_in_is_printed_only_where_it_was_ticked() -> None:
    job = one_room()
    without, with_it = (gather(job, with_access=wish) for wish in (False, True))
    assert without["cover"]["access"] is None
    assert with_it["cover"]["access"] == "Key under the blue pot."
    packet = print_packet(job)
    assert packet is not None
    cover = PdfReader(BytesIO(packet.pdf)).pages[0].extract_text()
    assert "see phone" in cover
    assert "blue pot" not in cover
