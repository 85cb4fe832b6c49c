"""What paper and phone show of an issued quote beside its own fields: words and pictures."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.quotes.content import IssuedQuote, QuoteAllowance, QuoteChoice
from estimates.domain.terms.evidence import per_one
from jobs.domain.checks import ZERO
from jobs.domain.figures import counted, money
from jobs.models import Company, StoredFile
from jobs.services.files import read_file

PICTURES = ("image/png", "image/jpeg")
"""The kinds of a file that a quote shows."""

FEW = 3
"""So many rooms or lines stand beside the drawing."""
LINE, MOST_LINES = 45, 30
"""About so many letters make a line of half a sheet, and so many lines stand beside others."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ShownPhoto:
    """A photograph inside the document, with what it shows."""

    picture: str
    caption: str


@dataclass(frozen=True, kw_only=True, slots=True)
class ShownAllowance:
    """Work that nobody could count: what it is, why, and its price in one sentence."""

    name: str
    text: str
    price: str


@dataclass(frozen=True, kw_only=True, slots=True)
class QuotePage:
    """An issued quote as paper and phone show it."""

    quote: IssuedQuote
    system: str
    logo: str
    photos: tuple[ShownPhoto, ...]

    @property
    def title(self) -> str:
        """What heads the quote."""
        return f"Quote {self.quote.called}: {self.quote.title}"

    @property
    def number(self) -> str:
        """The number of the quote, as the company numbered when it was issued."""
        return self.quote.called

    @property
    def ask_at(self) -> str:
        """Where a question goes: phone or mail, else the company by name."""
        head = self.quote.letterhead
        return " or ".join(way for way in (head.phone, head.email) if way) or head.name

    @property
    def site_apart(self) -> str:
        """Where the floor is, where that is not the client's own address."""
        site = ", ".join(line.strip() for line in self.quote.site.splitlines() if line.strip())
        return "" if site in ", ".join(self.quote.client_lines) else site

    @property
    def has_many_lines(self) -> bool:
        """Whether what stands beside the drawing would be longer than the drawing by far."""
        quote = self.quote
        return len(quote.rooms) + len(quote.units) > FEW or bool(quote.older) or not quote.drawing

    @property
    def is_short(self) -> bool:
        """Whether one sheet is to hold all but the terms: few rooms, nothing to choose."""
        return not self.quote.has_choices and not self.has_many_lines

    @property
    def has_long_lists(self) -> bool:
        """Whether the lists are too long to stand beside each other on one sheet."""
        lines = (*self.quote.inclusions, *self.quote.exclusions)
        return sum(1 + len(line) // LINE for line in lines) > MOST_LINES

    @property
    def first_name(self) -> str:
        """The first choice inside a sentence."""
        name = self.quote.choices[0].name
        return name[:1].lower() + name[1:]

    @property
    def other_choices(self) -> tuple[QuoteChoice, ...]:
        """The choices whose figures do not stand in the quote's own."""
        return self.quote.choices[1:]

    @property
    def beyond_total(self) -> Decimal:
        """How much more than the total may be owed."""
        return self.quote.most - self.quote.total

    @property
    def capped(self) -> str:
        """What is capped, in a few words."""
        return ", ".join(allowance.name for allowance in self.quote.allowances)

    @property
    def allowances(self) -> tuple[ShownAllowance, ...]:
        """What nobody could count, each with its price in a sentence."""
        return tuple(_shown(work, self.quote.currency) for work in self.quote.allowances)

    @property
    def tax_on_units(self) -> Decimal:
        """What is added to the lines by the unit to make the total."""
        return self.quote.total - sum((line.amount for line in self.quote.units), ZERO)


def quote_page(quote: IssuedQuote, company: Company) -> QuotePage:
    """Return an issued quote with its pictures, read from the company's files."""
    digests = [quote.letterhead.logo_sha256, *(photo.sha256 for photo in quote.photos)]
    pictures = _pictures(company, {digest for digest in digests if digest})
    return QuotePage(
        quote=quote,
        system=company.units,
        logo=pictures.get(quote.letterhead.logo_sha256, ""),
        photos=tuple(
            ShownPhoto(picture=pictures[photo.sha256], caption=photo.caption)
            for photo in quote.photos
            if photo.sha256 in pictures
        ),
    )


def _pictures(company: Company, digests: Iterable[str]) -> dict[str, str]:
    """Return pictures of a company as they stand inside a document, by digest."""
    files = StoredFile.objects.filter(
        company=company, sha256__in=digests, content_type__in=PICTURES
    )
    return {
        file.sha256: f"data:{file.content_type};base64,{b64encode(read_file(file)).decode()}"
        for file in files
    }


def _shown(work: QuoteAllowance, currency: str) -> ShownAllowance:
    """Return an allowance with its unit price, count and cap in one sentence."""
    each = f"{money(work.each, currency)} {per_one(work.unit)}"
    count = counted(work.units, work.unit)
    price = f"{each}, {count} at most, so never more than {money(work.most, currency)}."
    return ShownAllowance(name=work.name, text=work.text, price=price)
