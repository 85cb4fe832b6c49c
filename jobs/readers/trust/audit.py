"""Who did what: the lines that match, and what each is about in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Q, QuerySet
from django.urls import reverse

from jobs.models import AuditLine, Client, Company, Crew, Job, Product, User
from jobs.readers.archive.search import words_of


@dataclass(frozen=True, kw_only=True, slots=True)
class AuditRow:
    """A line as it is read; ``about`` is what it is about, ``url`` its page if it has one."""

    line: AuditLine
    about: str
    url: str


def matching_lines(
    company: Company, *, text: str, person: User | None, since: date | None, until: date | None
) -> QuerySet[AuditLine]:
    """Return the lines in which every word stands, by that person, between those days."""
    lines = company.audit_lines.all()
    for word in words_of(text):
        lines = lines.filter(
            Q(act__icontains=word)
            | Q(who__icontains=word)
            | Q(subject__icontains=word)
            | Q(subject__in=_jobs_called(company, word))
        )
    if person is not None:
        lines = lines.filter(user=person)
    if since is not None:
        lines = lines.filter(at__date__gte=since)
    if until is not None:
        lines = lines.filter(at__date__lte=until)
    return lines


def _jobs_called(company: Company, word: str) -> list[str]:
    """Return the subjects of jobs with this number or with this word in their title."""
    digits = word.removeprefix("#")
    number = int(digits) if digits.isascii() and digits.isdigit() and len(digits) <= 9 else -1
    jobs = company.jobs.filter(Q(number=number) | Q(title__icontains=word))
    return [f"job {pk}" for pk in jobs.values_list("pk", flat=True)[:200]]


def audit_rows(lines: Iterable[AuditLine]) -> list[AuditRow]:
    """Return lines with what they are about, one question to the database for each kind."""
    rows = list(lines)
    wanted: dict[str, set[int]] = defaultdict(set)
    for line in rows:
        kind, _, key = line.subject.partition(" ")
        if key.isdecimal():
            wanted[kind].add(int(key))
    named = {
        "job": {
            job.pk: (f"Job {job.number}, {job.title}", reverse("job", args=[job.pk]))
            for job in Job.objects.filter(pk__in=wanted["job"])
        },
        "client": _names(Client.objects.filter(pk__in=wanted["client"]), "client-edit"),
        "person": _names(User.objects.filter(pk__in=wanted["person"]), "person-edit"),
        "crew": _names(Crew.objects.filter(pk__in=wanted["crew"]), "crew-edit"),
        "product": _names(Product.objects.filter(pk__in=wanted["product"]), "product-edit"),
    }
    return [_row(line, named) for line in rows]


def _names(
    things: Iterable[Client | User | Crew | Product], page: str
) -> dict[int, tuple[str, str]]:
    return {thing.pk: (str(thing), reverse(page, args=[thing.pk])) for thing in things}


def _row(line: AuditLine, named: dict[str, dict[int, tuple[str, str]]]) -> AuditRow:
    kind, _, key = line.subject.partition(" ")
    rows = named.get(kind)
    if rows is None or not key.isdecimal():
        return AuditRow(line=line, about=line.subject.capitalize(), url="")
    about, url = rows.get(int(key), (f"{kind.capitalize()}, removed since", ""))
    return AuditRow(line=line, about=about, url=url)
