"""The work split: what the homeowner takes on, from the furniture to all of the laying.

Nothing is left to the homeowner while an asbestos or lead question on it is open: a hold point of
the task that nobody has cleared.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.pricing import price_scope
from jobs.domain.checks import ZERO
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.scope.split import leaving
from jobs.domain.tasks import TASKS, with_what_goes_along

CLIENT_TASKS = ("furniture", "tear_out", "dispose", "base_off", "paint", "base", "shoe", "clean")
"""What a homeowner may take on beside a crew that lays; common practice, no source."""

EVERYTHING = "everything"
"""All the work, the laying too: the material, the plan and the cut sheet are what is sold."""

GOES_WITH: Mapping[str, tuple[str, ...]] = {"dispose": ("disposal",)}
"""Materials that go with a task: who hauls away pays at the dump."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Share:
    """Work that the homeowner could take on: its hours, what that takes off the price, or why not.

    `questions` are the codes of the holds that forbid it; `saves` is then nothing.
    """

    code: str
    label: str
    hours: Decimal
    saves: Decimal
    saves_per_ft2: Decimal
    questions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class SplitPrice:
    """What a price falls by together for all that the homeowner takes on."""

    whole: Decimal
    left: Decimal
    area_ft2: Decimal

    @property
    def saves(self) -> Decimal:
        """By how much the price falls."""
        return self.whole - self.left

    @property
    def saves_per_ft2(self) -> Decimal:
        """By how much it falls for each square foot laid."""
        return cents(self.saves / self.area_ft2)


def without(terms: PricingTerms, codes: Collection[str]) -> PricingTerms:
    """Return the terms of a price without these tasks, and without what goes with them."""
    materials = (material for code in codes for material in GOES_WITH.get(code, ()))
    return replace(
        terms,
        left_out=tuple(dict.fromkeys((*terms.left_out, *codes))),
        supplied=tuple(dict.fromkeys((*terms.supplied, *materials))),
    )


def unsplit(terms: PricingTerms) -> PricingTerms:
    """Return the terms of a price with all of the work in it."""
    gone = {material for materials in GOES_WITH.values() for material in materials}
    supplied = tuple(material for material in terms.supplied if material not in gone)
    return replace(terms, left_out=(), supplied=supplied, barred=())


def tasks_taken(codes: Iterable[str]) -> tuple[str, ...]:
    """Return the tasks left to the homeowner: those named with what goes along, or all."""
    chosen = tuple(codes)
    return tuple(TASKS) if EVERYTHING in chosen else with_what_goes_along(chosen)


def as_split(terms: PricingTerms, scope: FrozenScope) -> PricingTerms:
    """Return the terms with the work left out that this scope leaves to the homeowner."""
    if set(scope.left) == set(terms.left_out):
        return terms
    return without(unsplit(terms), scope.left)


def work_shares(
    scope: FrozenScope,
    book: PriceBook,
    terms: PricingTerms,
    *,
    questions: Mapping[str, tuple[str, ...]] | None = None,
) -> tuple[Share, ...]:
    """Return what the homeowner could take on and what each takes off alone, all of it last.

    `terms` leave nothing out yet. `questions` are the open ones by task. Days and the road to them
    are those of the work that remains.
    """
    still_open = questions or {}
    whole = price_scope(leaving(scope, ()), book, terms).total
    doable = [code for code in CLIENT_TASKS if _hours(scope, code)]
    labels = {task.code: task.label for task in scope.tasks}
    shares = []
    for code in (*doable, EVERYTHING):
        codes = tasks_taken([code])
        barred = _barred(codes, still_open)
        left = whole if barred else _price_without(scope, book, terms, codes)
        shares.append(
            Share(
                code=code,
                label=labels.get(code, "All the work, the laying too"),
                hours=sum((_hours(scope, each) for each in codes), ZERO),
                saves=whole - left,
                saves_per_ft2=cents((whole - left) / scope.area_ft2),
                questions=barred,
            )
        )
    return tuple(shares)


def split_price(
    scope: FrozenScope, book: PriceBook, terms: PricingTerms, codes: Collection[str]
) -> SplitPrice:
    """Return what the price comes to with and without these tasks; `terms` leave nothing out."""
    return SplitPrice(
        whole=price_scope(leaving(scope, ()), book, terms).total,
        left=_price_without(scope, book, terms, codes),
        area_ft2=scope.area_ft2,
    )


def _price_without(
    scope: FrozenScope, book: PriceBook, terms: PricingTerms, codes: Collection[str]
) -> Decimal:
    return price_scope(leaving(scope, codes), book, without(terms, codes)).total


def _hours(scope: FrozenScope, code: str) -> Decimal:
    return sum((task.hours for task in scope.tasks if task.code == code), ZERO)


def _barred(codes: Iterable[str], questions: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each for code in codes for each in questions.get(code, ())))
