"""The packet: what stands in it, that it names no price, that it is printed once and frozen."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from io import BytesIO

import page as page_validation
import pytest
from django.test import Client as Visitor
from django.urls import reverse
from pypdf import PdfReader

from jobs.domain.checks import BadValueError
from jobs.models import Errand, Job, Product, SiteFacts, User
from jobs.readers.packets.gather import gather
from jobs.readers.scope import scope_value
from jobs.services.files import read_file
from jobs.services.packets import (
    KIND,
    PrintedPacket,
    ask_for_packet,
    keep_packet,
    print_packet,
)
from jobs.services.scope import freeze_scope
from jobs.services.site import clear_hold
from jobs.worker.worker import carry_out_waiting
from tests.builders import (
    make_company,
    make_doorway,
    make_job,
    make_packet,
    make_person,
    make_room,
    make_zone,
)
from tests.jobs.agreed import a_crew, agreed_job, hold_asbestos, laid_out
from tests.jobs.plans import agreed_rooms, planned

pytestmark = pytest.mark.django_db

MONEY = re.compile(r"[$€£¥]|\bUSD\b|\bprice|\bcost|\bmargin|\btotal\b", re.IGNORECASE)


@pytest.fixture
def owner(job: Job) -> User:
    """The owner of the job's company."""
    return make_person(job.company)


@pytest.fixture
def job() -> Job:
    """A job of three rooms, laid onto days."""
    agreed = agreed_rooms("Den", "Study", "Hall")
    SiteFacts.objects.filter(job=agreed).update(access="Key under the blue pot.")
    laid_out(agreed, a_crew(agreed.company))
    return Job.objects.get(pk=agreed.pk)


def printed(job: Job) -> PrintedPacket:
    """The packet of a job, which must have something new to say."""
    packet = print_packet(job)
    assert packet is not None
    return packet


def sheets(pdf: bytes) -> list[str]:
    """The text of every sheet."""
    return [sheet.extract_text() for sheet in PdfReader(BytesIO(pdf)).pages]


@pytest.mark.usefixtures("set_paper")
def test_a_packet_of_three_rooms_holds_all_its_parts(job: Job) -> None:
    text = "\n".join(sheets(printed(job).pdf))
    for part in ("Cautions", "Load and tools", "Check as you go", "Before going home", "Log"):
        assert part in text
    for room in ("Den", "Study", "Hall"):
        assert f"{room}: the floor" in text
        assert f"Rows 1 to 7, {room}" in text


@pytest.mark.usefixtures("set_paper")
def test_no_price_and_no_currency_stands_in_it(job: Job) -> None:
    text = "\n".join(sheets(printed(job).pdf))
    assert MONEY.findall(text) == []


def test_the_search_for_money_would_find_some() -> None:
    assert MONEY.findall("Flooring at $61.00, a cost of 4") == ["$", "cost"]


@pytest.mark.usefixtures("set_paper")
def test_it_passes_the_pdf_ua_check(job: Job) -> None:
    assert page_validation.validate_pdf_bytes(printed(job).pdf, profile="ua1").failures == []


@pytest.mark.usefixtures("set_paper")
def test_every_sheet_carries_job_and_issue(job: Job) -> None:
    texts = sheets(printed(job).pdf)
    for number, text in enumerate(texts, start=1):
        assert f"Job {job.number}, Packet 1" in text
        assert f"Page {number} of {len(texts)}" in text


def test_cuts_of_a_shape_are_drawn_and_square_casings_have_figures() -> None:
    job = make_job(make_company())
    room = make_room(job, "Den", size=(148, 118))
    casings = {"treatment": "T-molding", "casings": 2, "width_mm": Decimal("812.8")}
    make_doorway(room, wall=1, offset_mm=Decimal(600), depth_mm=Decimal(114), **casings)
    planned(make_zone(room))
    job.agreed_scope = freeze_scope(job=job, user=None)
    job.save()
    laid_out(job, a_crew(job.company))
    floor = gather(job)["floors"][0]
    assert floor["notched"]["pieces"]
    assert all('class="figure"' in piece["drawing"] for piece in floor["notched"]["pieces"])
    assert floor["templates"] == []


def test_the_joining_card_says_what_the_products_sheet_says(job: Job) -> None:
    sheet = {"tilt_deg": Decimal("25.0"), "tapping": "no", "sheet_edition": "3"}
    sources = {
        "rule_sources": {"tilt_deg": "sheet"},
        "rules_source": "Our default, common practice",
    }
    Product.objects.update(**sheet, **sources)
    assert gather(job)["floors"][0]["joining"]["maker"] == [
        "Tilt 25° (Maker's sheet, 3).",
        "No tapping (Our default, common practice).",
    ]


