"""The ballpark: a range at the phone from what a caller says, kept, and made a job."""

from __future__ import annotations

from decimal import Decimal

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from estimates.access import ballpark_for
from estimates.domain.ballpark.price import BallparkLine
from estimates.forms.ballpark import BASES, OLD_FLOORS, BallparkForm, StartForm
from estimates.models import Ballpark
from estimates.readers.ballpark import ballpark_now, planks_priced
from estimates.services import ballpark as services
from jobs.access import SignedInRequest, company_of, office
from jobs.clock import today_of
from jobs.domain.documents import restore
from jobs.domain.figures import counted, money
from jobs.forms.base import sent
from jobs.http import Context, go_to, render_page
from jobs.views.edit_page import edit_page, edits
from jobs.views.list_page import page_of

DETAILS = (
    ("doors", "Doors"),
    ("strips", "Strips at doorways"),
    ("steps", "Steps"),
    ("furniture", "Rooms of furniture"),
    ("toilets", "Toilets"),
    ("appliances", "Appliances"),
)


@edits
@office
def ballpark(request: SignedInRequest) -> HttpResponse:
    """Work out a range while somebody is on the phone, and keep it where it is wanted."""
    company = company_of(request)
    today = today_of(company)
    planks = planks_priced(company, today)
    form = BallparkForm(sent(request), planks=planks, currency=company.currency)
    result = None
    if request.method == "POST" and form.is_valid():
        result = ballpark_now(company, form.floor, today)
        if request.POST.get("do") == "keep":
            kept = services.keep_ballpark(
                company=company,
                user=request.user,
                key=form.once_key,
                values=form.values,
                floor=form.floor,
                result=result,
                today=today,
            )
            messages.success(request, "The ballpark is saved.")
            return go_to(request, "ballpark-kept", kept.pk)
    page = page_of(request, Ballpark.objects.filter(company=company).select_related("job"))
    context: Context = {
        "form": form,
        "range": result,
        "area_ft2": form.floor.size.area_ft2 if result else None,
        "page_obj": page,
        "currency": company.currency,
    }
    template = "estimates/ballpark/ballpark.html"
    return render_page(request, template, context, status=form.status)


@require_safe
@office
def ballpark_kept(request: SignedInRequest, pk: int) -> HttpResponse:
    """A ballpark as it was said, and the way to a job."""
    row = ballpark_for(request, pk)
    lines = [restore(BallparkLine, line, "line") for line in row.lines]
    context = {
        "ballpark": row,
        "currency": row.company.currency,
        "said": said_words(row),
        "lines": lines,
    }
    return render_page(request, "estimates/ballpark/kept.html", context)


@edits
@office
def ballpark_start(request: SignedInRequest, pk: int) -> HttpResponse:
    """Start the job that a ballpark becomes: its client, its title, where it is."""
    row = ballpark_for(request, pk)
    title = f"Floor, {counted(row.area_ft2, 'ft2')}".replace("\u00a0", " ")
    form = StartForm(sent(request), initial={"name": row.name, "phone": row.phone, "title": title})
    return edit_page(
        request,
        form=form,
        write=lambda: services.start_job(
            ballpark=row, user=request.user, key=form.once_key, values=form.cleaned_data
        ),
        done="The job is open.",
        to=lambda job: reverse("job", args=[job.pk]),
        context={"ballpark": row, "currency": row.company.currency},
        template="estimates/ballpark/start.html",
    )


def said_words(row: Ballpark) -> list[tuple[str, str]]:
    """Return what the caller said, in words; counts of nothing are left out."""
    floor = row.floor
    counts = [(label, str(floor[name])) for name, label in DETAILS if floor.get(name)]
    pad = [("Pad", "Separate")] if floor.get("pad") else []
    return [
        ("Size", row.size),
        ("What comes out", dict(OLD_FLOORS).get(floor.get("old_floor", ""), "")),
        ("Plank", _plank(row)),
        *pad,
        ("Base", dict(BASES).get(floor.get("base", ""), "")),
        *counts,
    ]


def _plank(row: Ballpark) -> str:
    """Return the plank that was named, what it costs, or that the caller has it."""
    if row.floor.get("flooring"):
        return str(row.floor["flooring"])
    typed = row.floor.get("flooring_ft2")
    return f"{money(Decimal(typed), row.company.currency)} a ft²" if typed else "The caller’s"
