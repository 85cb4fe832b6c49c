"""Material supplied: the office says whose it is, the crew counts it and sees no price."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from jobs.clock import today_of
from jobs.domain.payers.supplied import MaterialNeed
from jobs.models import Job, Role, SuppliedMaterial, SuppliedReceipt, User
from jobs.services.payers.supplied import needs_now
from jobs.services.scope import freeze_scope
from tests.builders import make_crew, make_day, make_person, make_planned_job
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    assert owner.company is not None
    return make_planned_job(owner.company)


@pytest.fixture
def crew(job: Job) -> Visitor:
    """A browser of somebody whose crew works on the job."""
    person = make_person(job.company, Role.CREW)
    make_day(job, make_crew(job.company, person), freeze_scope(job=job, user=None))
    signed_in = Visitor()
    signed_in.force_login(person)
    return signed_in


def cartons(job: Job) -> MaterialNeed:
    return next(need for need in needs_now(job) if need.code == "cartons")


def theirs(job: Job, **values: str) -> SuppliedMaterial:
    """The job's flooring, supplied by the client."""
    need = cartons(job)
    given = {"whose": "client"} | values
    return SuppliedMaterial.objects.create(job=job, code=need.code, item=need.item, **given)


def count(visitor: Visitor, row: SuppliedMaterial, **typed: object) -> HttpResponse:
    day = today_of(row.job.company).isoformat()
    data = {"key": "once", "faulty": "", "lot": "", "faults": "", "day": day} | typed
    return visitor.post(reverse("supplied-count", args=[row.pk]), data, follow=True)  # type: ignore[return-value]


def test_all_the_material_is_said_to_be_the_clients(visitor: Visitor, job: Job) -> None:
    page = reverse("job-supplied", args=[job.pk])
    form = visitor.get(page).context["form"]
    data = {"key": "once", "version": form.fields["version"].initial, "everything": "client"}
    data |= {name: form[name].value() for name in form.fields if name[:5] in ("whose", "lot-p")}
    answer = visitor.post(page, data, follow=True)
    assert "It is saved whose the material is." in words(answer)
    rows = SuppliedMaterial.objects.filter(job=job, whose="client")
    assert {(row.code, row.item) for row in rows} == {
        (need.code, need.item) for need in needs_now(job)
    }
    again = visitor.post(page, data | {"key": "another", "everything": "ours"})
    assert again.status_code == 409
    assert rows.count() == len(needs_now(job))


def test_the_crew_counts_what_came(crew: Visitor, job: Job) -> None:
    row, need = theirs(job), cartons(job)
    typed = {"counted": str(need.amount), "faulty": "1", "lot": "A1", "faults": "broken <b>corners"}
    page = words(count(crew, row, **typed))
    assert "The count is saved." in page
    receipt = SuppliedReceipt.objects.get()
    assert [receipt.counted, receipt.faulty] == [need.amount, 1]
    assert receipt.lot == "A1"
    # As many as are needed came, one is faulty: one is short.
    assert "1 carton short." in page
    assert "broken &lt;b&gt;corners" in page
    said = words(crew.get(reverse("job", args=[job.pk])))
    assert "1 carton short." in said
    assert "supplied by the client" in said


def test_no_page_of_the_crew_shows_a_price(crew: Visitor, job: Job) -> None:
    row = theirs(job)
    count(crew, row, counted="1")
    for name, pk in (("job", job.pk), ("job-supplied", job.pk), ("supplied-count", row.pk)):
        answer = crew.get(reverse(name, args=[pk]))
        assert answer.status_code == 200
        page = words(answer)
        assert "$" not in page
        assert "paid trip" not in page
    assert crew.get(reverse("job-payer", args=[job.pk])).status_code == 403
    assert crew.get(reverse("job-price", args=[job.pk])).status_code == 403


def test_the_crew_says_of_nothing_whose_it_is(crew: Visitor, job: Job) -> None:
    assert "Whose material" not in words(crew.get(reverse("job-supplied", args=[job.pk])))
    assert crew.post(reverse("job-supplied", args=[job.pk]), {}).status_code == 403


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"counted": ""}, "Nothing was typed; accepted: a number from 0 to 99999."),
        ({"counted": "a few"}, "“a few” can't be used"),
        ({"counted": "-2"}, "“-2” can't be used"),
        ({"counted": "1000000"}, "“1000000” can't be used"),
        ({"counted": "2.5"}, "accepted: whole cartons"),
        ({"counted": "2", "faulty": "3", "faults": "wet"}, "accepted: up to 2 cartons, what came"),
        ({"counted": "2", "faulty": "1"}, "accepted: what is wrong with them"),
    ],
)
def test_a_count_that_cannot_be_is_refused(
    visitor: Visitor, job: Job, typed: dict[str, str], said: str
) -> None:
    answer = count(visitor, theirs(job), **typed)
    assert answer.status_code == 422
    assert said in words(answer)
    assert not SuppliedReceipt.objects.exists()


def test_nothing_came_on_a_day_to_come(visitor: Visitor, job: Job) -> None:
    tomorrow = today_of(job.company) + timedelta(days=2)
    assert count(visitor, theirs(job), counted="1", day=tomorrow.isoformat()).status_code == 422


def test_a_count_sent_twice_counts_once_and_a_wrong_one_is_removed(
    visitor: Visitor, job: Job
) -> None:
    row = theirs(job)
    for _ in range(2):
        count(visitor, row, counted="1")
    receipt = SuppliedReceipt.objects.get()
    assert receipt.counted == Decimal(1)
    visitor.post(reverse("receipt-remove", args=[receipt.pk]))
    assert not SuppliedReceipt.objects.exists()
