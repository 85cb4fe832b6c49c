"""Production rates of the company, for the office."""

from __future__ import annotations

from decimal import Decimal

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import SignedInRequest, company_of, office
from jobs.domain.numerals import whole_number
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.rates import (
    ProductionRate,
    delay_factor,
    duration_days,
    hours_for,
    is_slower_than_known,
    man_days,
)
from jobs.domain.scope.rules import up
from jobs.domain.tasks import TASKS
from jobs.forms.base import sent
from jobs.forms.rates import RateForm, TrialForm, initial_rate
from jobs.http import Context, go_to, render_page
from jobs.models import Company, Rate
from jobs.readers.rates.history import history_of, rate_lines
from jobs.readers.scope import company_rates, rate_key
from jobs.services import rates as services
from jobs.views.edit_page import edit_page, edits


@require_safe
@office
def rate_list(request: SignedInRequest) -> HttpResponse:
    """Every rate that counts, by task, with where it comes from and since when."""
    lines = [
        {
            "line": line,
            "task": TASKS[line.rate.task_code].label,
            "driver": CATALOG[line.rate.driver].label,
            "hours": hours_said(line.rate.hours),
            "slow": is_slower_than_known(line.rate),
        }
        for line in rate_lines(company_of(request))
    ]
    return render_page(request, "jobs/rates/rates.html", {"lines": lines})


def hours_said(hours: Decimal) -> str:
    """Return hours to the fourth place at most, as a rate is said: 0.015."""
    return f"{round(hours, 4).normalize():f}"


@edits
@office
def rate_set(request: SignedInRequest) -> HttpResponse:
    """Set how long a work takes, with every rate that it had; leads back to a job's price."""
    company = company_of(request)
    back = _back(request)
    named = _rate_named(request, company)
    initial, version = named or ({"per": 1}, 1)
    form = RateForm(sent(request), initial=initial, version=version)
    return edit_page(
        request,
        form=form,
        write=lambda: services.set_rate(
            company=company,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done="The rate is set. It counts from the next estimate on.",
        to=lambda _: back,
        context={
            "history": _history(request, company),
            "back": back,
            **_trial(request, company),
        },
        template="jobs/rates/rate.html",
    )


def _back(request: SignedInRequest) -> str:
    """Return where a rate was looked at: the price of a job, else the list of rates."""
    job = whole_number(request.GET.get("job", ""))
    return reverse("rate-list") if job is None else reverse("job-price", args=[job])


def _history(request: SignedInRequest, company: Company) -> list[dict[str, object]]:
    """Return every rate that the named work had, as it is said."""
    task, driver, item = (request.GET.get(name, "") for name in ("task", "driver", "item"))
    if driver not in CATALOG:
        return []
    return [
        {"then": then, "hours": hours_said(then.hours), "unit": CATALOG[driver].unit}
        for then in history_of(company, (task, driver, item))
    ]


def _trial(request: SignedInRequest, company: Company) -> Context:
    """Return the form that tries a rate on so much work, and what that comes to once it is sent."""
    named = [(name, request.GET.get(name, "")) for name in ("task", "driver", "item", "job")]
    typed = request.GET if "amount" in request.GET else None
    form, rate = TrialForm(typed), _rate_in_address(request, company)
    context: Context = {"trial": form, "named": named}
    if rate is None or typed is None or not form.is_valid():
        return context
    data = form.cleaned_data
    slower = delay_factor(data["efficiency"] / 100)
    man_hours = hours_for(data["amount"], rate, slower)
    days = duration_days(
        man_days(man_hours),
        crew=data["people"],
        availability=data["there"] / 100,
        workday_hours=data["day"],
    )
    return context | {"tried": tried_words(man_hours, slower, days, data["people"])}


def tried_words(man_hours: Decimal, slower: Decimal, days: Decimal, people: int) -> str:
    """Return what so much work comes to, in a sentence with its source."""
    return (
        f"{round(man_hours, 2).normalize():f} h, {round(man_days(man_hours), 2).normalize():f} "
        f"man-days of 8 h, {round(slower, 3)} times those of the average crew; "
        f"{round(days, 3).normalize():f} days of {people} people, so {up(days)} on the calendar "
        "(NAVEDTRA 14045, ch. 2; the factor from memory)."
    )


@require_POST
@office
def rate_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Drop an own rate; the starting one counts again where there is one."""
    rate = get_object_or_404(Rate, company=company_of(request), pk=pk)
    services.remove_rate(rate=rate, user=request.user)
    messages.success(request, "The default rate counts again, where there is one.")
    return go_to(request, "rate-list")


def _rate_named(request: SignedInRequest, company: Company) -> tuple[dict[str, object], int] | None:
    """Return the initial values and the version of the rate that the address names."""
    rate = _rate_in_address(request, company)
    if rate is None:
        return None
    task, driver, item = rate_key(rate)
    row = company.rates.filter(task=task, driver=driver, item=item).first()
    return initial_rate(rate), row.version if row else 1


def _rate_in_address(request: SignedInRequest, company: Company) -> ProductionRate | None:
    """Return the rate that the address names, None where it names none."""
    key = tuple(request.GET.get(name, "") for name in ("task", "driver", "item"))
    return next((rate for rate in company_rates(company) if rate_key(rate) == key), None)
