"""An option taken into the facts of its job, and products planned to be compared."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.db import transaction

from estimates.domain.quotes.choices import SEVERAL
from estimates.readers.options.products import PRODUCT
from estimates.readers.options.ways import PUT_ON
from jobs.domain.checks import BadValueError, require_choice
from jobs.domain.numerals import whole_number
from jobs.models import FloorZone, Job, Product, SiteFacts, TrimKind, User
from jobs.services.floors.comparison import (
    MOST,
    ask_to_compare,
    compared,
    comparison_of,
    directions_of,
    refuse_begun,
)
from jobs.services.records import audit_job, save_versioned, writes_once
from layout.values.errors import LayoutError


@writes_once(Job, "take option")
def take_option(*, job: Job, user: User, key: str, way: str) -> Job:
    """Return the job with an option taken into its facts: the next price is made with it.

    Raises BadValueError for an option that is no plain edit, a closed job, or a floor whose rows
    are down.
    """
    require_choice("way", way, TAKEN)
    if job.closed_at is not None:
        raise BadValueError(field="way", value="of a closed job", accepted="a job that is open")
    audit_job(job=job, user=user, act=TAKEN[way](job))
    return job


def _tear_out(job: Job, tear_out: bool) -> str:
    site, _ = SiteFacts.objects.get_or_create(job=job)
    site.tear_out = tear_out
    save_versioned(site, expected=site.version, names=("tear_out",))
    return "Priced with the old floor torn out" if tear_out else "Priced over the old floor"


def _separate_pad(job: Job) -> str:
    for zone in job.zones.select_related("product").filter(product__attached_pad=False, pad=False):
        refuse_begun(zone)
        zone.pad = True
        save_versioned(zone, expected=zone.version, names=("pad",))
    return "Priced with a separate pad"


def _base(job: Job, treatment: str) -> str:
    for room in job.rooms.filter(zone__isnull=False, base__in=PUT_ON).exclude(base=treatment):
        room.base = treatment
        save_versioned(room, expected=room.version, names=("base",))
        for run in room.trim_runs.filter(kind=TrimKind.BASE, action__in=PUT_ON):
            run.action = treatment
            save_versioned(run, expected=run.version, names=("action",))
    return "Priced with new base" if treatment == "replace" else "Priced with the old base reused"


TAKEN: Mapping[str, Callable[[Job], str]] = {
    "tear_out": lambda job: _tear_out(job, tear_out=True),
    "lay_over": lambda job: _tear_out(job, tear_out=False),
    "pad_separate": _separate_pad,
    "base_old": lambda job: _base(job, "reinstall"),
    "base_new": lambda job: _base(job, "replace"),
}
"""What each option that is a plain edit does to the rows of its job."""


def take_ways(job: Job, ways: str) -> None:
    """Take options into the facts of a job, their keys joined by "+"; nothing where none is named.

    Other boards are no fact of the job: their plans are taken before.

    Raises BadValueError for one that is no plain edit, and for a floor whose rows are down.
    """
    for way in filter(None, ways.split(SEVERAL)):
        if other_product(way) is not None:
            continue
        require_choice("way", way, TAKEN)
        TAKEN[way](job)


def other_product(ways: str) -> int | None:
    """Return the pk of the product that one of these ways puts floors into; None for none."""
    pks = (way.removeprefix(PRODUCT) for way in ways.split(SEVERAL) if way.startswith(PRODUCT))
    numbers = (whole_number(pk) for pk in pks)
    return next((pk for pk in numbers if pk is not None), None)


@transaction.atomic
def plan_product(*, job: Job, product: Product, user: User) -> int:
    """Return on how many floors of a job a product is now being planned, to be compared.

    What was compared there before in other products is planned again beside it. Raises
    BadValueError where every floor is laid in it already, or begun, or can't be planned.
    """
    floors = 0
    for zone in job.zones.select_related("product", "job__company"):
        if zone.going_on or zone.product_id == product.pk:
            continue
        try:
            turns = directions_of(zone)
            products = _beside(zone, product)[: max(1, MOST // len(turns))]
            ask_to_compare(zone=zone, products=products, directions=turns, user=user)
        except LayoutError:
            continue
        floors += 1
    if not floors:
        accepted = "another product than the floors have, on a floor that can be planned"
        raise BadValueError(field="product", value=product.name, accepted=accepted)
    return floors


def _beside(zone: FloorZone, product: Product) -> list[Product]:
    """Return the product, then those that the floor was compared in before, without its own."""
    before = {row.product for row in compared(comparison_of(zone))} - {zone.product_id, product.pk}
    others = zone.job.company.products.filter(pk__in=before, retired_at__isnull=True)
    return [product, *others]
