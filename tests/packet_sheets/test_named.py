"""What the printed packet names stands on its load sheet; its gates stand on its first sheet."""

from __future__ import annotations

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
    listed = load[load.index("Load and tools") :].split("How to read the strips")[0].lower()
    steps = {name for text in texts if text != load for name in named(text)}
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
