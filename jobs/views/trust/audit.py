"""The page of who did what: searched, paged, read and never changed."""

from __future__ import annotations

from datetime import date

from django import forms
from django.http import HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, owner
from jobs.domain.numerals import whole_number
from jobs.http import render_page
from jobs.models import Company, User
from jobs.readers.trust.audit import audit_rows, matching_lines
from jobs.views.list_page import page_of

_DAY = forms.DateField(required=False)


@require_safe
@owner
def audit_list(request: SignedInRequest) -> HttpResponse:
    """Who did what to which thing, newest first; by words, person and days."""
    company, wanted = company_of(request), request.GET
    person = _person(company, wanted.get("person", ""))
    since, until = wanted.get("since", ""), wanted.get("until", "")
    lines = matching_lines(
        company,
        text=wanted.get("q", ""),
        person=person,
        since=_day(since),
        until=_day(until),
    )
    page = page_of(request, lines)
    context = {
        "page_obj": page,
        "rows": audit_rows(page.object_list),
        "total": page.paginator.count,
        "people": company.people.all(),
        "person": person,
        "q": wanted.get("q", "")[:200],
        "since": since if _day(since) else "",
        "until": until if _day(until) else "",
        "unread": [text for text in (since, until) if text and not _day(text)],
    }
    return render_page(request, "jobs/trust/audit.html", context)


def _person(company: Company, key: str) -> User | None:
    number = whole_number(key)
    return company.people.filter(pk=number).first() if number is not None else None


def _day(text: str) -> date | None:
    """Return the day that a text names; None where it names none."""
    try:
        day: date | None = _DAY.clean(text[:40])
    except forms.ValidationError:
        return None
    return day
