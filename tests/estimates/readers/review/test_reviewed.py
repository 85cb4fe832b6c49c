"""The review through the book equals the sums of a pencil."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.models import Purchase
from estimates.readers.prices import priced_of
from estimates.readers.review.reviewed import Reviewed, reviewed
from estimates.services import purchases
from estimates.services.review import closing
from jobs.models import AuditLine, Job, LogEntry, User
from jobs.readers.scope import scope_value
from tests.builders import make_job
from tests.estimates.a_job import LATER, TODAY, a_day, company_of, log

pytestmark = pytest.mark.django_db


def buy(job: Job, owner: User, code: str, quantity: str, unit: str, paid: str) -> Purchase:
    values = {"code": code, "label": code, "quantity": Decimal(quantity), "unit": unit}
    values |= {"amount": Decimal(paid), "bought_on": TODAY, "supplier": "", "note": ""}
    return purchases.add_purchase(job=job, user=owner, key=f"buy-{code}-{paid}", values=values)


def review_of(job: Job) -> Reviewed:
    margin_review = reviewed(Job.objects.get(pk=job.pk))
    assert margin_review is not None
    return margin_review


def test_a_job_without_an_accepted_quote_has_no_review(owner: User) -> None:
    assert reviewed(make_job(company_of(owner))) is None


def test_before_the_first_entry_the_review_has_not_begun(job: Job) -> None:
    assert not review_of(job).begun


def test_the_money_is_the_hand_sum(job: Job, owner: User) -> None:
    day = a_day(job)
    log(day, "lay", "3", zone="Den")
    log(day, "clean", "1.5")
    buy(job, owner, "cartons", "2", "carton", "124.00")
    made = review_of(job).review
    # 4.5 h x 48 = 216; with the cartons 340; overhead 12 % of it 40.80.
    assert (made.real.labor, made.real.material) == (Decimal("216.00"), Decimal("124.00"))
    assert made.real.overhead == Decimal("40.80")
    assert made.real.profit == made.quoted.price - Decimal("380.80")


def test_contribution_is_by_the_days_of_the_log(job: Job, owner: User) -> None:
    log(a_day(job), "lay", "9", zone="Den")
    log(a_day(job, 2), "lay", "4", zone="Den")
    buy(job, owner, "cartons", "2", "carton", "120.00")
    made = review_of(job).review
    # 13 h x 48 = 624; a crew's day has 16 h, so 9 are a whole day and 4 half a one.
    left = made.quoted.price - 624 - 120
    assert made.real.days_on_site == Decimal("1.5")
    assert made.real.contribution_per_day == (left / Decimal("1.5")).quantize(Decimal("0.01"))


def test_the_days_quoted_are_those_of_the_frozen_scope(job: Job) -> None:
    assert job.agreed_scope is not None
    schedule = scope_value(job.agreed_scope).schedule
    assert schedule is not None
    log(a_day(job), "lay", "4", zone="Den")
    assert review_of(job).review.quoted.days_on_site == schedule.booked


def test_the_quoted_side_is_the_accepted_estimate(job: Job, owner: User) -> None:
    accepted = priced_of(job.estimates.get())
    log(a_day(job), "lay", "4", zone="Den")
    quoted = review_of(job).review.quoted
    assert (quoted.price, quoted.margin) == (accepted.subtotal, accepted.margin)


def test_the_bridge_leads_from_one_profit_to_the_other(job: Job, owner: User) -> None:
    log(a_day(job), "lay", "4", zone="Den")
    buy(job, owner, "cartons", "2", "carton", "120.00")
    made = review_of(job).review
    moved = sum((part.amount or Decimal(0) for part in made.bridge), Decimal(0))
    assert made.quoted.profit + moved == made.real.profit


def test_hours_stand_by_task_beside_the_scope_s(job: Job) -> None:
    log(a_day(job), "lay", "4", zone="Den", note="Bowed wall.")
    margin_review = review_of(job)
    agreed = scope_value(job.agreed_scope).task("lay:Den").hours  # type: ignore[arg-type]
    row = next(row for row in margin_review.review.tasks if row.code == "lay")
    assert (row.agreed, row.logged) == (agreed, Decimal("4.00"))
    assert margin_review.notes["lay", "Den"] == "Bowed wall."


def test_spoiled_planks_stand_by_reason(job: Job) -> None:
    day = a_day(job)
    log(day, "lay", "2", zone="Den", planks_spoiled=1, spoil_reason="defect")
    log(day, "lay", "2", zone="Den", planks_spoiled=3, spoil_reason="wrong side")
    assert review_of(job).spoiled == (("Cut from the wrong side", 3), ("Factory fault", 1))


def test_a_spoiled_plank_costs_its_part_of_a_carton(job: Job) -> None:
    log(a_day(job), "lay", "2", zone="Den", planks_spoiled=2, spoil_reason="defect")
    spoiled = [reason for reason in review_of(job).review.reasons if reason.code == "spoiled"]
    # A carton of ten is 60.00.
    assert [reason.amount for reason in spoiled] == [Decimal("-12.00")]


def test_what_is_not_in_the_list_stands_by_its_own_name(job: Job, owner: User) -> None:
    for label, paid in (("Blades", "18"), ("Tape", "6")):
        row = buy(job, owner, "other", "1", "pack", paid)
        Purchase.objects.filter(pk=row.pk).update(label=label)
    paid_by_label = {row.label: row.paid for row in review_of(job).review.materials}
    assert paid_by_label["Blades"] == 18
    assert paid_by_label["Tape"] == 6


def test_a_job_closes_once_and_opens_again(job: Job, owner: User) -> None:
    first = closing.close_job(job=job, user=owner).closed_at
    assert closing.close_job(job=job, user=owner).closed_at == first
    assert closing.reopen_job(job=job, user=owner).closed_at is None
    acts = AuditLine.objects.filter(subject=f"job {job.pk}").values_list("act", flat=True)
    assert [act for act in acts if act.startswith(("Closed", "Reopened"))] == [
        f"Reopened {job}",
        f"Closed {job}",
    ]


def callbacks_of(job: Job) -> list[str]:
    reasons = review_of(job).review.reasons
    return [reason.text for reason in reasons if reason.code == "callback"]


def test_work_after_closing_is_a_callback(job: Job, owner: User) -> None:
    log(a_day(job), "lay", "4", zone="Den")
    Job.objects.filter(pk=job.pk).update(closed_at=f"{TODAY}T12:00:00Z")
    LogEntry.objects.update(at=f"{LATER}T12:00:00Z")
    assert callbacks_of(job) == ["4.00 h of callbacks"]


def test_what_was_logged_when_the_job_was_closed_is_none_of_it(job: Job, owner: User) -> None:
    # Its day lies after the closing: the date was moved since, or a phone's clock was wrong.
    log(a_day(job), "lay", "4", zone="Den")
    LogEntry.objects.update(at=f"{TODAY}T11:00:00Z")
    Job.objects.filter(pk=job.pk).update(closed_at=f"{TODAY}T12:00:00Z")
    assert callbacks_of(job) == []
