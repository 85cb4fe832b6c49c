"""What a quote is made from, gathered from the rows: rooms, floors, terms, whom it is for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import cast

from estimates.domain.law.cancel import cancel_right, carries_cancel_right
from estimates.domain.law.lead import lead_receipt
from estimates.domain.priced import Priced
from estimates.domain.quotes.content import CancelRight, Detail, LeadReceipt, QuoteSection
from estimates.domain.quotes.house_cautions import House, house_cautions
from estimates.domain.quotes.plain_words import clock_words
from estimates.domain.quotes.sold import Addressed, PricedChoice, Sold, SoldRoom
from estimates.models import QuoteDraft, SalesTerms
from estimates.readers.draft.floors import plans_of, sold_floor
from estimates.readers.draft.rows import photos_shown
from estimates.readers.draft.terms import sale_terms
from estimates.readers.quote_drawing import homeowner_drawing
from estimates.readers.setup.sales import letterhead_of, number_of_quote, sales_terms
from jobs.domain.lengths import IN2_PER_FT2
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import VisitFacts
from jobs.models import Client, FloorPlan, Job, Room, SiteFacts
from jobs.readers.openings.doorways import doorways_between, doorways_of
from jobs.readers.payers.payer import payer_row
from jobs.readers.scope import room_take
from jobs.readers.site import level_changes

_FOOT2 = Decimal("0.01")


def sold_of(
    draft: QuoteDraft,
    choices: Sequence[PricedChoice],
    *,
    facts: VisitFacts,
    number: int,
    today: date,
) -> Sold:
    """Return what the quote of a job is made from; the first choice is the job as priced.

    ``facts``: what is known of the job's site.
    """
    job = draft.job
    scope, priced = choices[0].scope, choices[0].priced
    plans, *others = [plans_of(job, choice.scope) for choice in choices]
    sales = sales_terms(job.company)
    sold = Sold(
        addressed=_addressed(job, priced, number, today),
        terms=sale_terms(draft, priced, today),
        detail=cast(Detail, draft.detail),
        rooms=sold_rooms(job, scope),
        floors=tuple(sold_floor(plan.zone) for plan in plans),
        choices=_with_floors(job, choices, [plans, *others]),
        cautions=_cautions(job, facts, scope),
        photos=photos_shown(draft),
        drawing=homeowner_drawing(plans),
        drawing_notes=(),
        lead=_lead(job, facts, sales),
        color=draft.color,
        sample_on=draft.sample_on,
        start_week=draft.start_week,
        days_note=draft.days_note,
        arrives=clock_words(sales.arrives_at),
        system=job.company.units,
    )
    carries = carries_cancel_right(priced.total, sold_where=draft.sold_where)
    if not carries or not sales.cancel_right or priced.payer is not None:
        return sold
    return replace(sold, cancel=_cancel(job, sold))


def _with_floors(
    job: Job, choices: Sequence[PricedChoice], plans: Sequence[Sequence[FloorPlan]]
) -> tuple[PricedChoice, ...]:
    """Return the choices with what is laid in each; as they are where there is but one."""
    if len(choices) < 2:
        return tuple(choices)
    doorways = doorways_of(job)
    floors = [[plan.zone for plan in of_choice] for of_choice in plans]
    return tuple(
        replace(
            choice,
            floors=tuple(map(sold_floor, zones)),
            steps=level_changes(doorways_between(doorways, zones)),
        )
        for choice, zones in zip(choices, floors, strict=True)
    )


def _cancel(job: Job, sold: Sold) -> CancelRight:
    """Return the right to cancel, filled in for a signature on the day of the quote."""
    day = sold.terms.issued_on
    agreement = ", ".join(
        [f"Quote {sold.addressed.label}", job.title, *job.address.splitlines()[:1]]
    )
    return cancel_right(sold.addressed.letterhead, agreement=agreement, signed_on=day)


def _lead(job: Job, facts: VisitFacts, sales: SalesTerms) -> LeadReceipt | None:
    certificate, pamphlet = sales.lead_certificate, sales.lead_pamphlet
    return lead_receipt(facts, firm=job.company.name, certificate=certificate, pamphlet=pamphlet)


def _cautions(job: Job, facts: VisitFacts, scope: FrozenScope) -> tuple[QuoteSection, ...]:
    """Return what this house asks for, in the homeowner's words."""
    by_homeowner = "doors_on" in scope.left
    house = House(facts=facts, system=job.company.units, doors_by_homeowner=by_homeowner)
    return house_cautions(cautions_for(facts), house)


def sold_rooms(job: Job, scope: FrozenScope) -> tuple[SoldRoom, ...]:
    """Return the rooms of a scope's floors, called as the scope calls them."""
    names = {place.key: place.name for place in scope.places}
    floors = {zone.key: zone.name for zone in scope.zones if zone.key}
    site = SiteFacts.objects.filter(job=job).first()
    rooms = job.rooms.filter(zone__isnull=False).prefetch_related("trim_runs__room")
    sold = [
        SoldRoom(
            name=names.get(f"room-{room.pk}", room.name),
            floor=floors[f"floor-{room.zone_id}"],
            area_ft2=_area_ft2(room, job, site),
        )
        for room in rooms
        if f"floor-{room.zone_id}" in floors
    ]
    return tuple(sold) or tuple(
        SoldRoom(name=zone.name, floor=zone.name, area_ft2=zone.area_ft2) for zone in scope.zones
    )


def _area_ft2(room: Room, job: Job, site: SiteFacts | None) -> Decimal:
    room.job = job
    return (room_take(room, site).area_in2 / IN2_PER_FT2).quantize(_FOOT2)


def _addressed(job: Job, priced: Priced, number: int, today: date) -> Addressed:
    name, lines = _payer(job, priced)
    return Addressed(
        number=number,
        label=number_of_quote(job.company, job_number=job.number, number=number, issued_on=today),
        job_number=job.number,
        title=job.title,
        letterhead=letterhead_of(job.company),
        client=name,
        client_lines=lines,
        site=job.address,
        order_number=priced.payer.order_number if priced.payer else "",
    )


def _payer(job: Job, priced: Priced) -> tuple[str, tuple[str, ...]]:
    """Return whom the quote is for: the payer of the estimate, else the client."""
    if priced.payer is None:
        return job.client.name, _lines(job.client)
    payer = payer_row(job).payer
    if payer is not None and payer.name == priced.payer.name:
        return payer.name, _lines(payer)
    return priced.payer.name, ()


def _lines(client: Client) -> tuple[str, ...]:
    lines = [*client.address.splitlines(), client.phone, client.email]
    return tuple(line for line in lines if line)
