"""What paper and phone show of an issued quote beside its own fields: words and pictures."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.quotes.content import IssuedQuote, QuoteAllowance, QuoteChoice
from estimates.domain.quotes.plain_words import as_sentences
from estimates.domain.terms.evidence import per_one
from estimates.readers.quote_columns import Columns, columns_of, lines_of
from jobs.domain.checks import ZERO
from jobs.domain.figures import counted, money
from jobs.models import Company, StoredFile
from jobs.services.files import read_file

PICTURES = ("image/png", "image/jpeg")
"""The kinds of a file that a quote shows."""

FEW = 3
"""So many rooms or lines stand beside the drawing."""
LINE, LINE_OF_THIRD = 45, 34
"""About so many letters make a line of half a sheet, and of a third."""
DENSE_LINES, PLAIN_LINES, MORE_ON_A4 = 35, 50, 7
"""With more lines than these a smaller size is taken at once, so that it isn't set twice."""
MOST_LINES = 30
"""So many lines stand beside others."""
PARTS = ("included", "excluded", "allowances", "cautions", "changes", "warranty", "not_sure")
"""What stands in columns, in its order; each is a template."""


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
    paper: str
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
        """Whether one sheet is to hold all but the terms: few rooms, one drawing, one way."""
        drawings = self.quote.drawing.count("<svg")
        return not self.quote.has_choices and not self.has_many_lines and drawings == 1

    @property
    def layouts(self) -> tuple[tuple[str, int | None], ...]:
        """The ways to print it, the wanted one first, each with the sheets it may take."""
        if self.is_short:
            tight = (("dense tight", 1), ("", None))
            return tight if self.lines > DENSE_LINES + self.more_lines else (("dense", 1), *tight)
        if not self.has_many_lines:
            smaller = (("smaller", None),)
            return smaller if self.lines > PLAIN_LINES + self.more_lines else (("", 2), *smaller)
        return (("", None),)

    @property
    def more_lines(self) -> int:
        """How many lines more its paper holds than Letter."""
        return MORE_ON_A4 if self.paper == "a4" else 0

    @property
    def lines(self) -> int:
        """About how many lines it takes before the terms, those side by side counted once."""
        return lines_of(self.quote, PARTS, count=3, letters=LINE_OF_THIRD)

    @property
    def thirds(self) -> Columns:
        """What stands in three columns under the total of a quote on one sheet."""
        return columns_of(self.quote, PARTS, count=3, letters=LINE_OF_THIRD)

    @property
    def halves(self) -> Columns:
        """What stands in two columns under the total of a longer quote."""
        return columns_of(self.quote, PARTS[:4], count=2, letters=LINE)

    @property
    def clear(self) -> str:
        """What is cleared before the first day, in sentences."""
        return as_sentences(self.quote.clear)

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
        paper=company.paper,
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