def test_the_days_of_the_packet_hold_the_scopes_hours(job: Job) -> None:
    """One person drives out oftener than the two that the scope was agreed for."""
    tasks = [task for day in gather(job)["days"] for task in day["tasks"]]
    agreed = scope_value(job.agreed_scope)  # type: ignore[arg-type]
    drive = next(task.label for task in agreed.tasks if task.code == "travel")
    on_site = sum(task.hours for task in agreed.tasks if task.label != drive)
    assert sum(task["hours"] for task in tasks if task["name"] != drive) == on_site


@pytest.mark.usefixtures("set_paper")
def test_planks_are_told_by_shade_in_the_load_list_and_row_by_row() -> None:
    job = agreed_rooms("Den", variants={"A": 6, "B": 4})
    laid_out(job, a_crew(job.company))
    text = " ".join("\n".join(sheets(printed(job).pdf)).split())
    assert re.search(r"Of these the plan takes \d+ of A, \d+ of B, 7\S wide\. Open", text)
    assert "Bring " in text


@pytest.mark.usefixtures("set_paper")
def test_a_hold_point_stands_in_it_until_it_is_cleared_by_name(job: Job, owner: User) -> None:
    hold_asbestos(job)
    before = "\n".join(sheets(printed(job).pdf))
    clear_hold(job=job, user=owner, code="asbestos", by="Ada Brandt", note="Report 1182")
    after = "\n".join(sheets(printed(job).pdf))
    assert "HOLD. The old floor may hold asbestos" in before
    assert "Cleared by Ada Brandt" in after
    assert "HOLD. The old floor" not in after


def test_asked_twice_at_once_it_is_one_errand(job: Job, owner: User) -> None:
    assert ask_for_packet(job=job, user=owner) == ask_for_packet(job=job, user=owner)
    assert Errand.objects.filter(kind=KIND).count() == 1


@pytest.mark.usefixtures("set_paper")
def test_the_worker_prints_and_keeps_it(job: Job, owner: User) -> None:
    ask_for_packet(job=job, user=owner)
    assert carry_out_waiting() == 1
    packet = job.packets.get()
    assert (packet.number, packet.document.made_by) == (1, owner)
    assert read_file(packet.pdf).startswith(b"%PDF")


def test_nothing_new_makes_no_new_packet(job: Job, owner: User) -> None:
    keep_packet(job=job, printed=printed(job), user=owner)
    assert print_packet(job) is None


@pytest.mark.usefixtures("set_paper")
def test_a_change_makes_the_next_number_and_the_first_stays_readable(job: Job, owner: User) -> None:
    first = keep_packet(job=job, printed=printed(job), user=owner)
    crew = job.days.get(number=1).crew
    laid_out(job, crew, start=date(2027, 4, 5))
    second = keep_packet(job=job, printed=printed(job), user=owner)
    visitor = Visitor()
    visitor.force_login(crew.members.get())
    answer = visitor.get(reverse("packet-file", args=[first.pk]))
    assert (second.number, answer.status_code) == (2, 200)
    assert "Packet 1" in sheets(b"".join(answer.streaming_content))[0]  # type: ignore[attr-defined]


def test_a_packet_whose_number_was_taken_meanwhile_is_not_kept(job: Job, owner: User) -> None:
    late = printed(job)
    make_packet(job)
    with pytest.raises(BadValueError, match="another one was issued meanwhile"):
        keep_packet(job=job, printed=late, user=owner)


def test_without_days_there_is_no_packet() -> None:
    job = agreed_job()
    with pytest.raises(BadValueError, match="days is 'none'; accepted: days: plan the days"):
        ask_for_packet(job=job, user=make_person(job.company))


def test_without_an_agreed_scope_there_is_no_packet() -> None:
    job = make_job(make_company())
    visitor = Visitor()
    visitor.force_login(make_person(job.company))
    answer = visitor.post(reverse("packet-print", args=[job.pk]))
    assert answer.status_code == 422
    assert "an accepted quote" in answer.content.decode()


def test_the_page_says_when_nothing_was_new(job: Job, owner: User) -> None:
    keep_packet(job=job, printed=printed(job), user=owner)
    errand = ask_for_packet(job=job, user=owner)
    Errand.objects.filter(pk=errand.pk).update(
        state=Errand.State.DONE, finished_at=errand.created_at, result='{"new": false}'
    )
    visitor = Visitor()
    visitor.force_login(owner)
    page = visitor.get(reverse("packet-list", args=[job.pk])).content.decode()
    assert "Packet 1 already says how things stand." in page
