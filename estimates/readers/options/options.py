"""The options of a job: each worked out as a job of its own and priced by today's book.

All are held against the floor as it is priced now, in dollars by the square foot laid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.book.needs import Need, missing_first, needs_of
from estimates.domain.options.chart import Bar, GainPart, Scale, bars_of, scale_for
from estimates.domain.options.savings import Labor, Option, Saving, labor_saved, option_of
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.priced import Priced, unpriced
from estimates.domain.pricing import price_scope
from estimates.readers.options.products import product_ways
from estimates.readers.options.way import NoWay, Way
from estimates.readers.options.ways import ways_of
from estimates.readers.prices import book_and_terms
from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job
from jobs.services.scope import WorkBasis, work_basis

MATERIAL, LABOR = "material", "labor"


@dataclass(frozen=True, kw_only=True, slots=True)
class PricedWay:
    """A way that is priced: the option, what it saves, and by how much the price rises with it."""

    option: Option
    saving: Saving
    labor_per_ft2: Decimal
    price_rise: Decimal

    @property
    def price_fall(self) -> Decimal:
        """By how much the price falls with it."""
        return -self.price_rise

    @property
    def material_saved(self) -> Decimal:
        """Material saved by the square foot."""
        return -self.saving.by_ft2(self.saving.dearer_material)

    @property
    def saved_by_the_hour(self) -> Decimal:
        """Labor saved by the square foot, every hour counted."""
        return self.saving.by_ft2(self.saving.worth_by_the_hour)

    @property
    def saved_in_half_days(self) -> Decimal:
        """Labor saved by the square foot where only half days and trips that go are counted."""
        return self.saving.by_ft2(self.saving.worth_in_half_days)

    @property
    def gain_by_the_hour(self) -> Decimal:
        """Material and labor by the hour together, by the square foot."""
        return self.material_saved + self.saved_by_the_hour

    @property
    def gain_in_half_days(self) -> Decimal:
        """Material and half days that go together, by the square foot."""
        return self.material_saved + self.saved_in_half_days

    @property
    def loss_by_the_hour(self) -> Decimal:
        """By how much the option loses by the hour, by the square foot."""
        return -self.gain_by_the_hour

    @property
    def loss_in_half_days(self) -> Decimal:
        """By how much it loses where only half days that go count, by the square foot."""
        return -self.gain_in_half_days

    @property
    def parts_by_the_hour(self) -> list[GainPart]:
        """What the gain by the hour is made of."""
        return _parts(self.material_saved, self.saved_by_the_hour)

    @property
    def parts_in_half_days(self) -> list[GainPart]:
        """What the gain in half days is made of."""
        return _parts(self.material_saved, self.saved_in_half_days)


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """A way as the page shows it: priced with its bars, or what keeps it from being priced."""

    way: Way
    priced: PricedWay | None = None
    faults: tuple[str, ...] = ()
    by_the_hour: tuple[Bar, ...] = ()
    in_half_days: tuple[Bar, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Options:
    """Everything that is compared on a job, the floor it is held against, and what can't be.

    `needs` are the prices that are missing or old among all of it, by code and item.
    """

    base: Option
    base_labor_per_ft2: Decimal
    labor: Labor
    scale: Scale
    choices: tuple[Choice, ...]
    not_compared: tuple[NoWay, ...]
    needs: tuple[tuple[str, str], ...]

    @property
    def reasons(self) -> str:
        """All that is said of what can't be compared."""
        return " ".join(each.reason for each in self.not_compared)


def options_of(job: Job, today: date) -> Options:
    """Return the options of ``job`` as planned and priced now.

    Raises:
        BadValueError: there is no planned floor, or a rate is missing.
    """
    basis = work_basis(job)
    book, terms = book_and_terms(job, today)
    pricing = _PricedJob(basis=basis, book=book, terms=terms, labor=_labor(basis, book))
    ways, without = every_way(basis)
    return pricing.options(ways, without)


def every_way(basis: WorkBasis) -> tuple[tuple[Way, ...], tuple[NoWay, ...]]:
    """Return all ways that a job offers, from its facts and from plans, and those it doesn't."""
    ways, without = ways_of(basis)
    products, refused = product_ways(basis)
    return (*ways, *products), (*without, *refused)


def _labor(basis: WorkBasis, book: PriceBook) -> Labor:
    return Labor(
        burdened_rate=book.burdened_rate,
        crew_hours_per_day=basis.site.crew_hours_per_day,
        trip_hours=basis.site.trip_hours,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class _PricedJob:
    """A job as it stands, and what its ways are priced with."""

    basis: WorkBasis
    book: PriceBook
    terms: PricingTerms
    labor: Labor

    def options(self, ways: Sequence[Way], without: Sequence[NoWay]) -> Options:
        plain = self.basis.worked_out()
        now = price_scope(plain, self.book, self.terms)
        base = option_of("as priced", plain, now)
        needs = list(needs_of(plain, self.book, self.terms))
        choices: list[Choice] = []
        refused: list[NoWay] = []
        for way in ways:
            try:
                scope = self.basis.worked_out(otherwise=way.otherwise, plans=way.plans)
            except BadValueError as bad:
                refused.append(NoWay(title=way.title, reason=as_sentence(bad), page=way.page))
                continue
            needs += needs_of(scope, self.book, self.terms)
            choices.append(self._choice(way, scope, base, now))
        scale = scale_for([parts for choice in choices for parts in _rows(choice)])
        return Options(
            base=base,
            base_labor_per_ft2=self.labor.cost_per_ft2(base),
            labor=self.labor,
            scale=scale,
            choices=tuple(_drawn(choice, scale) for choice in choices),
            not_compared=(*without, *refused),
            needs=_once(needs),
        )

    def _choice(self, way: Way, scope: FrozenScope, base: Option, now: Priced) -> Choice:
        then = price_scope(scope, self.book, self.terms)
        faults = unpriced(now, then)
        if faults:
            return Choice(way=way, faults=faults)
        option = option_of(way.title, scope, then)
        priced = PricedWay(
            option=option,
            saving=labor_saved(base, option, self.labor),
            labor_per_ft2=self.labor.cost_per_ft2(option),
            price_rise=then.total - now.total,
        )
        return Choice(way=way, priced=priced)


def _parts(material: Decimal, labor: Decimal) -> list[GainPart]:
    return [GainPart(label=MATERIAL, amount=material), GainPart(label=LABOR, amount=labor)]


def _rows(choice: Choice) -> Iterator[list[GainPart]]:
    if choice.priced is not None:
        yield choice.priced.parts_by_the_hour
        yield choice.priced.parts_in_half_days


def _drawn(choice: Choice, scale: Scale) -> Choice:
    if choice.priced is None:
        return choice
    return Choice(
        way=choice.way,
        priced=choice.priced,
        by_the_hour=bars_of(choice.priced.parts_by_the_hour, scale),
        in_half_days=bars_of(choice.priced.parts_in_half_days, scale),
    )


def _once(needs: Sequence[Need]) -> tuple[tuple[str, str], ...]:
    """Return what needs a price by code and item, each once, the missing first."""
    by_thing = {(need.code, need.item): need for need in needs}
    return tuple((need.code, need.item) for need in missing_first(by_thing.values()))
