"""What a price was reckoned from, read for its page: pages of floors and rooms, rates, sources."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from django.urls import reverse

from estimates.domain.price_groups.groups import Counted
from estimates.domain.priced import Priced
from estimates.models import Estimate
from jobs.domain.figures import in_prose
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.quantities import CATALOG, Quantity, in_units
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS
from jobs.models import Company, Doorway, Job
from jobs.readers.scope import company_rates, rate_key, rates_used, scope_value

_NUMBER_OF_DOORWAY = re.compile(r", wall \d+, (\d+)$")


def counted_now(job: Job, scope: FrozenScope) -> Counted:
    """Return what today's price of a job is reckoned from."""
    return Counted(
        quantities=scope.quantities,
        rates=scope.rates or rates_used(job.company),
        area_ft2=scope.area_ft2,
        links=links_of(job, scope.quantities),
    )


def counted_then(estimate: Estimate, priced: Priced) -> Counted:
    """Return what an estimate was reckoned from, as far as it was kept and can be read."""
    rates = () if priced.basis is None else priced.basis.rates
    try:
        scope = scope_value(estimate.scope)
    except BrokenDocumentError:
        # The lines of the estimate stand by themselves; only their sources are lost.
        return Counted(rates=rates)
    return Counted(quantities=scope.quantities, rates=rates, area_ft2=scope.area_ft2)


def links_of(job: Job, quantities: Iterable[Quantity]) -> dict[tuple[str, str], str]:
    """Return the page of every floor, room, stair and doorway of a job by its names in a scope."""
    zones = {
        (name, ""): reverse("zone", args=[pk]) for name, pk in job.zones.values_list("name", "pk")
    }
    rooms = {
        name: reverse("room-edit", args=[pk]) for name, pk in job.rooms.values_list("name", "pk")
    }
    stairs = {
        name: reverse("stair-edit", args=[pk]) for name, pk in job.stairs.values_list("name", "pk")
    }
    doorways = set(Doorway.objects.filter(room__job=job).values_list("pk", flat=True))
    links = {("", ""): reverse("zone-list", args=[job.pk]), **zones}
    for entry in quantities:
        if entry.room in rooms or entry.room in stairs:
            links[entry.zone, entry.room] = (rooms | stairs)[entry.room]
        elif (number := _doorway_in(entry.room)) in doorways:
            links[entry.zone, entry.room] = reverse("doorway-edit", args=[number])
    return links


def _doorway_in(name: str) -> int | None:
    match = _NUMBER_OF_DOORWAY.search(name)
    return int(match[1]) if match else None


@dataclass(frozen=True, kw_only=True, slots=True)
class RateInForce:
    """A production rate of a company as it stands, and the version of its row."""

    rate: ProductionRate
    version: int

    @property
    def label(self) -> str:
        """What the rate is of, in words."""
        named = f"{TASKS[self.rate.task_code].label}, {CATALOG[self.rate.driver].label}"
        return f"{named}, {self.rate.item}" if self.rate.item else named

    @property
    def per_words(self) -> str:
        """For how many units the hours are."""
        return f"for {in_prose(in_units(self.rate.per, self.rate.unit))}"


def rate_in_force(company: Company, task: str, driver: str, item: str) -> RateInForce | None:
    """Return the rate that counts for a task, driver and item; None where there is none."""
    for rate in company_rates(company):
        if rate_key(rate) == (task, driver, item):
            row = company.rates.filter(task=task, driver=driver, item=item).first()
            return RateInForce(rate=rate, version=row.version if row else 1)
    return None
