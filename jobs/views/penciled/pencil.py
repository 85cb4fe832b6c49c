"""A crew is penciled in, the job priced with it, or it is rubbed out again."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from jobs.access import SignedInRequest, company_of, office, writable_job_for
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.forms.base import sent
from jobs.forms.penciled.pencil import PencilForm
from jobs.http import go_to
from jobs.models import Job, PenciledCrew
from jobs.readers.path import path_context
from jobs.services.days import Wish
from jobs.services.penciled.penciled import WISHED, pencil_in, price_penciled, rub_out
from jobs.services.penciled.standing import penciled_standing
from jobs.views.edit_page import edit_page, edits

PAGES = ("job-days", "job-price", "quote-draft", "board")
"""Where the button stands that prices a job with its penciled crew: it leads back there."""


@edits
@office
def pencil(request: SignedInRequest, pk: int) -> HttpResponse:
    """Pencil in who would come and from when on; say what the days do otherwise than priced."""
    job = writable_job_for(request, pk)
    company, today = company_of(request), today_of(company_of(request))
    row = PenciledCrew.objects.filter(job=job).first()
    form = PencilForm(
        sent(request),
        company=company,
        today=today,
        version=row.version if row else 1,
        initial={name: getattr(row, name) for name in WISHED} if row else {"start": today},
    )
    return edit_page(
        request,
        form=form,
        write=lambda: pencil_in(
            job=job,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            wish=Wish(**{name: form.cleaned_data[name] for name in WISHED}),
            today=today,
        ),
        done="The crew is penciled in.",
        to=lambda _: reverse("job-days", args=[pk]),
        context=path_context(request, job, "Days")
        | {"row": row, "any_crew": company.crews.exists(), "agreed": job.agreed_scope_id},
        template="jobs/penciled/pencil.html",
    )


@require_POST
@office
def pencil_price(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make the scope anew for the penciled crew, so that all pages name the same days."""
    job = writable_job_for(request, pk)
    today = today_of(company_of(request))
    try:
        scope = price_penciled(job=job, user=request.user, today=today)
    except BadValueError as refused:
        messages.error(request, as_sentence(refused))
    else:
        messages.success(request, _done(job, scope.number, today))
    page = request.POST.get("page", "")
    page = page if page in PAGES else "job-days"
    return go_to(request, page, *([] if page == "board" else [pk]))


def _done(job: Job, number: int, today: date) -> str:
    standing = penciled_standing(job, today)
    if standing is None or standing.real is None:
        return f"Scope {number} is made with this crew."
    trips = standing.real.trips
    return (
        f"The job is priced with {standing.row.crew}: scope {number}, "
        f"{trips} trip{'s' if trips != 1 else ''}."
    )


@require_POST
@office
def pencil_out(request: SignedInRequest, pk: int) -> HttpResponse:
    """Rub the crew out: the price is the usual crew's again."""
    job = writable_job_for(request, pk)
    try:
        rub_out(job=job, user=request.user)
    except BadValueError as refused:
        messages.error(request, as_sentence(refused))
    else:
        messages.success(request, "The crew is rubbed out; the price is for the usual crew again.")
    return go_to(request, "job-days", pk)
