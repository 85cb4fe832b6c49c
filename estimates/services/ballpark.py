"""Ballparks kept as they were said, and jobs started from them: keyword-only, atomic, audited."""

from __future__ import annotations

from datetime import date

from estimates.domain.ballpark.counts import RoughFloor
from estimates.domain.ballpark.price import BallparkRange
from estimates.models import Ballpark
from jobs.domain.checks import BadValueError
from jobs.domain.documents import plain
from jobs.domain.figures import counted, money
from jobs.models import Client, Company, Job, User
from jobs.models.base import Values
from jobs.services.jobs import add_job
from jobs.services.people import add_client
from jobs.services.records import audit, audit_job, writes_once


@writes_once(Ballpark, "keep ballpark")
def keep_ballpark(
    *,
    company: Company,
    user: User,
    key: str,
    values: Values,
    floor: RoughFloor,
    result: BallparkRange,
    today: date,
) -> Ballpark:
    """Return the ballpark as it was said; the same form sent twice keeps one."""
    ballpark = Ballpark.objects.create(
        company=company,
        area_ft2=floor.size.area_ft2,
        least=result.least,
        most=result.most,
        by_card=result.by_card,
        lines=[plain(line) for line in result.lines],
        left_out=list(result.left_out),
        made_on=today,
        made_by=user,
        **values,
    )
    act = f"Gave a ballpark of {range_words(ballpark)}"
    audit(user=user, company=company, subject=f"ballpark {ballpark.pk}", act=act)
    return ballpark


@writes_once(Job, "start job from ballpark")
def start_job(*, ballpark: Ballpark, user: User, key: str, values: Values) -> Job:
    """Return the job that a ballpark becomes, for its caller: a client of this name and phone.

    Nothing of the range goes into the job: a note of the client keeps it.

    Raises:
        BadValueError: a job was started from it before.
    """
    row = Ballpark.objects.select_for_update().get(pk=ballpark.pk)
    if row.job is not None:
        accepted = "a ballpark that no job was started from"
        value = f"started as job {row.job.number}"
        raise BadValueError(field="ballpark", value=value, accepted=accepted)
    company = row.company
    client = client_of_caller(company, values["name"], values["phone"]) or add_client(
        company=company,
        user=user,
        key=f"{key[:56]}-client",
        values={
            "name": values["name"],
            "phone": values["phone"],
            "address": values["address"],
            "note": note_of(row),
        },
    )
    job = add_job(
        company=company,
        user=user,
        key=f"{key[:56]}-job",
        values={
            "client": client,
            "title": values["title"],
            "address": values["address"],
            "units": company.units,
        },
    )
    row.job = job
    row.save(update_fields=["job"])
    audit_job(job=job, user=user, act=note_of(row))
    return job


def client_of_caller(company: Company, name: str, phone: str) -> Client | None:
    """Return the client who has this name and this phone already; None without a phone."""
    if not phone:
        return None
    return company.clients.filter(name__iexact=name, phone=phone).first()


def note_of(ballpark: Ballpark) -> str:
    """Return what a client's note says of a ballpark: when, how much floor, the range."""
    day = f"{ballpark.made_on:%b} {ballpark.made_on.day}, {ballpark.made_on.year}"
    floor = f"{counted(ballpark.area_ft2, 'ft2')}, said as {ballpark.size}"
    return f"Ballpark of {day}, not a quote: {range_words(ballpark)} for {floor}."


def range_words(ballpark: Ballpark) -> str:
    """Return a range as it is said: $950.00 to $1,160.00."""
    currency = ballpark.company.currency
    return f"{money(ballpark.least, currency)} to {money(ballpark.most, currency)}"
