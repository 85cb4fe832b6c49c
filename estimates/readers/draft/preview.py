"""The quote that would be issued now: made as an issued one is, from work that isn't frozen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from estimates.domain.book.needs import Need, needs_of
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.quotes.choices import KEYS, as_priced, way_name, way_text
from estimates.domain.quotes.compose import issued_quote
from estimates.domain.quotes.content import IssuedQuote
from estimates.domain.quotes.sold import PricedChoice
from estimates.models import Quote, QuoteDraft
from estimates.readers.draft.sold import sold_of
from estimates.readers.draft.ways import NO_WAYS, OfferedWay, OfferedWays, offered_ways
from estimates.readers.options.way import Otherwise
from estimates.readers.prices import book_and_terms
from estimates.readers.quote import stored_quote
from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json, digest, plain
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.facts import VisitFacts
from jobs.models import FloorPlan, FloorZone, Job
from jobs.services.records import next_number
from jobs.services.scope import WorkBasis, work_basis


@dataclass(frozen=True, kw_only=True, slots=True)
class DraftedChoice:
    """A choice before it is priced: the way, what makes it (None: the job as it is), its words.

    `plans`: floors in another product, each with its plan in that product. `cautions`: what the
    office looks at before it is offered.
    """

    key: str
    way: str
    name: str
    text: str
    otherwise: Otherwise | None = None
    plans: Mapping[FloorZone, FloorPlan] = field(default_factory=dict)
    cautions: tuple[str, ...] = ()

    def priced(
        self, scope: FrozenScope, priced: Priced, *, frozen: tuple[str, str] = ("", "")
    ) -> PricedChoice:
        """Return it priced; `frozen` are the digests of its scope and its estimate."""
        return PricedChoice(
            key=self.key,
            way=self.way,
            name=self.name,
            text=self.text,
            scope=scope,
            priced=priced,
            scope_sha256=frozen[0],
            estimate_sha256=frozen[1],
        )


def drafted_choices(
    draft: QuoteDraft, basis: WorkBasis, ways: OfferedWays = NO_WAYS
) -> tuple[DraftedChoice, ...]:
    """Return the choices of a draft, the job as it is priced first.

    ``ways``: those that the job offers, where they are read already.

    Raises BadValueError where a way is no longer offered by the job.
    """
    wanted = [way for way in (draft.second_way, draft.third_way) if way]
    read = ways.basis is not None or not wanted
    offered = (ways if read else offered_ways(basis)).by_key
    against = as_priced(wanted)
    first = DraftedChoice(
        key=KEYS[0],
        way="",
        name=(draft.first_name or way_name(against) or _against(wanted, offered)) if wanted else "",
        text=(draft.first_text or way_text(against)) if wanted else "",
    )
    texts = {
        draft.second_way: (draft.second_name, draft.second_text),
        draft.third_way: (draft.third_name, draft.third_text),
    }
    others = [
        _drafted(key, way, offered, *texts[way]) for key, way in zip(KEYS[1:], wanted, strict=False)
    ]
    return (first, *others)


def _against(wanted: Sequence[str], offered: Mapping[str, OfferedWay]) -> str:
    """Return what the job as priced is called where only its planks tell it apart."""
    return next((offered[way].against for way in wanted if way in offered), "")


def _drafted(
    key: str, way: str, offered: Mapping[str, OfferedWay], name: str, text: str
) -> DraftedChoice:
    if way not in offered:
        accepted = "a way that this job offers now; choose again on the quote's page"
        raise BadValueError(field="choice", value=way_name(way) or way, accepted=accepted)
    return DraftedChoice(
        key=key,
        way=way,
        name=name or offered[way].name,
        text=text or offered[way].text,
        otherwise=offered[way].otherwise,
        plans=offered[way].plans,
        cautions=offered[way].cautions,
    )


def previewed(draft: QuoteDraft, today: date) -> IssuedQuote:
    """Return the quote exactly as it would be issued today, but for its estimates' digests.

    Raises:
        BadValueError: there is no planned floor, something has no rate or no price, or a way is
            no longer offered.
    """
    return worked_draft(draft, today).quote


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkedDraft:
    """The choices of a draft, each worked out once, with what they are priced with on a day."""

    draft: QuoteDraft
    today: date
    facts: VisitFacts
    scopes: tuple[tuple[DraftedChoice, FrozenScope], ...]
    book: PriceBook
    terms: PricingTerms

    @property
    def needs(self) -> tuple[Need, ...]:
        """What the choices take that has no price, or one too old."""
        return tuple(
            need for _, scope in self.scopes for need in needs_of(scope, self.book, self.terms)
        )

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is to be looked at before the choices are offered, each under its choice."""
        return tuple(
            f"{each.name}: {text}"
            for each, _ in self.scopes
            for text in dict.fromkeys(each.cautions)
        )

    @property
    def quote(self) -> IssuedQuote:
        """The quote that would be issued. Raises BadValueError where something has no price."""
        job = self.draft.job
        choices = [
            drafted.priced(scope, price_scope(scope, self.book, self.terms))
            for drafted, scope in self.scopes
        ]
        number = next_number(job.quotes.all())
        sold = sold_of(self.draft, choices, facts=self.facts, number=number, today=self.today)
        return issued_quote(sold, before=quote_before(job))


def worked_draft(draft: QuoteDraft, today: date, ways: OfferedWays = NO_WAYS) -> WorkedDraft:
    """Return a draft with its choices worked out; ``ways`` as in `drafted_choices`.

    Raises:
        BadValueError: there is no planned floor, something has no rate, or a way is no longer
            offered.
    """
    basis = ways.basis or work_basis(draft.job)
    book, terms = book_and_terms(draft.job, today)
    scopes = tuple(
        (each, basis.worked_out(otherwise=each.otherwise, plans=each.plans))
        for each in drafted_choices(draft, basis, ways)
    )
    return WorkedDraft(
        draft=draft, today=today, facts=basis.facts, scopes=scopes, book=book, terms=terms
    )


def quote_before(job: Job) -> IssuedQuote | None:
    """Return the newest quote of a job that stands; None where there is none that can be read."""
    newest: Quote | None = job.quotes.filter(withdrawn_at__isnull=True).first()
    try:
        return stored_quote(newest) if newest else None
    except BrokenDocumentError:
        return None


def digest_of(quote: IssuedQuote) -> str:
    """Return the fingerprint of what a person reads on a quote.

    It leaves out the digests of what is frozen only when it is issued.
    """
    choices = tuple(
        replace(choice, scope_sha256="", estimate_sha256="") for choice in quote.choices
    )
    return digest(canonical_json(plain(replace(quote, scope_sha256="", choices=choices))))
