"""What the page of a price and of an estimate show alike: summary, drawing, groups that open."""

from __future__ import annotations

from estimates.domain.book.groups import GROUP_OF
from estimates.domain.price_groups.bar import price_bar
from estimates.domain.price_groups.groups import Counted, PriceTable
from estimates.domain.price_groups.kinds import material_group, work_group
from estimates.domain.price_groups.summary import summary_of
from estimates.domain.priced import Priced
from estimates.forms.price_groups import PriceHereForm, RateHereForm
from estimates.readers.price_groups import rate_in_force
from estimates.readers.price_needs import needed_prices
from jobs.access import SignedInRequest
from jobs.clock import today_of
from jobs.domain.tasks import TASKS
from jobs.forms.base import Data
from jobs.http import Context
from jobs.models import Job

WIDE, NARROW = 936, 350
"""How wide the drawing of a price is on a desk and on a phone."""

HereForm = PriceHereForm | RateHereForm


def groups_context(priced: Priced, counted: Counted, table: PriceTable) -> Context:
    """Return a price with its summary, its drawing at two widths, and its groups."""
    summary = summary_of(priced, counted.area_ft2)
    bars = [("on-desk", price_bar(summary, WIDE)), ("on-phone", price_bar(summary, NARROW))]
    return {
        "priced": priced,
        "summary": summary,
        "bars": [(name, bar) for name, bar in bars if bar is not None],
        "table": table,
        "area_ft2": counted.area_ft2,
    }


def here_context(form: HereForm | None, table: PriceTable) -> Context:
    """Return the form that stands in a row of the price, and which row that is."""
    if form is None:
        return {}
    if isinstance(form, PriceHereForm):
        at = table.place_of_price(form.needed.code, form.needed.item)
        return {"here_price": form, "here": at, "open": at and at.group}
    rate = form.stands.rate
    at = table.place_of_rate(rate.task_code, rate.driver, rate.item)
    return {"here_rate": form, "here": at, "open": at and at.group}


def form_in_address(request: SignedInRequest, job: Job) -> HereForm | None:
    """Return the form of the price or the rate that the address names; None where it names none."""
    code, task = request.GET.get("price", ""), request.GET.get("rate", "")
    item = request.GET.get("item", "")
    if code:
        return price_form(job, code, item)
    return rate_form(job, task, request.GET.get("driver", ""), item) if task else None


def price_form(job: Job, code: str, item: str, data: Data = None) -> PriceHereForm | None:
    """Return the form of what one thing costs; None where there is no such thing."""
    if code not in GROUP_OF:
        return None
    (needed,) = needed_prices(job.company, [(code, item[:120])], today_of(job.company))
    return PriceHereForm(needed, data)


def rate_form(
    job: Job, task: str, driver: str, item: str, data: Data = None
) -> RateHereForm | None:
    """Return the form of how long a work takes; None where it has no rate."""
    stands = rate_in_force(job.company, task, driver, item)
    return None if stands is None else RateHereForm(stands, data)


def group_key(code: str) -> str:
    """Return the group of a price in which a task or a material stands."""
    return work_group(code) if code in TASKS else material_group(code)
