"""A stored document that can't be read: its pages say so and what to do, all others live."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Document, Errand, FloorPlan, Job, Role, User
from jobs.services.files import path_of
from jobs.services.packets import ask_for_packet, keep_packet, print_packet
from jobs.services.scope import freeze_scope
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_person
from tests.jobs.agreed import a_crew, laid_out
from tests.jobs.plans import agreed_rooms, planned
from tests.jobs.spoiled import SPOILS, spoil
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job of two rooms, planned, its scope agreed on and laid onto days."""
    job = agreed_rooms("Den", "Study")
    laid_out(job, a_crew(job.company))
    return Job.objects.get(pk=job.pk)


@pytest.fixture
def owner(job: Job) -> User:
    """The owner of the job's company."""
    return make_person(job.company)


@pytest.fixture
def plan(job: Job) -> FloorPlan:
    """The plan of the den."""
    return FloorPlan.objects.get(zone__job=job, zone__name="Den")


def scope_document(job: Job) -> Document:
    """The document of the agreed scope."""
    assert job.agreed_scope is not None
    return job.agreed_scope.document


def status(visitor: Visitor, name: str, pk: int, **headers: Any) -> int:
    return visitor.get(reverse(name, args=[pk]), headers=headers).status_code


@pytest.mark.parametrize("how", SPOILS)
def test_a_spoiled_plan_is_answered_by_its_own_page(
    how: str, visitor: Visitor, plan: FloorPlan
) -> None:
    spoil(plan.document, how)
    answer = visitor.get(reverse("plan", args=[plan.pk]))
    assert answer.status_code == 409
    assert "This plan can't be shown" in words(answer)
    assert "Traceback" not in words(answer)


def test_the_page_says_what_is_wrong_and_what_to_do(visitor: Visitor, plan: FloorPlan) -> None:
    spoil(plan.document, "of format 9")
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert f"Document {plan.document_id} of the books: plan.format is 9; accepted: 1 to 2." in page
    assert "Nothing was changed just now" in page
    assert "puts it back from a backup" in page
    assert "Or plan the floor again" in page


def test_the_crew_is_sent_to_the_office(plan: FloorPlan, job: Job) -> None:
    spoil(plan.document)
    crew = Visitor()
    crew.force_login(User.objects.filter(company=job.company, role=Role.CREW)[0])
    page = words(crew.get(reverse("plan", args=[plan.pk])))
    assert "Tell the office" in page
    assert "plan the floor again" not in page


def test_a_part_of_a_page_gets_the_notice_alone_to_show(visitor: Visitor, plan: FloorPlan) -> None:
    spoil(plan.document)
    answer = visitor.get(
        reverse("plan", args=[plan.pk]), {"row": "1"}, headers={"HX-Request": "true"}
    )
    assert answer.status_code == 409
    assert answer.content.decode().count('id="error-notice"') == 1


@pytest.mark.parametrize("name", ["plan-cuts", "plan-drawing", "plan-file", "plan-request"])
def test_nothing_is_made_or_sent_of_a_spoiled_plan(
    name: str, visitor: Visitor, plan: FloorPlan
) -> None:
    spoil(plan.document)
    assert status(visitor, name, plan.pk) == 409


def test_a_spoiled_request_spoils_its_plan(visitor: Visitor, plan: FloorPlan) -> None:
    spoil(plan.request)
    page = words(visitor.get(reverse("plan", args=[plan.pk])))
    assert "This request of a plan can't be shown" in page


def test_the_floor_of_a_spoiled_plan_can_be_planned_again(
    visitor: Visitor, plan: FloorPlan
) -> None:
    spoil(plan.document)
    answer = visitor.get(reverse("zone", args=[plan.zone_id]))
    assert answer.status_code == 200
    assert "The plan can't be read" in words(answer)
    assert 'class="primary">Plan the floor' in answer.content.decode()


def test_the_newest_plan_stands_beside_a_spoiled_one(visitor: Visitor, plan: FloorPlan) -> None:
    planned(plan.zone)
    spoil(plan.document)
    page = words(visitor.get(reverse("zone", args=[plan.zone_id])))
    assert "can't be read" in page
    assert "The plan can't be read" not in page


