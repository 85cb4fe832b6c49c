"""A floor planned again, or widened by a change order: the new packet's strips make the new plan.

What is printed is read and sawn by the interpreter of the pages, and held against the plan that is
stored; the old packet's pages do not make it.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from jobs.models import FloorPlan, Job
from jobs.services.packets import print_packet
from jobs.services.scope import freeze_scope
from tests.builders import make_company, make_job, make_person, make_room, make_zone
from tests.jobs.agreed import a_crew, laid_out
from tests.jobs.plans import planned
from tests.jobs.readers.packets.test_standing import fresh, printed_again, replanned, widened
from tests.packet_pdf.pages import ReadPage, read_pages
from tests.packet_pdf.sawing import packet_faults
from tests.packet_pdf.strips import strips_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job of one floor of thirty rows, laid onto days, its first packet kept."""
    job = make_job(make_company())
    planned(make_zone(make_room(job, "Den", size=(150, 206.5))))
    job.agreed_scope = freeze_scope(job=job, user=None)
    job.save()
    laid_out(job, a_crew(job.company))
    return fresh(job)


def strip_pages(job: Job) -> list[ReadPage]:
    """The sheets of a job's next packet that strips are printed on."""
    packet = print_packet(fresh(job))
    assert packet is not None
    pages = read_pages(packet.pdf)
    return [page for page in pages if "never tongue or lip" in page.text and _lies(page)]


def _lies(page: ReadPage) -> bool:
    return page.size[0] > page.size[1]


def newest(job: Job) -> FloorPlan:
    """The plan that was made last."""
    return FloorPlan.objects.filter(zone__job=job).latest("number")


def faults(plan: FloorPlan, pages: list[ReadPage]) -> list[str]:
    """What the pieces of a plan lack when they are sawn by these pages."""
    request: dict[str, Any] = json.loads(plan.request.text)
    made: dict[str, Any] = json.loads(plan.document.text)
    return packet_faults(request, made, pages)


def rows_of(pages: list[ReadPage]) -> list[int]:
    """The rows whose strips stand on some pages."""
    return [row[0].row for row in strips_of(pages) if row]


def test_after_a_replan_the_printed_strips_are_the_new_plans(job: Job) -> None:
    old = strip_pages(job)
    first = newest(job)
    assert rows_of(old) == list(range(1, 31))
    assert faults(first, old) == []
    printed_again(job)
    replanned(job.zones.get(), make_person(job.company))
    new, plan = strip_pages(job), newest(job)
    assert plan.number == first.number + 1
    assert rows_of(new) == list(range(13, 31))
    assert faults(plan, new) == []
    assert faults(plan, old) != []


def test_after_a_change_order_the_printed_strips_are_the_wider_rooms(job: Job) -> None:
    old = strip_pages(job)
    printed_again(job)
    widened(job, make_person(job.company))
    new, plan = strip_pages(job), newest(job)
    assert rows_of(new) == list(range(1, 31))
    assert faults(plan, new) == []
    assert faults(plan, old) != []
