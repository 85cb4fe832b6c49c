"""Stored documents about money that can't be read: a clear page, lists that live, no leak."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import ChangeOrder, Quote
from estimates.services.orders.agree import agree_change
from estimates.services.orders.pending import pending_change
from jobs.models import Job, User
from jobs.services.files import path_of
from tests.builders import make_plan
from tests.estimates.a_job import (
    LATER,
    TODAY,
    a_day,
    a_quote,
    accepted,
    an_agreed_job,
    log,
)
from tests.jobs.spoiled import SPOILS, spoil
from tests.reading import words

pytestmark = pytest.mark.django_db


def status(visitor: Visitor, name: str, *args: object) -> int:
    return visitor.get(reverse(name, args=args)).status_code


def an_order(job: Job, owner: User) -> ChangeOrder:
    """A change order for thirty boards more, planned again with them."""
    job.zones.update(spares=30)
    make_plan(job.zones.get())
    changed = Job.objects.get(pk=job.pk)
    pending = pending_change(changed, TODAY)
    assert pending is not None
    return agree_change(
        job=changed,
        user=owner,
        key="order",
        amount=Decimal(200),
        agreed_by="Ines Okafor",
        seen=pending.seen,
        today=TODAY,
    )


@pytest.mark.parametrize("how", SPOILS)
def test_a_spoiled_quote_tells_the_homeowner_whom_to_call(how: str, owner: User) -> None:
    quote = a_quote(owner)
    spoil(quote.document, how)
    answer = Visitor().get(reverse("quote-public", args=[quote.token]))
    assert answer.status_code == 409
    assert "This quote can't be shown" in words(answer)
    assert "call whoever sent you the link" in words(answer)


def test_the_homeowner_is_told_nothing_of_the_books(owner: User) -> None:
    quote = a_quote(owner)
    spoil(quote.document)
    page = words(Visitor().get(reverse("quote-public", args=[quote.token])))
    assert "sha256" not in page
    assert "backup" not in page


def test_the_pdf_of_a_spoiled_quote_is_still_served(owner: User) -> None:
    quote = a_quote(owner)
    spoil(quote.document)
    assert status(Visitor(), "quote-public-file", quote.token) == 200


def test_a_pdf_that_is_gone_is_answered_clearly(owner: User) -> None:
    quote = a_quote(owner)
    path_of(quote.pdf.sha256).unlink()
    assert status(Visitor(), "quote-public-file", quote.token) == 409


def test_a_spoiled_quote_does_not_bring_its_list_down(visitor: Visitor, owner: User) -> None:
    quote = a_quote(owner)
    spoil(quote.document)
    assert status(visitor, "job-quotes", quote.job_id) == 200
    assert status(visitor, "quote", quote.pk) == 200


def test_a_spoiled_estimate_is_answered_by_its_own_page(visitor: Visitor, owner: User) -> None:
    quote = a_quote(owner)
    spoil(quote.estimate.document)
    answer = visitor.get(reverse("estimate", args=[quote.estimate_id]))
    assert (answer.status_code, "price the job again" in words(answer)) == (409, True)
    assert status(visitor, "job-price", quote.job_id) == 200


def test_a_spoiled_estimate_leads_to_no_quote(visitor: Visitor, owner: User) -> None:
    quote = a_quote(owner)
    job = quote.job
    quote.options.all().delete()
    Quote.objects.all().delete()
    spoil(quote.estimate.document)
    answer = visitor.get(reverse("estimate", args=[quote.estimate_id]))
    assert (answer.status_code, job.quotes.count()) == (409, 0)


def test_a_price_of_a_spoiled_plan_is_refused_clearly(visitor: Visitor, owner: User) -> None:
    quote = a_quote(owner)
    spoil(quote.job.zones.get().plans.get().document)
    answer = visitor.get(reverse("job-price", args=[quote.job_id]))
    assert (answer.status_code, "plan the floor again" in words(answer)) == (409, True)


def test_a_spoiled_change_order_stands_in_its_list(visitor: Visitor, owner: User) -> None:
    order = an_order(an_agreed_job(owner), owner)
    spoil(order.document)
    answer = visitor.get(reverse("job-changes", args=[order.job_id]))
    assert answer.status_code == 200
    assert "What it changed can't be read" in words(answer)
    assert f"Change order {order.number}" in words(answer)


def test_a_change_order_whose_estimate_is_not_found_is_refused_clearly(
    visitor: Visitor, owner: User
) -> None:
    order = an_order(an_agreed_job(owner), owner)
    spoil(order.scope.estimates.get().document)
    answer = visitor.get(reverse("job-review", args=[order.job_id]))
    assert (answer.status_code, "This change order can't be shown" in words(answer)) == (409, True)


def test_rates_are_learned_without_a_job_whose_scope_is_spoiled(
    visitor: Visitor, owner: User
) -> None:
    for key in ("sound", "spoiled"):
        accepted(a_quote(owner, key=key))
    sound, spoiled = Job.objects.order_by("pk")
    for job in (sound, spoiled):
        log(a_day(job), "lay", "9", zone="Den")
    Job.objects.update(closed_at=f"{LATER}T12:00:00Z")
    assert spoiled.agreed_scope is not None
    spoil(spoiled.agreed_scope.document)
    page = words(visitor.get(reverse("rates-learned")))
    assert f"The agreed scope of job {spoiled.number} can't be read" in page
