"""A small job through the book: planned, priced, quoted, accepted. Each helper saves its rows."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.starting import STARTING_PRICES
from estimates.models import Acceptance, Estimate, PriceItem, Quote
from estimates.services import quotes as money
from jobs.domain.quantities import CATALOG
from jobs.models import Company, Crew, Job, LogEntry, User, WorkDay
from tests.builders import (
    make_company,
    make_crew,
    make_person,
    make_planned_job,
)
from tests.estimates.a_price import Given

TODAY = date(2027, 3, 1)
LATER = date(2027, 3, 15)


def an_owner(**values: str) -> User:
    """The owner of a company with prices for everything, whose day is that of the test."""
    owner = make_person(make_company(**{"time_zone": "UTC"} | values))
    set_prices(company_of(owner))
    return owner


def company_of(owner: User) -> Company:
    assert owner.company is not None
    return owner.company


def set_prices(company: Company) -> None:
    """Starting prices of long ago, and any carton at 60."""
    prices = [(price.code, price.amount) for price in STARTING_PRICES]
    for code, amount in [*prices, ("cartons", "60.00")]:
        set_price(company, code, amount, date(2020, 1, 1))


def set_price(company: Company, code: str, amount: str, day: date) -> PriceItem:
    entry = CATALOG[code]
    fields = {"label": entry.label, "unit": entry.unit, "amount": Decimal(amount)}
    return PriceItem.objects.create(company=company, code=code, effective_from=day, **fields)


def an_estimate(owner: User, job: Job | None = None, key: str = "estimate") -> Estimate:
    planned = job or make_planned_job(company_of(owner))
    return money.make_estimate(job=planned, user=owner, key=key, today=TODAY)


def a_quote(owner: User, job: Job | None = None, key: str = "quote") -> Quote:
    estimate = an_estimate(owner, job, key=f"{key}-estimate")
    return money.issue_quote(estimate=estimate, user=owner, key=key, today=TODAY)


def accepted(quote: Quote, **changes: object) -> Acceptance:
    fields: Given = {"name": "Ines Okafor", "today": TODAY, "by_link": True}
    return money.accept_quote(quote=quote, **fields | changes)


def an_agreed_job(owner: User) -> Job:
    """A job whose quote was accepted."""
    quote = a_quote(owner)
    accepted(quote)
    return Job.objects.get(pk=quote.job_id)


def a_day(job: Job, number: int = 1, crew: Crew | None = None) -> WorkDay:
    """A working day of the agreed scope; the numbers follow each other by days."""
    assert job.agreed_scope is not None
    workers = crew or make_crew(job.company, make_person(job.company, "crew"))
    return WorkDay.objects.create(
        job=job,
        crew=workers,
        scope=job.agreed_scope,
        number=number,
        date=date(2027, 3, 7 + number),
        entries=[],
        hours=8,
    )


def log(day: WorkDay, task: str, hours: str, **values: object) -> LogEntry:
    """An entry of a day by the first of its crew."""
    who = day.crew.members.first()
    assert who is not None
    key = f"{task}-{day.log.count()}"
    fields = {"who": who, "key": key, "task": task, "hours": Decimal(hours)}
    return LogEntry.objects.create(day=day, **fields | values)
