"""The list of missing and old prices: answered in place, in one go, for the very item."""

from __future__ import annotations

from datetime import date

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import PriceItem
from jobs.clock import today_of
from jobs.models import Job, User
from tests.builders import make_planned_job
from tests.estimates.a_job import an_owner, company_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A planned job whose product alone has no price; every other price was seen today."""
    planned = make_planned_job(company_of(owner))
    PriceItem.objects.filter(code="cartons").delete()
    PriceItem.objects.update(last_seen=today_of(planned.company))
    return planned


def page_of(visitor: Visitor, job: Job) -> str:
    """The price page of the job as text."""
    return visitor.get(reverse("job-price", args=[job.pk])).content.decode()


def product_of(job: Job) -> str:
    """The product of the job's floor."""
    zone = job.zones.get()
    return str(zone.product.name)


def answer(visitor: Visitor, *things: dict[str, str], job: Job | None = None) -> HttpResponse:
    """Send the list with these things in it."""
    typed = {"key": "once", "count": str(len(things))}
    for place, thing in enumerate(things):
        typed |= {f"need{place}-{name}": value for name, value in thing.items()}
    url = reverse("price-answer") + (f"?job={job.pk}" if job else "")
    return visitor.post(url, typed)  # type: ignore[return-value]


def old(row: PriceItem, **changes: str) -> dict[str, str]:
    """An old price as the list sends it back."""
    typed = {"code": row.code, "item": row.item, "row": str(row.pk), "version": str(row.version)}
    return typed | {"amount": f"{row.amount:.2f}", "per": "pack", "covers": ""} | changes


def test_the_price_page_asks_for_the_product_and_for_nothing_that_is_priced(
    visitor: Visitor, job: Job
) -> None:
    # Below the list stand the lines of the job's own, rows as well.
    page = page_of(visitor, job).partition('id="lines"')[0]
    assert f"Flooring, {product_of(job)}" in page
    assert page.count('class="price-row') == 1


def test_a_price_by_the_square_foot_is_saved_for_the_product(visitor: Visitor, job: Job) -> None:
    thing = {"code": "cartons", "item": product_of(job), "amount": "2.62", "per": "measure"}
    sent = answer(visitor, thing | {"covers": "23.3"}, job=job)
    assert sent.headers["location"] == reverse("job-price", args=[job.pk])
    assert PriceItem.objects.get(code="cartons").item == product_of(job)
    assert "Prices missing or old" not in page_of(visitor, job)


def test_a_price_of_another_product_leaves_this_one_missing(visitor: Visitor, job: Job) -> None:
    answer(visitor, {"code": "cartons", "item": "Another", "amount": "60", "per": "pack"})
    assert f"Flooring, {product_of(job)}" in page_of(visitor, job)


def test_what_is_left_empty_stays_missing(visitor: Visitor, job: Job) -> None:
    cartons = {"code": "cartons", "item": product_of(job), "amount": "", "per": "pack"}
    pad = {"code": "pad", "item": "Soft pad", "amount": "45", "per": "pack"}
    assert answer(visitor, cartons, pad).status_code == 303
    assert PriceItem.objects.filter(item="Soft pad").exists()
    assert not PriceItem.objects.filter(code="cartons").exists()


def test_one_bad_entry_keeps_all_out_and_every_entry_typed(visitor: Visitor, job: Job) -> None:
    bad = {"code": "cartons", "item": product_of(job), "amount": "6o", "per": "pack"}
    sent = answer(visitor, {"code": "pad", "item": "Soft", "amount": "45", "per": "pack"}, bad)
    page = sent.content.decode()
    assert sent.status_code == 422
    assert 'value="6o"' in page
    assert 'value="45"' in page
    assert not PriceItem.objects.filter(item="Soft").exists()


def test_an_empty_list_is_refused_in_words(visitor: Visitor, job: Job) -> None:
    cartons = {"code": "cartons", "item": product_of(job), "amount": "", "per": "pack"}
    sent = answer(visitor, cartons)
    assert sent.status_code == 422
    assert "a price beside one of them at least" in sent.content.decode()


def test_an_old_price_is_still_right_or_another_or_left(visitor: Visitor, job: Job) -> None:
    PriceItem.objects.update(last_seen=date(2020, 1, 1))
    pad, caulk, spacers = (PriceItem.objects.get(code=c) for c in ("pad", "caulk", "adhesive"))
    sent = answer(visitor, old(pad, still="on"), old(caulk, amount="4.50"), old(spacers))
    today = today_of(job.company)
    assert sent.status_code == 303
    assert PriceItem.objects.get(code="pad").last_seen == today
    assert PriceItem.objects.filter(code="caulk").count() == 2
    assert PriceItem.objects.get(code="adhesive").last_seen == date(2020, 1, 1)


def test_an_answer_overtaken_by_another_is_told_and_may_be_sent_again(
    visitor: Visitor, job: Job
) -> None:
    PriceItem.objects.update(last_seen=date(2020, 1, 1))
    pad = PriceItem.objects.get(code="pad")
    answer(visitor, old(pad, amount="35"))
    late = answer(visitor, old(pad, amount="36"))
    newest = PriceItem.objects.filter(code="pad").latest("effective_from")
    page = late.content.decode()
    assert late.status_code == 409
    assert "Price is now $35.00 a roll" in page
    assert answer(visitor, old(newest, amount="36")).status_code == 303


def test_another_companys_job_is_not_there(visitor: Visitor, job: Job) -> None:
    stranger = Visitor()
    stranger.force_login(an_owner())
    assert answer(stranger, job=job).status_code == 404
