"""What was bought: typed once, corrected with a version, struck out with a trace."""

from __future__ import annotations

import datetime

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import Purchase
from jobs.clock import today_of
from jobs.models import AuditLine, Company, Job, User
from tests.builders import make_job
from tests.estimates.a_job import company_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A job of the company."""
    return make_job(company_of(owner))


def typed(**changes: object) -> dict[str, object]:
    today = today_of(Company.objects.get()).isoformat()
    form = {
        "kind": "bought",
        "code": "caulk",
        "quantity": "2",
        "amount": "9.10",
        "bought_on": today,
    }
    return {"key": "k1", "version": 1} | form | changes


def add(visitor: Visitor, job: Job, **changes: object) -> tuple[int, str]:
    """Send the form of a purchase; the status of the answer, and its page."""
    answer = visitor.post(reverse("purchase-add", args=[job.pk]), typed(**changes))
    return answer.status_code, answer.content.decode()


def test_name_and_unit_come_from_the_list_where_none_is_typed(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    bought = Purchase.objects.get(job=job)
    assert (bought.label, bought.unit, str(bought.amount)) == ("Caulk", "tube", "9.10")


def test_a_purchase_sent_twice_is_bought_once(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    add(visitor, job)
    assert job.purchases.count() == 1


def test_something_else_needs_a_name_and_a_unit(visitor: Visitor, job: Job) -> None:
    status, page = add(visitor, job, code="other")
    assert status == 422
    assert "accepted: what it is called, as on the receipt" in page
    assert not job.purchases.exists()


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"quantity": "0"}, "“0” can&#x27;t be used; accepted: a number from 0.01 to 99999"),
        ({"quantity": "two"}, "“two” can&#x27;t be used"),
        ({"amount": "-5"}, "“-5” can&#x27;t be used; accepted: a number from 0 to 99999"),
        ({"bought_on": "2999-01-01"}, "2999-01-01 has not come yet"),
        ({"code": "gold"}, "gold"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(
    visitor: Visitor, job: Job, changes: dict[str, str], said: str
) -> None:
    status, page = add(visitor, job, **changes)
    assert status == 422
    assert said in page


def test_a_correction_counts_where_nobody_was_faster(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    bought = Purchase.objects.get(job=job)
    edit = reverse("purchase-edit", args=[bought.pk])
    assert visitor.post(edit, typed(key="k2", amount="12")).status_code == 303
    late = visitor.post(edit, typed(key="k3", amount="15"))
    assert late.status_code == 409
    bought.refresh_from_db()
    assert bought.amount == 12


def test_a_removed_purchase_leaves_a_line(visitor: Visitor, job: Job) -> None:
    add(visitor, job)
    pk = Purchase.objects.get(job=job).pk
    visitor.post(reverse("purchase-remove", args=[pk]))
    assert not job.purchases.exists()
    assert AuditLine.objects.filter(act="Removed the purchase Caulk, 9.10").exists()


def test_an_empty_book_of_purchases_offers_the_first(visitor: Visitor, job: Job) -> None:
    page = visitor.get(reverse("purchase-list", args=[job.pk])).content.decode()
    assert "Add the first purchase" in page


def test_the_list_sums_what_was_paid(visitor: Visitor, job: Job) -> None:
    day = today_of(job.company) - datetime.timedelta(days=1)
    add(visitor, job)
    add(visitor, job, key="k2", amount="40.90", bought_on=day.isoformat())
    page = visitor.get(reverse("purchase-list", args=[job.pk])).content.decode()
    assert "$50.00" in page


def test_more_returned_than_was_bought_is_refused_at_its_quantity(
    visitor: Visitor, job: Job
) -> None:
    add(visitor, job, quantity="3")
    status, page = add(visitor, job, key="k2", kind="returned", quantity="4")
    assert status == 422
    assert "4 tube returned&#x27;; accepted: up to 3 tube, as 3 were bought for this job" in page
    assert 'value="4"' in page
    assert job.purchases.count() == 1


def test_what_was_returned_before_counts_and_the_last_one_can_go_back(
    visitor: Visitor, job: Job
) -> None:
    add(visitor, job, quantity="3")
    assert add(visitor, job, key="k2", kind="returned", quantity="2")[0] == 303
    status, page = add(visitor, job, key="k3", kind="returned", quantity="2")
    assert (status, "up to 1 tube" in page, "2 returned before" in page) == (422, True, True)
    assert add(visitor, job, key="k4", kind="returned", quantity="1")[0] == 303


def test_a_return_is_held_against_the_same_thing_in_the_same_unit(
    visitor: Visitor, job: Job
) -> None:
    add(visitor, job, quantity="3")
    assert add(visitor, job, key="k2", kind="returned", quantity="1", unit="box")[0] == 422
    assert add(visitor, job, key="k3", kind="returned", quantity="1", code="glue")[0] == 422


def test_a_return_corrected_counts_once(visitor: Visitor, job: Job) -> None:
    add(visitor, job, quantity="3")
    add(visitor, job, key="k2", kind="returned", quantity="2")
    row = Purchase.objects.get(kind="returned")
    edit = reverse("purchase-edit", args=[row.pk])
    more = typed(key="k3", kind="returned", quantity="4")
    assert visitor.post(edit, more).status_code == 422
    assert visitor.post(edit, more | {"quantity": "3", "key": "k4"}).status_code == 303
