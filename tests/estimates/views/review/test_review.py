"""The review on its page: what belongs there, one drawing with its table, closing and rates."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Job, User
from jobs.readers.path import standings
from jobs.readers.scope import scope_value
from tests.builders import make_job
from tests.estimates.a_job import a_day, company_of, log

pytestmark = pytest.mark.django_db


def page(visitor: Visitor, job: Job) -> str:
    return visitor.get(reverse("job-review", args=[job.pk])).content.decode()


def laying_hours(job: Job) -> Decimal:
    assert job.agreed_scope is not None
    return scope_value(job.agreed_scope).task("lay:Den").hours


def log_laying(job: Job, factor: str) -> None:
    hours = laying_hours(job) * Decimal(factor)
    log(a_day(job), "lay", str(hours), zone="Den", note="Bowed wall.")


def test_before_acceptance_the_page_leads_to_the_quotes(visitor: Visitor, owner: User) -> None:
    job = make_job(company_of(owner))
    assert "It begins once a quote is accepted" in page(visitor, job)


def test_before_the_first_entry_the_page_offers_a_purchase(visitor: Visitor, job: Job) -> None:
    words = page(visitor, job)
    assert "Nothing is logged and nothing is bought yet" in words
    assert "<svg" not in words


def test_the_reason_from_the_log_stands_by_its_task(visitor: Visitor, job: Job) -> None:
    log_laying(job, "2")
    assert "Bowed wall." in page(visitor, job)


def test_without_purchases_the_page_says_that_material_is_missing(
    visitor: Visitor, job: Job
) -> None:
    log_laying(job, "2")
    assert "Nothing bought yet" in page(visitor, job)


def test_the_title_of_each_drawing_comes_first(visitor: Visitor, job: Job) -> None:
    log_laying(job, "2")
    assert re.findall(r"<svg[^>]*>(<title>[^<]*)", page(visitor, job)) == [
        "<title>From the quoted profit to the actual profit",
        "<title>Hours earned and spent, day by day",
    ]


def test_a_closed_job_is_closed_everywhere(visitor: Visitor, job: Job) -> None:
    log_laying(job, "2")
    visitor.post(reverse("job-close", args=[job.pk]))
    job.refresh_from_db()
    assert standings([job]) == {job.pk: "Closed"}
    assert "Reopen the job" in page(visitor, job)


def test_a_closed_job_leads_to_the_rates_that_it_teaches(visitor: Visitor, job: Job) -> None:
    log_laying(job, "2")
    address = reverse("rates-learned")
    assert address not in page(visitor, job)
    Job.objects.filter(pk=job.pk).update(closed_at="2027-04-01T12:00:00Z")
    assert address in page(visitor, job)
