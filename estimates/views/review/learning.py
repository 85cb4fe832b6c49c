"""What closed jobs teach the rates: beside the old ones, taken by a person, given back by Undo."""

from __future__ import annotations

from decimal import Decimal

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from estimates.access import taking_for
from estimates.forms.learning import TakeRatesForm
from estimates.readers.review.quotes_at_rates import last_quotes_at
from estimates.services.review.learning import take_learned
from jobs.access import SignedInRequest, company_of, office, signed_in
from jobs.clock import today_of
from jobs.domain.quantities import CATALOG
from jobs.domain.rates.proposals import RateProposal, TaskLearning
from jobs.domain.tasks import TASKS
from jobs.forms.base import sent
from jobs.http import go_to, render_page
from jobs.models import Company, RateTaking
from jobs.readers.rates.learned import LearnedRates, learned_of, rate_name
from jobs.services.rates import undo_taking
from jobs.views.edit_page import edits, say_done
from jobs.views.rates import hours_said


@edits
@office
def rates_learned(request: SignedInRequest) -> HttpResponse:
    """Rates as the logs of closed jobs have them, what they would change, and what was taken."""
    company = company_of(request)
    learned = learned_of(company)
    proposed = [(rate_name(rate), _called(rate)) for rate in learned.moved]
    form = TakeRatesForm(sent(request), seen=learned.seen, proposed=proposed)
    if request.method == "POST" and form.is_valid():
        taking = form.carry_out(
            lambda: take_learned(
                company=company,
                user=request.user,
                key=form.once_key,
                seen=form.cleaned_data["seen"],
                chosen=form.cleaned_data["rates"],
            )
        )
        if taking is not None:
            count = len(taking.rates)
            counts = "rate counts" if count == 1 else "rates count"
            undo = reverse("rates-undo", args=[taking.pk])
            say_done(request, f"{count} {counts} from the next estimate on.", undo=undo)
            return go_to(request, "rates-learned")
    return _page(request, company, learned, form)


def _page(
    request: SignedInRequest, company: Company, learned: LearnedRates, form: TakeRatesForm
) -> HttpResponse:
    today = today_of(company)
    moved = [rate.after for rate in learned.moved]
    moving = [_task_shown(task, form) for task in learned.tasks if task.moved]
    standing = [_task_shown(task, form) for task in learned.tasks if not task.moved]
    context = {
        "form": form,
        "tasks": [*moving, *standing],
        "moving": moving,
        "standing": standing,
        "moved": bool(moved),
        "left_out": learned.left_out,
        "quotes": last_quotes_at(company, moved, today) if moved else (),
        "takings": list(company.rate_takings.select_related("who")[:20]),
        "currency": company.currency,
    }
    return render_page(request, "estimates/review/learned.html", context, status=form.status)


def _task_shown(task: TaskLearning, form: TakeRatesForm) -> dict[str, object]:
    return {
        "label": TASKS[task.task_code].label,
        "odd": task.odd,
        "rates": [
            {
                "name": rate_name(rate),
                "called": _called(rate),
                "driver": CATALOG[rate.after.driver].label,
                "item": rate.after.item,
                "per": rate.after.per,
                "each": rate.after.per == 1 and rate.after.unit == "each",
                "unit": rate.after.unit,
                "now": hours_said(rate.before.hours),
                "proposed": hours_said(rate.after.hours),
                "low": about(rate.low),
                "high": about(rate.high),
                "stretches": rate.stretches,
                "jobs": rate.after.jobs,
                "moves": rate.moves,
                "ticked": rate_name(rate) in form.ticked,
            }
            for rate in task.rates
        ],
    }


def about(hours: Decimal) -> str:
    """Return hours of a range to two figures, as far as it is known: 0.68, 1.3, 0.0072."""
    places = 1 - hours.adjusted() if hours else 0
    return f"{round(hours, max(places, 0)).normalize():f}"


def _called(rate: RateProposal) -> str:
    """Return what a rate is called in words: Lay the floor by rips."""
    item = f", {rate.after.item}" if rate.after.item else ""
    driver = CATALOG[rate.after.driver].label.lower()
    return f"{TASKS[rate.after.task_code].label}{item} by {driver}"


@require_POST
@signed_in
def rates_undo(request: SignedInRequest, pk: int) -> HttpResponse:
    """Give back what the rates of one taking were before it."""
    taking: RateTaking = taking_for(request, pk)
    count = undo_taking(taking=taking, user=request.user)
    back = "rate is" if count == 1 else "rates are"
    since = len(taking.rates) - count
    kept = f" {since} set anew since stay as set." if since else ""
    messages.success(request, f"{count} {back} as before.{kept}")
    return go_to(request, "rates-learned")
