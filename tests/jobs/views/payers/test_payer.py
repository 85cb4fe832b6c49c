"""The page of who pays for a job: a store chosen or added, and what can't be, refused."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Client, ClientKind, Job, JobPayer, User
from tests.builders import make_client, make_company, make_job
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    assert owner.company is not None
    return make_job(owner.company)


def send(visitor: Visitor, job: Job, **typed: object) -> HttpResponse:
    data = {"key": "once", "version": 1, "prices": "ours"} | typed
    return visitor.post(reverse("job-payer", args=[job.pk]), data, follow=True)  # type: ignore[return-value]


def test_a_store_pays_with_its_order_number(visitor: Visitor, job: Job) -> None:
    store = make_client(job.company, "Alder Store", kind=ClientKind.STORE)
    page = words(
        send(
            visitor,
            job,
            payer=store.pk,
            order_number="4711",
            payment_days="30",
            retainage_percent="10",
            terms="Invoice by the tenth.",
        )
    )
    assert "The payer is saved." in page
    row = JobPayer.objects.get(job=job)
    assert (row.payer, row.order_number, row.payment_days) == (store, "4711", 30)
    assert row.retainage_percent == 10
    assert row.terms == "Invoice by the tenth."
    shown = words(visitor.get(reverse("job", args=[job.pk])))
    assert "Alder Store, order 4711" in shown


def test_a_new_payer_is_added_once(visitor: Visitor, job: Job) -> None:
    for _ in range(2):
        send(visitor, job, new_name="Birch & Sons <b>", new_kind="builder")
    added = Client.objects.get(name="Birch & Sons <b>")
    assert added.kind == ClientKind.BUILDER
    assert JobPayer.objects.get(job=job).payer == added
    page = visitor.get(reverse("job", args=[job.pk])).content.decode()
    assert "Birch &amp; Sons &lt;b&gt;" in page
    assert "Birch & Sons <b>" not in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"retainage_percent": "21"}, "“21” can't be used; accepted: a number from 0 to 20."),
        ({"retainage_percent": "-1"}, "“-1” can't be used"),
        ({"retainage_percent": "10%"}, "“10%” can't be used"),
        ({"payment_days": "400"}, "400 can't be used; accepted: a whole number from 0 to 365."),
        ({"prices": "payer"}, "accepted: a payer whose unit prices they are"),
        ({"payer": "999999"}, "not one of the available choices"),
    ],
)
def test_what_cannot_be_is_refused_and_stays_typed(
    visitor: Visitor, job: Job, typed: dict[str, str], said: str
) -> None:
    answer = send(visitor, job, order_number="4711", **typed)
    assert answer.status_code == 422
    assert said in words(answer)
    assert 'value="4711"' in answer.content.decode()
    assert not JobPayer.objects.exists()


def test_a_payer_is_chosen_or_named_not_both(visitor: Visitor, job: Job) -> None:
    store = make_client(job.company, "Alder Store")
    answer = send(visitor, job, payer=store.pk, new_name="Birch Homes")
    assert "accepted: nothing here while Alder Store is chosen" in words(answer)
    assert not Client.objects.filter(name="Birch Homes").exists()


def test_a_client_of_another_company_pays_for_nothing(visitor: Visitor, job: Job) -> None:
    strange = make_client(make_company("Other Floors"), "Someone else's store")
    answer = send(visitor, job, payer=strange.pk)
    assert answer.status_code == 422
    assert "Someone else" not in words(answer)


def test_whoever_saves_second_is_told(visitor: Visitor, job: Job) -> None:
    send(visitor, job, order_number="1")
    answer = send(visitor, job, order_number="2", key="another")
    assert answer.status_code == 409
    assert JobPayer.objects.get(job=job).order_number == "1"


def test_the_table_itself_refuses_what_the_form_does(job: Job) -> None:
    for wrong in ({"retainage_percent": 21}, {"payment_days": 366}, {"prices": "payer"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            JobPayer.objects.create(job=job, **wrong)
