"""A change of a job whose quote and scope are of the older form: prices and rates were not kept."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.services.orders.pending import PendingChange, pending_change
from jobs.domain.documents import canonical_json, digest
from jobs.domain.formats import Fields
from jobs.domain.tasks import HAULING
from jobs.models import Document, Job, User
from tests.estimates.a_job import LATER
from tests.orders.two_rooms import learn, make_dearer, plan_hall, two_rooms, widen
from tests.reading import words

pytestmark = pytest.mark.django_db


def rewritten(document: Document, fields: Fields) -> None:
    """Write a document anew as an older release left it."""
    text = canonical_json(fields | {"format": 1})
    sha256 = digest(text)
    Document.objects.filter(pk=document.pk).update(text=text, sha256=sha256, format=1)


def without_hauling(fields: Fields) -> Fields:
    """A scope as it was counted before hauling was: an hour less, that of the pick-up."""
    tasks = [
        task | {"after": [key for key in task["after"] if key not in HAULING]}
        for task in fields["tasks"]
        if task["code"] not in HAULING
    ]
    counted = [entry for entry in fields["quantities"] if entry["code"] != "pick_ups"]
    hours = str(sum(Decimal(task["hours"]) for task in tasks))
    return fields | {"tasks": tasks, "quantities": counted, "hours": hours}


def as_of_before(job: Job) -> Job:
    """The agreed job as it was left before prices, rates and days were kept with it."""
    scope = job.agreed_scope
    assert scope is not None
    fields = json.loads(scope.document.text)
    for key in ("rates", "schedule", "places", "left_to_homeowner"):
        del fields[key]
    fields["zones"] = [
        {key: value for key, value in zone.items() if key != "key"} for zone in fields["zones"]
    ]
    rewritten(scope.document, without_hauling(fields))
    estimate = job.estimates.get()
    fields = json.loads(estimate.document.text)
    for key in ("added_cost", "days_on_site", "contribution_per_day", "basis", "payer"):
        del fields[key]
    rewritten(estimate.document, fields)
    return Job.objects.get(pk=job.pk)


@pytest.fixture
def job(owner: User) -> Job:
    older = as_of_before(two_rooms(owner))
    learn(older.company)
    make_dearer(older.company, LATER)
    return Job.objects.get(pk=older.pk)


def pending(job: Job) -> PendingChange:
    change = pending_change(job, LATER)
    assert change is not None
    return change


def test_it_is_billed_at_the_rates_in_its_sentences_and_the_prices_of_its_day(job: Job) -> None:
    change = pending(plan_hall(widen(job)))
    # As by a quote that kept them: 1.13 h at 48, a carton of 60, 16 spacers of 0.15. Neither the
    # overhead of 12 % nor the margin of 25 % was kept; the figures of the quote give both.
    # Without the pick-up's hour: 556.83 + 12 % = 623.65, / 0.75 =   831.53
    #                             673.47 + 12 % = 754.29, / 0.75 = 1,005.72
    assert change.before.subtotal == Decimal("831.53")
    assert change.difference == Decimal("174.19")


def test_the_page_says_where_prices_and_rates_come_from(job: Job, visitor: Visitor) -> None:
    page = words(visitor.get(reverse("job-changes", args=[plan_hall(widen(job)).pk])))
    assert "of an older form that did not keep its prices: those in force on March 1, 2027" in page
    assert "each is the one in the sentence of its task" in page
