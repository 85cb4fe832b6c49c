"""The part of the scenario that happens on the floor: days, packet, logs, purchases, the end."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from estimates.domain.money import CENT
from estimates.models import Quote
from estimates.readers.prices import priced_of
from estimates.services import quotes as money
from estimates.services.passport.links import open_passport
from estimates.services.purchases import add_purchase
from estimates.services.review.closing import close_job
from installer_site.demo.agreed import accept_by_link, bill_deposit, quote_choices, tell_extra
from installer_site.demo.moments import accepted_on, extra_on, quoted_on
from jobs.domain.formats import Fields
from jobs.domain.scope.rates import HOURS_PLACES
from jobs.models import Crew, Job, SiteFacts, SpoilReason, User, WorkDay
from jobs.readers.scope import scope_value
from jobs.services.days import Wish, lay_out_days
from jobs.services.log import LogLine, record_log
from jobs.services.packets import keep_packet, print_packet

HALF = Decimal("0.5")
# On the closed job the boards went down slower than planned.
SLOWER = {"lay": Decimal("1.30"), "level": Decimal("1.50")}


def quote_job(job: Job, owner: User, today: date) -> Quote:
    """Return the quote issued for a planned job."""
    made = money.make_estimate(job=job, user=owner, key=f"demo-{job.pk}-estimate", today=today)
    return money.issue_quote(estimate=made, user=owner, key=f"demo-{job.pk}-quote", today=today)


def tell_laying(job: Job, owner: User, today: date) -> None:
    """A job with its packet printed and the days before today logged, two at the most."""
    start = _weekdays_before(today, 2)
    quoted = start - timedelta(days=9)
    agreed = quoted + timedelta(days=2)
    accept_by_link(quote_choices(job, owner, quoted), agreed)
    job.refresh_from_db()
    bill_deposit(job, owner, agreed)
    quoted_on(job, quoted)
    accepted_on(job, agreed)
    days = _days(job, owner, start)
    printed = print_packet(job)
    if printed is not None:
        keep_packet(job=job, printed=printed, user=owner)
    for day in days[:2]:
        _log(day, owner, slower={}, spoiled=1 if day.number == 2 else 0)
    if days:
        tell_extra(days[0], owner)
        extra_on(job, days[0].date)


def tell_closed(job: Job, owner: User, today: date) -> None:
    """A job long done: more hours than planned, a carton more than planned, closed."""
    for day in _agreed_days(job, owner, today - timedelta(days=45)):
        _log(day, owner, slower=SLOWER, spoiled=3 if _lays(day) else 0)
    _buy(job, owner, today - timedelta(days=46))
    close_job(job=job, user=owner)
    open_passport(job=job, user=owner, version=0)


def _agreed_days(job: Job, owner: User, start: date) -> list[WorkDay]:
    """Return the days of the job after its quote was accepted a week before ``start``."""
    quoted = start - timedelta(days=9)
    quote = quote_job(job, owner, quoted)
    name, agreed = job.client.name, quoted + timedelta(days=2)
    money.accept_quote(quote=quote, name=name, today=agreed, by_link=True)
    quoted_on(job, quoted)
    accepted_on(job, agreed)
    job.refresh_from_db()
    return _days(job, owner, start)


def _days(job: Job, owner: User, start: date) -> list[WorkDay]:
    """Return the days of an agreed job, laid out from ``start`` on."""
    crew = Crew.objects.filter(company=job.company).first()
    if crew is None:
        return []
    wish = Wish(crew=crew, start=start)
    return lay_out_days(job=job, user=owner, wish=wish, today=start)


def _log(day: WorkDay, owner: User, *, slower: dict[str, Decimal], spoiled: int) -> None:
    """Log a day as it was planned, half to each of two people, with what went differently."""
    if _lays(day):
        _read_that_morning(day)
    people = list(day.crew.members.order_by("pk"))[:2]
    for place, person in enumerate(people):
        lines = [_line(entry, slower, spoiled, first=place == 0) for entry in day.entries]
        lines.sort(key=lambda line: not line.spoiled)  # the note goes with the first line
        spoils = any(line.spoiled for line in lines)
        note = "One plank cut from the wrong side." if spoils else ""
        key = f"demo-log-{day.pk}-{person.pk}"
        record_log(day=day, who=person, user=owner, key=key, lines=lines, note=note)


def _read_that_morning(day: WorkDay) -> None:
    """Note the subfloor as it read on a morning on which rows go down."""
    site = SiteFacts.objects.get(job=day.job)
    method, value = ("rh", "70") if site.subfloor == "slab" else ("wood", "8")
    read = {"method": method, "value": value, "where": "row one", "on": day.date.isoformat()}
    site.readings = [*site.readings, read]
    site.save(update_fields=["readings"])


def _line(entry: Fields, slower: dict[str, Decimal], spoiled: int, *, first: bool) -> LogLine:
    """Return half of a day's entry; the first person also tells rows and spoiled planks."""
    factor = slower.get(entry["task"], Decimal(1)) * HALF
    hours = (Decimal(entry["hours"]) * factor).quantize(HOURS_PLACES)
    rows = entry["rows"] if first else None
    lost = spoiled if first and entry["task"] == "lay" else 0
    return LogLine(
        task=entry["task"],
        zone=entry["zone"],
        hours=hours,
        rows=(rows[0], rows[1]) if rows else None,
        spoiled=lost,
        reason=SpoilReason.WRONG_SIDE if lost else "",
    )


def _lays(day: WorkDay) -> bool:
    return any(entry["task"] == "lay" for entry in day.entries)


def _buy(job: Job, owner: User, bought_on: date) -> None:
    """Buy everything of the scope at its price, and one carton more."""
    scope = job.agreed_scope
    if scope is None:
        return
    estimate = scope.estimates.get()
    costs = {(line.code, line.item): line for line in priced_of(estimate).lines}
    for entry in scope_value(scope).quantities:
        line = costs.get((entry.code, entry.item))
        if entry.kind != "material" or line is None:
            continue
        quantity = entry.amount + (1 if entry.code == "cartons" else 0)
        values = {
            "code": entry.code,
            "label": entry.label,
            "supplier": "Example Builders Supply",
            "quantity": quantity,
            "unit": entry.unit,
            "amount": (quantity * line.unit_cost).quantize(CENT),
            "bought_on": bought_on,
            "note": "One carton more: three planks were spoiled."
            if quantity != entry.amount
            else "",
        }
        key = f"demo-{job.pk}-{entry.code}-{entry.item}"[:64]
        add_purchase(job=job, user=owner, key=key, values=values)


def _weekdays_before(today: date, count: int) -> date:
    """Return the day that lies ``count`` weekdays before ``today``."""
    day = today
    while count:
        day -= timedelta(days=1)
        count -= day.weekday() < 5
    return day
