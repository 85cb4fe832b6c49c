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
from jobs.domain.tasks import TASKS
from jobs.forms.base import sent
from jobs.forms.rates import RateForm, initial_rate
from jobs.http import go_to, render_page
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
        context={"history": _history(request, company), "back": back},
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
    key = tuple(request.GET.get(name, "") for name in ("task", "driver", "item"))
    for rate in company_rates(company):
        if rate_key(rate) == key:
            task, driver, item = key
            row = company.rates.filter(task=task, driver=driver, item=item).first()
            return initial_rate(rate), row.version if row else 1
    return None
