"""A scope changed under an accepted quote: told, priced by its difference, agreed by name."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import ChangeOrder
from estimates.readers.prices import priced_of
from estimates.readers.review.reviewed import reviewed
from estimates.services.orders.agree import agree_change
from estimates.services.orders.pending import PendingChange, agreed_price, pending_change
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.domain.plans.older import OlderPlanError
from jobs.models import Company, Job, Rate, User
from jobs.services.scope import changes_since_agreed
from tests.builders import make_job, make_plan, make_room, make_zone
from tests.estimates.a_job import (
    TODAY,
    a_quote,
    accepted,
    company_of,
    set_price,
)
from tests.estimates.a_price import Given
from tests.estimates.kept import FOLDER
from tests.jobs.kept import kept
from tests.jobs.older import planned_before
from tests.reading import words

pytestmark = pytest.mark.django_db


def more_spares(job: Job, count: int = 30) -> Job:
    """The client wants so many boards more; the floor is planned again with them."""
    job.zones.update(spares=count)
    for zone in job.zones.all():
        make_plan(zone)
    return Job.objects.get(pk=job.pk)


def pending(job: Job) -> PendingChange:
    change = pending_change(job, TODAY)
    assert change is not None
    return change


def agree(job: Job, owner: User, **changes: object) -> ChangeOrder:
    fields: Given = {
        "key": "c1",
        "amount": Decimal(200),
        "agreed_by": "Ines Okafor",
        "today": TODAY,
    }
    fields |= {"seen": changes.pop("seen", None) or pending(job).seen}
    return agree_change(job=job, user=owner, **fields | changes)


def test_nothing_differs_after_acceptance(job: Job) -> None:
    assert changes_since_agreed(job) == ()


def test_more_boards_are_told_in_words(job: Job) -> None:
    sentences = [change.text for change in changes_since_agreed(more_spares(job))]
    assert any("cartons" in text and text.startswith("Changed: Flooring") for text in sentences)


def test_before_acceptance_a_change_is_no_change_order(owner: User) -> None:
    quote = a_quote(owner)
    assert changes_since_agreed(more_spares(quote.job)) == ()


def test_other_rates_are_no_change_of_scope(job: Job) -> None:
    Rate.objects.create(company=job.company, task="lay", driver="floor_area", hours=9, per=100)
    assert changes_since_agreed(Job.objects.get(pk=job.pk)) == ()


def test_a_closed_job_has_no_pending_change(job: Job) -> None:
    Job.objects.filter(pk=job.pk).update(closed_at=f"{TODAY}T12:00:00Z")
    assert changes_since_agreed(more_spares(job)) == ()


def test_two_cartons_more_cost_two_cartons_at_the_margin(job: Job) -> None:
    # 2 x 60 = 120; with overhead of 12 % 134.40; at a margin of 25 % 134.40 / 0.75.
    assert pending(more_spares(job)).difference == Decimal("179.20")


def test_work_that_goes_to_the_homeowner_is_told_and_comes_off(job: Job, owner: User) -> None:
    before = pending_change(job, TODAY)
    Job.objects.filter(pk=job.pk).update(left_to_homeowner=["clean"])
    change = pending(job)
    assert before is None
    assert [one.text for one in change.changes] == [
        "Changed: Clean and hand over, from done by the crew to done by the homeowner."
    ]
    # 1 h and 0.15 h for 100 ft2 on 20.42: 1.03 x 48 = 49.44; with 12 % 55.37; / 0.75 = 73.83, but
    # for the cent that two prices are rounded to.
    assert abs(change.difference + Decimal("73.83")) <= Decimal("0.01")
    agree(job, owner)
    job.refresh_from_db()
    assert pending_change(job, TODAY) is None


def test_hours_that_were_learned_meanwhile_cost_the_change_nothing(job: Job) -> None:
    Rate.objects.create(company=job.company, task="lay", driver="floor_area", hours=9, per=100)
    Company.objects.filter(pk=job.company_id).update(crew_day_hours=8, trip_hours=3)
    # Two cartons more, at the rates, crew and trip that were agreed on.
    assert pending(more_spares(job)).difference == Decimal("179.20")


def test_dearer_prices_count_only_for_what_changed(job: Job) -> None:
    before = pending(more_spares(job)).difference
    set_price(job.company, "spacers", "5.00", TODAY)
    assert pending(job).difference == before


def test_the_change_becomes_the_agreed_scope(job: Job, owner: User) -> None:
    order = agree(more_spares(job), owner)
    job.refresh_from_db()
    assert job.agreed_scope == order.scope
    assert changes_since_agreed(job) == ()


def test_a_change_sent_twice_is_agreed_once(job: Job, owner: User) -> None:
    seen = pending(more_spares(job)).seen
    assert agree(job, owner, seen=seen) == agree(job, owner, seen=seen)
    assert job.change_orders.count() == 1


def test_the_frozen_document_says_what_was_agreed(job: Job, owner: User) -> None:
    order = agree(more_spares(job), owner)
    agreed = json.loads(order.document.text)
    assert (agreed["amount"], agreed["agreed_by"]) == ("200", "Ines Okafor")
    assert agreed["scope_sha256"] == order.scope.document.sha256


def test_the_document_has_the_keys_of_its_kept_text(job: Job, owner: User) -> None:
    written = json.loads(agree(more_spares(job), owner).document.text)
    assert written.keys() == json.loads(kept("change-order-2", FOLDER)).keys()


def test_the_agreed_price_is_the_quote_and_its_changes(job: Job, owner: User) -> None:
    quoted = priced_of(job.estimates.get()).subtotal
    agree(more_spares(job), owner)
    assert agreed_price(job) == quoted + 200


def test_what_was_not_seen_is_not_agreed(job: Job, owner: User) -> None:
    seen = pending(more_spares(job)).seen
    with pytest.raises(BadValueError, match="the change as it stands now"):
        agree(more_spares(job, 60), owner, seen=seen)


def test_nothing_changed_is_nothing_to_agree_on(job: Job, owner: User) -> None:
    with pytest.raises(BadValueError, match="scope is 'as agreed'"):
        agree(job, owner, seen="0" * 64)


def test_the_review_counts_the_change_as_price(job: Job, owner: User) -> None:
    agree(more_spares(job), owner)
    margin_review = reviewed(Job.objects.get(pk=job.pk))
    assert margin_review is not None
    assert margin_review.review.real.price - margin_review.review.quoted.price == 200


def test_the_page_shows_the_difference_and_takes_the_word(job: Job, owner: User) -> None:
    visitor = Visitor()
    visitor.force_login(owner)
    page = reverse("job-changes", args=[more_spares(job).pk])
    assert "A scope changed under an accepted quote" in visitor.get(page).content.decode()
    form = {"key": "k", "amount": "150", "agreed_by": "Ines Okafor", "seen": _seen_now(job)}
    assert visitor.post(page, form).status_code == 303
    assert "Change order 1" in visitor.get(page).content.decode()


def test_the_price_page_tells_of_the_change(job: Job, owner: User) -> None:
    visitor = Visitor()
    visitor.force_login(owner)
    page = visitor.get(reverse("job-price", args=[more_spares(job).pk])).content.decode()
    assert "A scope changed under an accepted quote" in page


def test_a_word_without_a_name_is_refused(job: Job, owner: User) -> None:
    visitor = Visitor()
    visitor.force_login(owner)
    page = reverse("job-changes", args=[more_spares(job).pk])
    form = {"key": "k", "amount": "150", "agreed_by": "!", "seen": _seen_now(job)}
    answer = visitor.post(page, form)
    assert answer.status_code == 422
    assert not job.change_orders.exists()


def test_the_days_page_tells_the_office_of_the_change(job: Job, owner: User) -> None:
    visitor = Visitor()
    visitor.force_login(owner)
    page = visitor.get(reverse("job-days", args=[more_spares(job).pk])).content.decode()
    assert "A scope changed under an accepted quote" in page


def _seen_now(job: Job) -> str:
    change = pending_change(job, today_of(job.company))
    assert change is not None
    return change.seen


def test_a_change_of_a_floor_planned_before_asks_to_plan_it_again(
    owner: User, visitor: Visitor
) -> None:
    planned = make_job(company_of(owner))
    zone = planned_before(make_zone(make_room(planned))).zone
    accepted(a_quote(owner, planned))
    planned.zones.update(pad=True)  # wanted since; the plan of the planks stays as it was made
    job = Job.objects.get(pk=planned.pk)
    page = words(visitor.get(reverse("job-changes", args=[job.pk])))
    assert "Planned under older rules" in page
    assert f'<a href="{reverse("zone", args=[zone.pk])}">Den</a>' in page
    with pytest.raises(OlderPlanError):
        agree(job, owner)
