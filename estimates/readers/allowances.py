"""Allowances of a job: what can be offered from what the visit measured, beyond the scope."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.terms.allowances import (
    KINDS,
    CostOfOne,
    LowSpots,
    card_price,
    low_spots,
    unit_cost,
    unit_price,
)
from estimates.domain.terms.evidence import (
    base_words,
    cost_words,
    per_one,
    primer_words,
    survey_words,
    without_survey,
)
from estimates.readers.prices import book_and_terms
from jobs.domain.lengths import IN_PER_FT, MM_PER_IN
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.scope.rules import up
from jobs.domain.site.leveling import Survey, SurveyError, read_depths, survey
from jobs.models import Job, Room, SiteFacts, TrimKind
from jobs.readers.scope import company_rates
from jobs.readers.trim import handled


@dataclass(frozen=True, kw_only=True, slots=True)
class AllowanceOffer:
    """What can be sold by the unit: the cap that the evidence gives, cost and price of one.

    `units` None: no evidence gives a cap, so somebody must. `beside` says more than is kept.
    """

    kind: str
    label: str
    unit: str
    units: Decimal | None
    cost: CostOfOne
    price: Decimal
    evidence: str
    cost_words: str
    beside: str = ""
    from_card: bool = False

    @property
    def per_one(self) -> str:
        """One of the unit, as a price names it."""
        return per_one(self.unit)

    @property
    def at_most(self) -> Decimal | None:
        """What the cap comes to; None where somebody must type it."""
        return None if self.units is None else self.units * self.price


@dataclass(frozen=True, kw_only=True, slots=True)
class LowFloor:
    """The rooms of a job with a depth survey and without, and what the surveys come to."""

    surveyed: tuple[str, ...]
    missing: tuple[str, ...]
    spots: LowSpots


@dataclass(frozen=True, kw_only=True, slots=True)
class Offers:
    """Everything that is offered for a job, and sentences about what is not."""

    offers: tuple[AllowanceOffer, ...]
    notes: tuple[str, ...]

    def of(self, kind: str) -> AllowanceOffer | None:
        """Return the offer of a kind, None where there is none."""
        return next((offer for offer in self.offers if offer.kind == kind), None)


def offers_of(job: Job, today: date) -> Offers:
    """Return what can be offered for a job by today's prices, whether it is planned or not."""
    book, terms = book_and_terms(job, today)
    maker = _Maker(
        book=book, terms=terms, rates=company_rates(job.company), currency=job.company.currency
    )
    rooms = list(job.rooms.filter(zone__isnull=False).prefetch_related("trim_runs__room"))
    for room in rooms:
        room.job = job
    floor = low_floor(rooms, SiteFacts.objects.filter(job=job).first())
    offers = [*maker.bags(floor), *maker.primer(floor), maker.screws(), *maker.base(rooms)]
    return Offers(offers=tuple(offers), notes=tuple(_notes(floor)))


def low_floor(rooms: Sequence[Room], site: SiteFacts | None) -> LowFloor:
    """Return what the depth surveys of these rooms come to; one that no longer fits is missing."""
    bag_fills = (site or SiteFacts()).bag_fills_ft3
    surveyed: list[Room] = []
    low: list[Survey] = []
    for room in rooms:
        try:
            depths = _depths(room, bag_fills)
        except SurveyError:
            continue
        if room.depths:
            surveyed.append(room)
            low += [depths] if depths else []
    return LowFloor(
        surveyed=tuple(room.name for room in surveyed),
        missing=tuple(room.name for room in rooms if room not in surveyed),
        spots=low_spots(low, bag_fills, sum(room.leveler_bags for room in surveyed)),
    )


def _depths(room: Room, bag_fills_ft3: Decimal) -> Survey | None:
    """Return the survey of a room. Raises SurveyError where its outline was changed since."""
    ring = tuple((float(x), float(y)) for x, y in room.outline)
    depths = read_depths(room.depths, ring, unit=room.job.unit)
    return survey(depths, ring, unit=room.job.unit, bag_fills_ft3=bag_fills_ft3)


def _notes(floor: LowFloor) -> Iterator[str]:
    """Yield what is not offered, and why."""
    spots = floor.spots
    if floor.surveyed and not spots.beyond[1]:
        if not spots.most:
            yield "The depth surveys read level: no leveler is offered for these rooms."
        else:
            yield (
                f"The scope counts {spots.counted} bags of leveler, and the survey asks for "
                f"{spots.most} at most: nothing is offered beyond them."
            )


@dataclass(frozen=True, kw_only=True, slots=True)
class _Maker:
    """Makes offers by one price book."""

    book: PriceBook
    terms: PricingTerms
    rates: Sequence[ProductionRate]
    currency: str

    def bags(self, floor: LowFloor) -> Iterator[AllowanceOffer]:
        """Yield bags: as the survey says, or with a cap to be typed where a room has none."""
        hours = unit_cost("bags", self.book, self.terms, self.rates).hours
        beyond = floor.spots.beyond[1]
        if beyond:
            words = survey_words(floor.spots, floor.surveyed, hours)
            beside = without_survey(floor.missing) if floor.missing else ""
            yield self._offer("bags", Decimal(beyond), words, beside)
        elif floor.missing or not floor.surveyed:
            words = without_survey(floor.missing)
            yield self._offer("bags", None, words, "Offer bags at a unit price, with a cap.")

    def primer(self, floor: LowFloor) -> Iterator[AllowanceOffer]:
        """Yield the priming of what reads low."""
        if floor.spots.low_ft2:
            words = primer_words(floor.spots, floor.surveyed)
            yield self._offer("primer", Decimal(up(floor.spots.low_ft2)), words)

    def screws(self) -> AllowanceOffer:
        """Return screws in loose spots, whose number somebody must say."""
        words = "Loose and squeaking spots show when the old floor is out."
        return self._offer("screws", None, words)

    def base(self, rooms: Sequence[Room]) -> Iterator[AllowanceOffer]:
        """Yield old base by the foot, where it comes off and goes back."""
        feet = {room.name: _reused_ft(room) for room in rooms}
        reused = [name for name, length in feet.items() if length]
        if reused:
            total = sum(feet.values(), Decimal(0))
            beside = "Its hours are in the scope; the new piece alone is sold, with 10 % for cuts.†"
            yield self._offer("base", Decimal(up(total)), base_words(total, reused), beside)

    def _offer(
        self, kind: str, units: Decimal | None, evidence: str, beside: str = ""
    ) -> AllowanceOffer:
        cost = unit_cost(kind, self.book, self.terms, self.rates)
        card = card_price(kind, self.book, self.terms)
        return AllowanceOffer(
            kind=kind,
            label=KINDS[kind].label,
            unit=KINDS[kind].unit,
            units=units,
            cost=cost,
            price=unit_price(cost.total, self.terms) if card is None else card,
            evidence=evidence,
            cost_words=cost_words(cost, self.currency),
            beside=beside,
            from_card=card is not None,
        )


def _reused_ft(room: Room) -> Decimal:
    """Return the feet of base of a room that come off and go back."""
    runs = [run for run in room.trim_runs.all() if run.kind == TrimKind.BASE]
    millimeters = sum((run.length_mm for run in handled(runs, "reinstall")), Decimal(0))
    return millimeters / MM_PER_IN / IN_PER_FT
