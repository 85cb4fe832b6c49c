"""The list of jobs, a job's own page with its site facts, and hold points."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import (
    SignedInRequest,
    company_of,
    job_for,
    jobs_for,
    office,
    sees_access,
    signed_in,
    writable_job_for,
)
from jobs.clock import today_of
from jobs.domain.numerals import whole_number
from jobs.forms.base import sent
from jobs.forms.jobs import JobForm
from jobs.forms.site import ClearHoldForm, SiteForm
from jobs.http import render_page
from jobs.models import SiteFacts
from jobs.readers.backups.standing import backup_standing
from jobs.readers.path import findings, path_context, standing_of
from jobs.readers.payers.payer import payer_row
from jobs.readers.site import cautions_of, moisture_sentence
from jobs.readers.today import Waiting, first_page
from jobs.readers.today.crews import crews_week, with_stops
from jobs.services.jobs import add_job, change_job
from jobs.services.payers.supplied import supplied_faults
from jobs.services.site import SITE_FIELDS, change_site, clear_hold
from jobs.views.edit_page import edit_page, edits, initial_of, picked
from jobs.views.list_page import page_of


@require_safe
@signed_in
def job_list(request: SignedInRequest) -> HttpResponse:
    """The jobs this person may see, newest first, each with where it stands; no archived one.

    The office sees above them where the crews are today and this week, and what waits on it.
    """
    visible = jobs_for(request)
    page = page_of(request, visible.filter(archived_at=None))
    company, jobs = company_of(request), list(page.object_list)
    still_open = [job for job in jobs if job.closed_at is None]
    waiting: list[Waiting] = []
    week = None
    if request.user.is_office:
        week = crews_week(company, today_of(company))
        listed = {job.pk for job in jobs}
        elsewhere = [one.day.job for one in week.at_work if one.day.job_id not in listed]
        waiting, steps = first_page(company, [*still_open, *elsewhere])
        week = with_stops(week, steps)
    else:
        steps = findings(still_open)
    rows = [(job, standing_of(job, steps.get(job.pk, {}))) for job in jobs]
    context = {
        "rows": rows,
        "page_obj": page,
        "any_client": bool(rows) or company.clients.exists(),
        "archived": visible.filter(archived_at__isnull=False).exists(),
        "waiting": waiting,
        "crews_week": week,
        "safe": backup_standing(company) if request.user.is_owner else None,
    }
    return render_page(request, "jobs/jobs/jobs.html", context)


@require_safe
@signed_in
def job(request: SignedInRequest, pk: int) -> HttpResponse:
    """A job's own page: who, where, what the visit found, what to be careful about."""
    job = job_for(request, pk)
    site = SiteFacts.objects.filter(job=job).first()
    clearances = list(job.clearances.all())
    context = path_context(request, job, "Site") | {
        "site": site,
        "sees_access": sees_access(request, job),
        "payer": payer_row(job),
        "supplied_faults": supplied_faults(job),
        "cautions": cautions_of(job),
        "moisture": moisture_sentence(job, site) if site else "",
        "clearances": clearances,
        "cleared": {line.code for line in clearances},
    }
    return render_page(request, "jobs/jobs/job.html", context)


@edits
@office
def job_add(request: SignedInRequest) -> HttpResponse:
    """Open a job for a client."""
    company = company_of(request)
    client = company.clients.filter(pk=whole_number(request.GET.get("client", "")) or 0).first()
    initial = {
        "client": client,
        "address": client.address if client else "",
        "measured_in": company.units,
    }
    form = JobForm(sent(request), initial=initial, company=company)
    return edit_page(
        request,
        form=form,
        write=lambda: add_job(
            company=company, user=request.user, key=form.once_key, values=form.values
        ),
        done="The job is open.",
        to=lambda saved: reverse("job", args=[saved.pk]),
        context={
            "title": "New job",
            "button": "Open the job",
            "back": "job-list",
            "first": {
                "url": reverse("client-add"),
                "ask": "A new client?",
                "words": "Write the client down first",
                "then": "this form comes next.",
            },
        },
    )


@edits
@signed_in
def job_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change whose job it is, what, or where."""
    job = writable_job_for(request, pk)
    initial = initial_of(job, ("client", "title", "address")) | {"measured_in": job.units}
    form = JobForm(
        sent(request),
        initial=initial,
        version=job.version,
        company=company_of(request),
        job=job,
    )
    return edit_page(
        request,
        form=form,
        write=lambda: change_job(
            job=job,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done="The job is changed.",
        to=lambda _: reverse("job", args=[job.pk]),
        context=path_context(request, job, "Site") | {"button": "Save the job"},
        template="jobs/jobs/form.html",
    )


@edits
@signed_in
def site_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note what the visit found."""
    job = writable_job_for(request, pk)
    site = get_object_or_404(SiteFacts, job=job)
    form = SiteForm(
        sent(request),
        initial=initial_of(site, SITE_FIELDS),
        version=site.version,
        today=today_of(job.company),
    )
    return edit_page(
        request,
        form=form,
        write=lambda: change_site(
            site=site,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, SITE_FIELDS),
        ),
        done="The site facts are noted.",
        to=lambda _: reverse("job", args=[job.pk]),
        context=path_context(request, job, "Site")
        | {"button": "Save the facts", "rooms": job.rooms.all()},
        template="jobs/site/site_form.html",
    )


@edits
@signed_in
def hold_clear(request: SignedInRequest, pk: int, code: str) -> HttpResponse:
    """Take down who cleared a hold point, and on what ground."""
    job = writable_job_for(request, pk)
    holds = [item for item in cautions_of(job) if item.code == code and item.severity == "hold"]
    if not holds:
        message = f"Job {job.number} has no hold point {code}."
        raise Http404(message)
    form = ClearHoldForm(sent(request))
    return edit_page(
        request,
        form=form,
        write=lambda: clear_hold(
            job=job,
            user=request.user,
            code=code,
            by=form.cleaned_data["by"],
            note=form.cleaned_data["note"],
        ),
        done="The hold point is cleared.",
        to=lambda _: reverse("job", args=[job.pk]),
        context=path_context(request, job, "Site") | {"caution": holds[0]},
        template="jobs/site/hold_clear.html",
    )