def test_the_list_of_floors_marks_the_spoiled_one(visitor: Visitor, plan: FloorPlan) -> None:
    spoil(plan.document)
    page = words(visitor.get(reverse("zone-list", args=[plan.zone.job_id])))
    assert page.count("can't be read") == 1
    assert "Study" in page


def test_every_other_page_of_the_job_is_as_it_was(visitor: Visitor, plan: FloorPlan) -> None:
    spoil(plan.document)
    other = FloorPlan.objects.get(zone__name="Study")
    job = plan.zone.job_id
    pages = [("plan", other.pk), ("zone", other.zone_id), ("job", job), ("job-days", job)]
    pages += [("room-list", job), ("job-log", job), ("packet-list", job)]
    assert {status(visitor, name, pk) for name, pk in pages} == {200}
    assert visitor.get(reverse("job-list")).status_code == 200


def test_a_day_of_a_spoiled_scope_stands_and_its_log_is_answered_by_the_scopes_page(
    visitor: Visitor, job: Job
) -> None:
    spoil(scope_document(job))
    day = job.days.earliest("date")
    answer = visitor.get(reverse("log-add", args=[day.pk]))
    assert (answer.status_code, "This scope can't be shown" in words(answer)) == (409, True)
    assert visitor.get(reverse("day", args=[day.pk])).status_code == 200


def test_a_log_sent_to_a_spoiled_scope_writes_nothing(visitor: Visitor, job: Job) -> None:
    spoil(scope_document(job))
    day = job.days.earliest("date")
    assert visitor.post(reverse("log-add", args=[day.pk]), {"note": "x"}).status_code == 409
    assert not day.log.exists()


def test_days_stand_where_a_newer_scope_is_spoiled(visitor: Visitor, job: Job) -> None:
    job.zones.filter(name="Den").update(spares=30)
    newer = freeze_scope(job=job, user=None)
    spoil(newer.document)
    page = words(visitor.get(reverse("job-days", args=[job.pk])))
    assert f"The stored scope (document {newer.document_id} of the books) can't be read" in page


def test_days_stand_where_it_cant_be_told_what_changed(visitor: Visitor, plan: FloorPlan) -> None:
    spoil(plan.document)
    page = words(visitor.get(reverse("job-days", args=[plan.zone.job_id])))
    assert "It can't be told whether the scope has changed" in page


def test_a_scope_is_frozen_anew_where_the_newest_is_spoiled(job: Job) -> None:
    spoil(scope_document(job))
    assert freeze_scope(job=job, user=None).number == 2


@pytest.mark.usefixtures("set_paper")
def test_the_worker_says_which_plan_stopped_a_packet(
    job: Job, owner: User, plan: FloorPlan
) -> None:
    alike = Document.objects.filter(sha256=plan.document.sha256)  # rooms alike have one text
    alike.update(text=plan.document.text + " ")
    ask_for_packet(job=job, user=owner)
    carry_out_waiting()
    stopped = Errand.objects.get().error
    assert any(
        f"document {pk} of the books" in stopped for pk in alike.values_list("pk", flat=True)
    )


def test_a_spoiled_packet_is_printed_anew(job: Job, owner: User) -> None:
    printed = print_packet(job)
    assert printed is not None
    packet = keep_packet(job=job, printed=printed, user=owner)
    Document.objects.filter(pk=packet.document_id).update(text="{}")
    assert print_packet(job) is not None


def test_a_packet_whose_pdf_is_gone_is_answered_clearly(
    visitor: Visitor, job: Job, owner: User
) -> None:
    printed = print_packet(job)
    assert printed is not None
    packet = keep_packet(job=job, printed=printed, user=owner)
    path_of(packet.pdf.sha256).unlink()
    answer = visitor.get(reverse("packet-file", args=[packet.pk]))
    assert answer.status_code == 409
    assert "it is not in the folder of files" in words(answer)
