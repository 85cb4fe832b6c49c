"""The range of a ballpark: by the rate card where there is one, else by the company's hours. Pure.

A line is sold as an adder says, or at its cost with overhead at the margin. Nothing without a
price or a rate is counted as nought: it is named among what the range leaves out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from estimates.domain.ballpark.counts import (
    Ends,
    RoughCount,
    RoughFloor,
    planks_ft2,
    rough_counts,
)
from estimates.domain.money import cents, price_at_margin, round_to
from estimates.domain.price_book import NOTHING, Covers, Price, PriceBook, PricingTerms
from jobs.domain.checks import ONE, ZERO
from jobs.domain.documents import stored
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.rates import ProductionRate, find_rate, hours_for
from jobs.domain.scope.rules import up
from jobs.domain.tasks import TASKS

STEP = 10
"""The ends of a range are rounded to so many whole units of the currency."""

HEADS: Mapping[str, tuple[str, ...]] = {
    "Old floor out and hauled away": ("tear_out", "disposal"),
    "Pad": ("pad_area", "pad"),
    "Set up, prepare, lay and clean": (
        *("visits", "carry", "floor_area", "pieces", "crosscuts", "rips", "notches"),
    ),
    "Base": ("base_off", "base_on", "base_stock"),
    "Doors and casings": ("casings", "doors_off"),
    "Strips at doorways": ("transitions", "transition_profile"),
    "Stairs": ("treads", "risers", "nosings", "nosing_stock"),
    "Furniture, toilets, appliances": ("furniture", "toilets", "appliances"),
    "Drive": ("trips",),
}
"""The lines of a ballpark, and what of the catalog each holds."""

LEFT_OUT = (
    "leveling and repair of the subfloor",
    "moisture tests",
    "painting",
    "asbestos and lead: testing and removal",
    "whatever measuring will show",
)


@stored("label least most")
@dataclass(frozen=True, kw_only=True, slots=True)
class BallparkLine:
    """What one part of the work comes to, at least and at most."""

    label: str
    least: Decimal
    most: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class BallparkRange:
    """A range before sales tax on the bill, its lines, its hours and days, what it leaves out."""

    lines: tuple[BallparkLine, ...]
    least: Decimal
    most: Decimal
    hours: Ends
    days: tuple[int, int]
    by_card: bool
    left_out: tuple[str, ...]


def ballpark_range(
    floor: RoughFloor,
    book: PriceBook,
    terms: PricingTerms,
    rates: Sequence[ProductionRate],
    trip_hours: Decimal,
) -> BallparkRange:
    """Return the range for a floor by the prices, the card and the rates in force."""
    counts = rough_counts(floor)
    by_card = book.find("adder", "floor_area", "", terms.as_of) is not None
    seller = _Seller(book=book, terms=terms, rates=rates, trip_hours=trip_hours, by_card=by_card)
    hours = (seller.on_site(counts, 0), seller.on_site(counts, 1))
    days = tuple(up(end / (terms.crew_hours_per_day - trip_hours)) for end in hours)
    trips = RoughCount(code="trips", least=Decimal(days[0]), most=Decimal(days[1]))
    seller.cover((*counts, trips))
    lines = [*_flooring(floor, terms), *seller.lines((*counts, trips))]
    lines += _minimum(lines, terms)
    travel = [trip_hours * end for end in days]
    return BallparkRange(
        lines=tuple(lines),
        least=round_to(sum((line.least for line in lines), ZERO), STEP),
        most=round_to(sum((line.most for line in lines), ZERO), STEP),
        hours=(hours[0] + travel[0], hours[1] + travel[1]),
        days=(days[0], days[1]),
        by_card=by_card,
        left_out=_left_out(floor, terms, seller.lacking),
    )


@dataclass(kw_only=True, slots=True)
class _Seller:
    """What each count is sold for; `covers` is what the adders of the card pay for."""

    book: PriceBook
    terms: PricingTerms
    rates: Sequence[ProductionRate]
    trip_hours: Decimal
    by_card: bool
    covers: Covers = NOTHING
    lacking: dict[str, None] = field(default_factory=dict)

    def on_site(self, counts: Iterable[RoughCount], end: int) -> Decimal:
        """Return the man-hours of all counts at one end, beside driving."""
        return sum((self._hours(count, _amount(count, end), ()) for count in counts), ZERO)

    def cover(self, counts: Iterable[RoughCount]) -> None:
        """Note the tasks and materials that adders of the card pay for."""
        adders = [adder for count in counts if (adder := self._adder(count)) is not None]
        tasks = tuple(task for adder in adders for task in adder.tasks_paid)
        self.covers = Covers(
            tasks, tuple(code for adder in adders for code in adder.materials_paid)
        )

    def lines(self, counts: Sequence[RoughCount]) -> list[BallparkLine]:
        """Return a line for each head under which something is sold."""
        lines = []
        for label, codes in HEADS.items():
            under = [count for count in counts if count.code in codes]
            least, most = (sum((self._sold(count, end) for count in under), ZERO) for end in (0, 1))
            if most:
                lines.append(BallparkLine(label=label, least=least, most=most))
        return lines

    def _adder(self, count: RoughCount) -> Price | None:
        if not self.by_card:
            return None
        return self.book.find("adder", count.code, count.item, self.terms.as_of)

    def _sold(self, count: RoughCount, end: int) -> Decimal:
        """Return what is charged for a count: by its adder, else what no adder pays for."""
        amount, adder = _amount(count, end), self._adder(count)
        if adder is not None:
            return cents(amount * adder.amount)
        labor = self._hours(count, amount, self.covers.tasks) * self.book.burdened_rate
        return _at_margin(labor + self._material(count, amount), self.terms)

    def _hours(self, count: RoughCount, amount: Decimal, paid: Sequence[str]) -> Decimal:
        """Return the hours of every task that a count drives, but of those paid for already."""
        if count.code == "trips":
            return ZERO if "travel" in paid else amount * self.trip_hours
        total = ZERO
        for code, kind in TASKS.items():
            if count.code not in kind.drivers or code in paid:
                continue
            rate = find_rate(self.rates, code, count.code, count.item)
            if rate is None:
                self.lacking[f"{kind.label.lower()}: no rate"] = None
            else:
                total += hours_for(amount, rate)
        return total

    def _material(self, count: RoughCount, amount: Decimal) -> Decimal:
        """Return what the material costs that a count is of, with the tax that we pay on it."""
        entry = CATALOG[count.code]
        if entry.kind != "material" or count.code in self.covers.materials:
            return ZERO
        price = self.book.find("material", count.code, count.item, self.terms.as_of)
        if price is None:
            self.lacking[f"{entry.label.lower()}: no price in the book"] = None
            return ZERO
        return amount * _taxed(price.amount, self.terms, taxable=price.taxable)


def _amount(count: RoughCount, end: int) -> Decimal:
    return (count.least, count.most)[end]


def _at_margin(cost: Decimal, terms: PricingTerms) -> Decimal:
    return price_at_margin(cost * (ONE + terms.overhead), terms.margin)


def _taxed(amount: Decimal, terms: PricingTerms, *, taxable: bool) -> Decimal:
    pays = taxable and terms.tax_mode == "consumer"
    return amount * (ONE + terms.tax_rate) if pays else amount


def _flooring(floor: RoughFloor, terms: PricingTerms) -> list[BallparkLine]:
    """Return the line of the planks with their waste; none where the caller has them."""
    if not floor.flooring_ft2:
        return []
    each = _taxed(floor.flooring_ft2, terms, taxable=True)
    least, most = (_at_margin(feet * each, terms) for feet in planks_ft2(floor))
    return [BallparkLine(label="Planks", least=least, most=most)]


def _minimum(lines: Iterable[BallparkLine], terms: PricingTerms) -> list[BallparkLine]:
    """Return what makes up the minimum charge, where an end falls short of it."""
    listed = list(lines)
    least = max(ZERO, terms.minimum - sum((line.least for line in listed), ZERO))
    most = max(ZERO, terms.minimum - sum((line.most for line in listed), ZERO))
    if not least:
        return []
    return [BallparkLine(label="Minimum charge, made up", least=least, most=most)]


def _left_out(floor: RoughFloor, terms: PricingTerms, lacking: Iterable[str]) -> tuple[str, ...]:
    more = []
    if floor.flooring_ft2 is None:
        more.append("the planks, which the client has")
    if not floor.pad:
        more.append("a separate pad")
    if terms.tax_mode in ("seller", "all"):
        more.append("sales tax on the bill")
    return (*lacking, *more, *LEFT_OUT)
