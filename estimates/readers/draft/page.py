"""What stands beside the draft of a quote: what it lacks, what is advised, what it would say."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from estimates.domain.law.cancel import starts_before
from estimates.domain.law.deposit import deposit_for
from estimates.domain.law.lead import lead_advice
from estimates.domain.quotes.content import IssuedQuote
from estimates.domain.setup.missing import Missing
from estimates.models import QuoteDraft
from estimates.readers.draft.needs import missing_prices
from estimates.readers.draft.preview import digest_of, worked_draft
from estimates.readers.draft.ways import NO_WAYS, OfferedWays
from estimates.readers.price_needs import NeededPrice
from estimates.readers.prices import terms_row
from estimates.readers.setup.sales import advised_for_sending, missing_for_sending, sales_terms
from jobs.domain.checks import BadValueError, as_sentence


@dataclass(frozen=True, kw_only=True, slots=True)
class Said:
    """What a draft would say as a quote today, or why it can't be one yet.

    ``needs``: what has no price, where that is the reason.
    """

    quote: IssuedQuote | None
    refused: str
    needs: tuple[NeededPrice, ...]
    missing: tuple[Missing, ...]
    advised: tuple[Missing, ...]
    advice: tuple[str, ...]

    @property
    def seen(self) -> str:
        """The fingerprint of what is shown; empty where nothing is."""
        return digest_of(self.quote) if self.quote else ""

    @property
    def can_be_issued(self) -> bool:
        """Whether it may go out as it stands."""
        return self.quote is not None and not self.missing


def said_of(draft: QuoteDraft, today: date, ways: OfferedWays = NO_WAYS) -> Said:
    """Return what a draft, saved or not, would say as a quote today.

    ``ways``: those that its job offers, where they are read already.
    """
    worked, quote, refused = None, None, ""
    try:
        worked = worked_draft(draft, today, ways)
        quote = worked.quote
    except BadValueError as bad:
        refused = as_sentence(bad)
    company = draft.job.company
    return Said(
        quote=quote,
        refused=refused,
        needs=missing_prices(worked) if worked and refused else (),
        missing=missing_for_sending(company),
        advised=advised_for_sending(company),
        advice=(*_advice(draft, quote), *worked.cautions) if worked and quote else (),
    )


def _advice(draft: QuoteDraft, quote: IssuedQuote) -> tuple[str, ...]:
    """Return what the law asks to be looked at before this quote goes out."""
    said = [_deposit_advice(draft, quote), lead_advice(quote.lead)]
    if quote.cancel and draft.start_week:
        monday = draft.start_week - timedelta(days=draft.start_week.weekday())
        said.append(starts_before(quote.cancel.cancel_by, monday))
    return tuple(words for words in said if words)


def _deposit_advice(draft: QuoteDraft, quote: IssuedQuote) -> str:
    if quote.order_number or not quote.deposit:
        return ""
    company = draft.job.company
    sales = sales_terms(company)
    return deposit_for(
        total=quote.total,
        percent_of_total=terms_row(company).deposit_percent,
        cap=sales.deposit_dollars,
        state=sales.state,
        currency=quote.currency,
    ).advice
