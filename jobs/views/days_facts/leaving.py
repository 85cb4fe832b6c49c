"""Somebody leaves a crew: the page where the office notes their last day."""

from __future__ import annotations

from datetime import date

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, company_of, office, writable_crew_for
from jobs.clock import today_of
from jobs.forms.base import sent
from jobs.forms.days_facts.leaving import LeavingForm
from jobs.models import Crew, WorkDay
from jobs.services.crews.leaving import leave_crew
from jobs.views.edit_page import edit_page, edits


@edits
@office
def crew_leaving(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note on which day somebody works with a crew for the last time."""
    crew = writable_crew_for(request, pk)
    today = today_of(company_of(request))
    form = LeavingForm(sent(request), crew=crew, today=today)
    return edit_page(
        request,
        form=form,
        write=lambda: leave_crew(
            crew=crew,
            user=request.user,
            key=form.once_key,
            person=form.cleaned_data["person"],
            last_day=form.cleaned_data["last_day"],
            today=today,
        ),
        done="It is noted. Jobs whose days count on them say so until they are planned again.",
        to=_back,
        context={
            "crew": crew,
            "last_days": crew.last_days.select_related("person"),
            "jobs": _jobs_ahead(crew, today),
        },
        template="jobs/days_facts/leaving.html",
    )


def _back(crew: Crew) -> str:
    return reverse("crew-leaving", args=[crew.pk])


def _jobs_ahead(crew: Crew, today: date) -> list[WorkDay]:
    """Return the first day ahead of each job that this crew still works on."""
    days = WorkDay.objects.filter(crew=crew, date__gte=today).select_related("job").order_by("date")
    first: dict[int, WorkDay] = {}
    for day in days:
        first.setdefault(day.job_id, day)
    return list(first.values())
