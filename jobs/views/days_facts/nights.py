"""Nights without a room: what the days need, and the page where the office notes who agreed."""

from __future__ import annotations

from datetime import date

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, company_of, office, writable_job_for
from jobs.clock import today_of
from jobs.forms.base import sent
from jobs.forms.days_facts.nights import NightsForm
from jobs.models import Job, SiteFacts
from jobs.readers.lived_in.facts import lived_in_rooms
from jobs.readers.lived_in.nights import newest_scope_of, nights_lines
from jobs.readers.path import path_context
from jobs.readers.scope import agreed_scope_of
from jobs.services.lived_in.nights import agree_to_nights
from jobs.views.edit_page import edit_page, edits


@edits
@office
def nights(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note which rooms may be open for nights, who agreed to it, and when."""
    job = writable_job_for(request, pk)
    today = today_of(company_of(request))
    rooms = lived_in_rooms(job)
    form = NightsForm(sent(request), choices=rooms, today=today, initial=_noted(job, today))
    scope = agreed_scope_of(job) or newest_scope_of(job)
    context = path_context(request, job, "Days") | {
        "lines": nights_lines(job, scope, list(job.days.order_by("date"))),
        "rooms": rooms,
        "site": SiteFacts.objects.filter(job=job).first(),
        "on_days": job.days.exists(),
    }
    return edit_page(
        request,
        form=form,
        write=lambda: agree_to_nights(
            job=job, user=request.user, key=form.once_key, word=form.word
        ),
        done="It is noted. The days follow it once they are planned again.",
        to=lambda _: reverse("job-days", args=[pk]),
        context=context,
        template="jobs/days_facts/nights.html",
    )


def _noted(job: Job, today: date) -> dict[str, object]:
    """Return what the office noted so far, as the form shows it first."""
    rows = list(job.agreed_nights.filter(nights=None))
    last = rows[-1] if rows else None
    return {
        "whole_job": any(row.room_id is None for row in rows),
        "rooms": [str(row.room_id) for row in rows if row.room_id],
        "days_off": any(row.days_off for row in rows),
        "by": last.by if last else job.client.name,
        "on": last.on if last else today,
    }
