"""Production rates of the company, for the office."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import SignedInRequest, company_of, office
from jobs.domain.quantities import CATALOG
from jobs.domain.tasks import TASKS
from jobs.forms.base import sent
from jobs.forms.rates import RateForm, initial_rate
from jobs.http import go_to, render_page
from jobs.models import Company, Rate
from jobs.readers.scope import company_rates, rate_key
from jobs.services import rates as services
from jobs.views.edit_page import edit_page, edits


@require_safe
@office
def rate_list(request: SignedInRequest) -> HttpResponse:
    """Every rate that counts, by task; own ones can be dropped again."""
    company = company_of(request)
    rows = {(row.task, row.driver, row.item): row for row in company.rates.all()}
    order = list(TASKS)
    rates = sorted(company_rates(company), key=lambda rate: order.index(rate.task_code))
    lines = [
        {
            "rate": rate,
            "task": TASKS[rate.task_code].label,
            "driver": CATALOG[rate.driver].label,
            "row": rows.get(rate_key(rate)),
            "hours": f"{round(rate.hours, 4).normalize():f}",
        }
        for rate in rates
    ]
    return render_page(request, "jobs/rates/rates.html", {"lines": lines, "any_set": bool(rows)})


@edits
@office
def rate_set(request: SignedInRequest) -> HttpResponse:
    """Set how long a work takes; the rate asked for stands in the form."""
    company = company_of(request)
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
        to=lambda _: reverse("rate-list"),
        context={"title": "Set a rate", "button": "Set the rate", "back": "rate-list"},
    )


@require_POST
@office
def rate_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Drop an own rate; the starting one counts again where there is one."""
    rate = get_object_or_404(Rate, company=company_of(request), pk=pk)
    services.remove_rate(rate=rate, user=request.user)
    messages.success(request, "The rate is dropped.")
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
