"""The demo company on a day and with an effort of our choice: `manage.py demo`."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import pytest
from django.apps import apps
from django.core.management import CommandError, call_command
from django.db.models import QuerySet

from jobs.clock import day_of
from tests.builders import make_company
from tests.packet_pdf.demo_floors import FLOORS

AGREED = "Bedroom and hall"


@pytest.mark.parametrize(
    "refused",
    [
        ("--date", "yesterday"),
        ("--date", "2026-02-30"),
        ("--date", "1999-12-31"),
        ("--effort-iterations", "0"),
        ("--effort-iterations", "-5"),
        ("--effort-iterations", "2.5"),
        ("--effort-iterations", "1000001"),
    ],
)
def test_terms_that_can_not_be_used_are_refused_by_name(refused: tuple[str, str]) -> None:
    option, value = refused
    with pytest.raises(CommandError, match=f"{option}: '{value}' can't be used: write a "):
        call_command("demo", f"{option}={value}")


@pytest.mark.django_db
def test_terms_for_a_demo_that_is_made_already_are_refused() -> None:
    make_company()
    with pytest.raises(CommandError, match=r"--date can't be used: .* add --fresh"):
        call_command("demo", "--date=2026-10-21")


@pytest.mark.django_db
def test_the_demo_is_of_its_day_and_planned_with_its_effort() -> None:
    call_command("demo", "--date=2026-10-21", "--effort-iterations=1")
    plan = apps.get_model("jobs.FloorPlan")._default_manager.get(zone__name="Sunroom")
    assert json.loads(plan.request.text)["effort_iterations"] == 1
    days = apps.get_model("jobs.WorkDay")._default_manager.filter(job__title="Bedroom and hall")
    assert days.earliest("date").date == date(2026, 10, 19)
    _two_choices_were_accepted_by_link()
    _an_extra_became_a_change_order()
    _the_deposit_was_paid()
    _nothing_was_agreed_after_its_days_began()
    _its_floors_are_those_that_packets_are_sawn_of()
    assert not apps.get_model("jobs.Mail")._default_manager.exists()


def _rows(model: str, **wanted: object) -> QuerySet[Any]:
    rows: QuerySet[Any] = apps.get_model(model)._default_manager.filter(**wanted)
    return rows


def _two_choices_were_accepted_by_link() -> None:
    quote = _rows("estimates.Quote", job__title=AGREED).get()
    assert [option.name != "" for option in quote.options.all()] == [True, True]
    assert quote.acceptance.by_link
    assert quote.acceptance.choice == quote.options.first().key
    assert quote.events.filter(kind="accepted").get().ip == "203.0.113.24"


def _an_extra_became_a_change_order() -> None:
    extra = _rows("jobs.JobExtra", job__title=AGREED).get()
    offer = extra.draft.offers.get()
    assert extra.who.role == "crew"
    assert (offer.answer, offer.by_link) == ("accepted", True)
    order = _rows("estimates.ChangeOrder", job__title=AGREED).get()
    assert order.amount == offer.amount > 0


def _the_deposit_was_paid() -> None:
    invoice = _rows("estimates.Invoice", job__title=AGREED).get()
    assert invoice.kind == "deposit"
    assert invoice.payments.get().amount == invoice.payable > 0


def _nothing_was_agreed_after_its_days_began() -> None:
    for accepted in _rows("estimates.Acceptance"):
        job = accepted.quote.job
        first = job.days.earliest("date").date
        assert accepted.quote.issued_at < accepted.at, job.title
        assert day_of(accepted.at, job.company) < first, job.title
    extra = _rows("estimates.ChangeOffer", job__title=AGREED).get()
    assert day_of(extra.answered_at, extra.job.company) <= date(2026, 10, 20)


def _its_floors_are_those_that_packets_are_sawn_of() -> None:
    plans = apps.get_model("jobs.FloorPlan")._default_manager.all()
    made = {json.dumps(json.loads(plan.request.text)["zone"]["outline"]) for plan in plans}
    for name, floor in FLOORS.items():
        assert json.dumps(floor()["zone"]["outline"]) in made, name
