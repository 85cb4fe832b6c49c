"""Rates taken from the logs: once however often, seen before, given back whole, nothing touched."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.models import Quote
from estimates.readers.review.quotes_at_rates import last_quotes_at
from estimates.services.orders.pending import pending_change
from estimates.services.review.learning import take_learned
from jobs.domain.checks import BadValueError
from jobs.domain.scope.rates import STARTING_RATES, find_rate
from jobs.models import Document, Job, LogEntry, PastRate, Rate, RateTaking, User
from jobs.readers.rates.anchors import anchored_rates
from jobs.readers.rates.learned import LearnedRates, learned_of, rate_name
from jobs.readers.rates.work_done import closed_work
from jobs.readers.scope import company_rates, scope_value
from jobs.services.rates import remove_rate, set_rate, undo_taking
from tests.estimates.a_job import LATER, TODAY, a_day, a_quote, accepted, company_of, log

pytestmark = pytest.mark.django_db


def lay_hours(owner: User) -> Decimal:
    rate = find_rate(company_rates(company_of(owner)), "lay", "floor_area", "")
    assert rate is not None
    return rate.hours


def close(job: Job, factor: str, day: int = 1) -> None:
    """Log laying at so many times its hours and close the job."""
    hours = scope_value(job.agreed_scope).task("lay:Den").hours  # type: ignore[arg-type]
    log(a_day(job, day), "lay", str((hours * Decimal(factor)).quantize(Decimal(1))), zone="Den")
    Job.objects.filter(pk=job.pk).update(closed_at=f"{LATER}T12:00:00Z")


def take(owner: User, key: str = "take", learned: LearnedRates | None = None) -> RateTaking:
    seen = learned or learned_of(company_of(owner))
    names = {rate_name(rate) for rate in seen.moved}
    return take_learned(
        company=company_of(owner), user=owner, key=key, seen=seen.seen, chosen=names
    )


def set_by_hand(owner: User, hours: str, key: str = "set") -> Rate:
    values = {"task": "lay", "driver": "floor_area", "item": "", "hours": Decimal(hours)}
    values |= {"per": Decimal(100), "source": "timed"}
    row = Rate.objects.filter(task="lay", driver="floor_area").first()
    expected = row.version if row else 1
    return set_rate(
        company=company_of(owner), user=owner, key=key, expected=expected, values=values
    )


def test_an_open_job_teaches_nothing(job: Job, owner: User) -> None:
    log(a_day(job), "lay", "4", zone="Den")
    assert learned_of(company_of(owner)).tasks == ()


def test_a_slow_job_moves_its_rates_part_of_the_way(job: Job, owner: User) -> None:
    close(job, "2")
    take(owner)
    assert 2 < lay_hours(owner) < 4
    assert Rate.objects.get(task="lay", driver="floor_area").source == "learned from 1 job"


def test_pressed_five_times_is_pressed_once(job: Job, owner: User) -> None:
    close(job, "2")
    seen = learned_of(company_of(owner))
    first = take(owner, learned=seen)
    once = lay_hours(owner)
    assert take(owner, learned=seen).pk == first.pk
    for key in ("second", "third", "fourth"):
        with pytest.raises(BadValueError):
            take(owner, key=key)
        with pytest.raises(BadValueError):
            take(owner, key=f"{key} of the old page", learned=seen)
    assert lay_hours(owner) == once
    assert RateTaking.objects.count() == 1
    assert learned_of(company_of(owner)).moved == ()


def test_only_what_was_seen_is_taken(job: Job, owner: User) -> None:
    close(job, "2")
    seen = learned_of(company_of(owner))
    close(an_agreed_job_of(owner), "3")
    with pytest.raises(BadValueError, match="changed meanwhile"):
        take(owner, learned=seen)
    assert not Rate.objects.exists()


def an_agreed_job_of(owner: User) -> Job:
    quote = a_quote(owner, key="another")
    accepted(quote)
    return Job.objects.get(pk=quote.job_id)


def test_rates_of_work_that_no_job_had_stay(job: Job, owner: User) -> None:
    close(job, "2")
    assert {task.task_code for task in learned_of(company_of(owner)).tasks} == {"lay"}


def test_a_taking_is_given_back_whole_and_once(job: Job, owner: User) -> None:
    mine = set_by_hand(owner, "2.4")
    Rate.objects.filter(pk=mine.pk).update(changed_at="2027-01-05T08:00:00Z")
    close(job, "2")
    before = dict(_all(owner))
    taking = take(owner)
    assert lay_hours(owner) > Decimal("2.4")
    assert undo_taking(taking=taking, user=owner) == len(taking.rates)
    assert undo_taking(taking=taking, user=owner) == 0
    assert dict(_all(owner)) == before
    row = Rate.objects.get(task="lay", driver="floor_area")
    assert (row.jobs, row.source, str(row.changed_at)[:10]) == (0, "timed", "2027-01-05")
    # What was taken stays in the history, and may be taken again.
    assert PastRate.objects.filter(driver="floor_area", jobs=1).exists()
    take(owner, key="again")
    assert lay_hours(owner) > Decimal("2.4")


def _all(owner: User) -> list[tuple[tuple[str, str, str], Decimal]]:
    rates = company_rates(company_of(owner))
    return [((rate.task_code, rate.driver, rate.item), rate.hours) for rate in rates]


def test_a_rate_set_since_stays_when_a_taking_is_undone(job: Job, owner: User) -> None:
    close(job, "2")
    taking = take(owner)
    set_by_hand(owner, "5")
    assert undo_taking(taking=taking, user=owner) == len(taking.rates) - 1
    assert lay_hours(owner) == 5


def test_what_was_set_by_hand_is_what_learning_begins_from(job: Job, owner: User) -> None:
    set_by_hand(owner, "3")
    Rate.objects.update(changed_at="2027-01-05T08:00:00Z")
    close(job, "2")
    take(owner)
    (lay,) = [
        rate
        for rate in anchored_rates(company_of(owner))
        if (rate.now.task_code, rate.now.driver) == ("lay", "floor_area")
    ]
    assert (str(lay.anchor.hours.normalize()), lay.since) == ("3", "2027-01-05")
    assert lay.now.jobs == 1


def test_a_default_that_came_back_is_what_learning_begins_from(job: Job, owner: User) -> None:
    mine = set_by_hand(owner, "9")
    remove_rate(rate=mine, user=owner)
    PastRate.objects.update(ended_at="2026-01-05T08:00:00Z")
    close(job, "2")
    take(owner)
    (lay,) = [
        rate
        for rate in anchored_rates(company_of(owner))
        if (rate.now.task_code, rate.now.driver) == ("lay", "floor_area")
    ]
    default = find_rate(STARTING_RATES, "lay", "floor_area", "")
    assert (lay.anchor, lay.since) == (default, "")


def test_laying_by_rows_counts_by_the_day_with_what_these_rows_had(job: Job, owner: User) -> None:
    scope = scope_value(job.agreed_scope)  # type: ignore[arg-type]
    rows = scope.zones[0].rows
    half = rows // 2
    log(a_day(job), "lay", "4", zone="Den", row_from=1, row_to=half)
    log(a_day(job, 2), "lay", "3", zone="Den", row_from=half + 1, row_to=rows)
    Job.objects.filter(pk=job.pk).update(closed_at=f"{LATER}T12:00:00Z")
    first, second = closed_work(company_of(owner)).done
    counted = {
        code: sum(q.amount for q in scope.quantities if q.code == code)
        for code in ("pieces", "crosscuts", "rips", "notches", "trapped")
    }
    for code, whole in counted.items():
        assert first.amounts[code, ""] + second.amounts[code, ""] == whole
    assert (first.log, first.days) == (f"job {job.number}, Den, Mar 8", 1)
    assert (first.hours, second.hours) == (Decimal(4), Decimal(3))


def test_rows_that_are_missing_make_it_the_whole_floor(job: Job, owner: User) -> None:
    log(a_day(job), "lay", "4", zone="Den", row_from=1, row_to=2)
    log(a_day(job, 2), "lay", "3", zone="Den", row_from=2, row_to=3)
    Job.objects.filter(pk=job.pk).update(closed_at=f"{LATER}T12:00:00Z")
    (work,) = closed_work(company_of(owner)).done
    assert (work.hours, work.days) == (Decimal(7), 2)


def test_a_callback_teaches_nothing(job: Job, owner: User) -> None:
    close(job, "1")
    back = log(a_day(job, 20), "lay", "8", zone="Den")
    LogEntry.objects.filter(pk=back.pk).update(at=f"{LATER}T13:00:00Z")
    (work,) = closed_work(company_of(owner)).done
    assert work.days == 1


def test_no_issued_paper_and_no_pending_change_is_touched(job: Job, owner: User) -> None:
    other = an_agreed_job_of(owner)
    room = other.rooms.get()
    room.toilets += 1
    room.save()
    papers = dict(Document.objects.values_list("pk", "text"))
    change = pending_change(other, TODAY)
    assert change is not None
    close(job, "3")
    take(owner)
    after = pending_change(Job.objects.get(pk=other.pk), TODAY)
    assert after is not None
    assert (after.difference, after.scope.hours) == (change.difference, change.scope.hours)
    assert {
        pk: text for pk, text in Document.objects.values_list("pk", "text") if pk in papers
    } == papers


def test_the_last_quotes_stand_beside_what_they_would_have_been(job: Job, owner: User) -> None:
    close(job, "2")
    quote = Quote.objects.get()
    before = (quote.total, quote.document.sha256)
    learned = learned_of(company_of(owner))
    rates = [rate.after for rate in learned.moved]
    (row,) = last_quotes_at(company_of(owner), rates, TODAY)
    more = row.hours_then - row.hours
    assert more > 0
    # By hand: so many hours at 48.00 are cost; 12 % overhead on it, and the margin of a quarter.
    assert row.cost_change == (more * 48).quantize(Decimal("0.01"))
    assert row.change == pytest.approx(
        row.cost_change * Decimal("1.12") / Decimal("0.75"), abs=Decimal("0.02")
    )
    quote.refresh_from_db()
    assert (quote.total, quote.document.sha256) == before
