"""The office's page of a floor passport: the link made, shown, renewed and revoked."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from estimates.access import passport_for, priced_job_for
from estimates.domain.passport.changes import changes_since
from estimates.forms.passport.correction import PassportCorrectionForm
from estimates.models import FloorPassport
from estimates.readers.passport.as_it_stands import content_now
from estimates.readers.passport.editions import (
    as_handed_over,
    editions_of,
    later_entries,
    stored_passport,
)
from estimates.services.passport.editions import tell_passport
from estimates.services.passport.links import (
    address_of,
    open_passport,
    revoke_passport,
    set_leftovers,
)
from jobs.access import SignedInRequest, signed_in
from jobs.clock import day_of
from jobs.domain.checks import BadValueError
from jobs.domain.numerals import whole_number
from jobs.http import Context, go_to, render_page
from jobs.models import Job
from jobs.readers.path import path_context


@require_safe
@signed_in
def job_passport(request: SignedInRequest, pk: int) -> HttpResponse:
    """The passport of a job: its link, what it tells, and what it lacks."""
    return _page(request, priced_job_for(request, pk))


@require_POST
@signed_in
def passport_open(request: SignedInRequest, pk: int) -> HttpResponse:
    """Make the link, or a new one in its place."""
    job = priced_job_for(request, pk)
    version = whole_number(request.POST.get("version", "")) or 0
    try:
        open_passport(job=job, user=request.user, version=version)
    except BadValueError as refused:
        return _page(request, job, refused=str(refused), status=422)
    messages.success(request, "The link of the floor passport is open.")
    return go_to(request, "job-passport", job.pk)


@require_POST
@signed_in
def passport_revoke(request: SignedInRequest, pk: int) -> HttpResponse:
    """Let the link open nothing any more."""
    passport = revoke_passport(passport=passport_for(request, pk), user=request.user)
    messages.success(request, "The link of the floor passport opens nothing any more.")
    return go_to(request, "job-passport", passport.job_id)


@require_POST
@signed_in
def passport_leftovers(request: SignedInRequest, pk: int) -> HttpResponse:
    """Say whether cut leftovers stay with the homeowner."""
    stay = request.POST.get("stay") == "on"
    passport = set_leftovers(passport=passport_for(request, pk), user=request.user, stay=stay)
    messages.success(request, "The passport says so.")
    return go_to(request, "job-passport", passport.job_id)


@require_POST
@signed_in
def passport_correct(request: SignedInRequest, pk: int) -> HttpResponse:
    """Let the passport tell the floor as it stands now, in an entry with its day."""
    passport = passport_for(request, pk)
    form = PassportCorrectionForm(request.POST)
    if not form.is_valid():
        return _page(request, passport.job, form=form, status=422)
    edition = tell_passport(
        passport=passport,
        user=request.user,
        note=form.cleaned_data["note"].strip(),
        seen=form.cleaned_data["number"],
    )
    said = "It stands in the passport." if edition else "The passport says all of it already."
    messages.success(request, said)
    return go_to(request, "job-passport", passport.job_id)


def _page(
    request: SignedInRequest,
    job: Job,
    *,
    refused: str = "",
    form: PassportCorrectionForm | None = None,
    status: int = 200,
) -> HttpResponse:
    passport = FloorPassport.objects.filter(job=job).select_related("job__company").first()
    is_open = passport is not None and passport.revoked_at is None
    editions = editions_of(passport) if passport else []
    last = editions[-1] if editions else None
    now = content_now(job, frozen_on=day_of(timezone.now(), job.company))
    seen = {"number": last.number if last else 0}
    context: Context = path_context(request, job, "Review") | {
        "passport": passport,
        "is_open": is_open,
        "address": address_of(passport) if passport and is_open else "",
        "now": now,
        "first": as_handed_over(editions),
        "differs": changes_since(stored_passport(last), now) if last else (),
        "later": later_entries(editions),
        "form": form or PassportCorrectionForm(initial=seen),
        "refused": refused,
    }
    return render_page(request, "estimates/passport/office.html", context, status=status)
