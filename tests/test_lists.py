"""Every page that lists rows asks the database as often with 30 rows as with 3.

A page stands in one of two tables: `LISTS`, once for every kind of row it may have many of, or
`ONE_THING`, with what it shows instead.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

import pytest
from django.test import Client
from django.urls import get_resolver, reverse

from estimates.readers.guide.pictures import STEPS
from tests import growing
from tests.growing import Grow, OwnersBook
from tests.grown import archive, invoices, logs, offers, orders, reviews, trust
from tests.queries import assert_same_queries
from tests.test_access_table import names_in

pytestmark = pytest.mark.django_db


@dataclass(frozen=True, kw_only=True, slots=True)
class Listing:
    """A page by its URL name, what of the book stands in its address, and the rows it lists."""

    name: str
    of: str
    grow: Grow

    def url(self, book: OwnersBook) -> str:
        """Return the address of the page."""
        url = reverse(self.name, args=[getattr(book, self.of).pk] if self.of else [])
        return url + QUERIES.get(self.name, "")


def rows_of(table: str) -> Iterator[Listing]:
    """Yield the listings of a table written as lines of `name of rows ...`; `-` for no address."""
    for line in table.strip().splitlines():
        name, of, *kinds = line.split()
        for kind in kinds:
            yield Listing(name=name, of="" if of == "-" else of, grow=_grow(kind))


def _grow(kind: str) -> Grow:
    """Return what makes one more row of a kind."""
    homes = (growing, offers, orders, archive, invoices, logs, reviews, trust)
    grow: Grow = next(getattr(home, kind) for home in homes if hasattr(home, kind))
    return grow


# What stands behind the address of a page that lists nothing without it.
QUERIES = {"search": "?q=larch"}

LISTS = tuple(
    rows_of("""
    job-list        -          jobs questions mails overdue_invoices declined_changes
    company         -          people audit_lines
    audit-list      -          people audit_lines
    session-list    -          open_sessions
    person-sessions owner      open_sessions
    company-setup   -          notices
    crew-list       -          crews
    crew-add        -          people
    crew-edit       crew       people
    crew-leaving    crew       people days_of_the_crew
    client-list     -          clients
    job-add         -          clients
    job-edit        job        clients
    job             job        rooms floors stairs clearances readings counts
    job-payer       job        clients
    job-supplied    job        floors counts
    site-edit       job        rooms
    moisture        job        readings rooms floors
    room-depths     room       depths
    product-list    -          products
    room-list       job        rooms floors stairs
    room-edit       room       doorways notes
    room-notes      room       notes
    search          -          jobs_that_match clients_that_match
    removed-list    -          removals
    job-copy        job        clients
    doorway-add     room       rooms
    doorway-edit    doorway    rooms
    zone-list       job        floors rooms
    zone-add        job        rooms products
    zone-edit       floor      rooms products
    zone            floor      joined_rooms plans
    zone-place      floor      joined_rooms
    zone-compare    floor      joined_rooms products
    plan            plan       joined_rooms
    stair-add       job        floors products
    stair-edit      stair      floors products
    job-trim        job        rooms
    job-nights      job        rooms floors days
    job-pencil      job        rooms floors crews
    room-trim       room       runs doorways
    day-list        -          crews
    board           -          crews held_jobs
    feed-list       -          crews
    day             day        entries people floors logs
    log-add         day        people logs
    crew-calendar   crew       days_of_the_crew
    job-days        job        days crews floors
    job-log         job        days extras logs
    packet-list     job        packets notes
    rate-list       -          rates
    ballpark        -          ballparks ballpark_planks
    price-list      -          prices products
    price-row       price      later_prices
    price-method    job        floors
    job-price       job        floors estimates price_lines allowances counts
    job-allowances  job        allowances floors depths
    job-options     job        floors
    job-work-split  job        floors
    job-quotes      accepted   quotes
    quote-draft     job        floors notes
    quote-preview   job        floors
    quote           quote      questions mails
    job-changes     accepted   change_orders change_drafts
    job-invoices    accepted   invoices payments
    invoice         bill       payments
    invoice-list    -          invoices payments
    completion-slip accepted   slips
    purchase-list   accepted   purchases
    job-passport    accepted   purchases
    rates-learned   -          takings
    reviews         -          closed_reviews
    stock-list      -          leftovers
    log-corrections job        entries
    job-review      accepted   purchases logged_days closed_jobs change_orders
    """)
)

_ACT = "carries something out and leads on"
_ASK = "asks before something is removed"
_FILE = "hands out one file"
_FORM = "is the form of one thing"
_FROZEN = "shows one frozen document"
ONE_THING = {
    **dict.fromkeys(("sign-in", "own-password", "password-lost", "password-set"), _FORM),
    "sign-out": _ACT,
    "person-link": _ACT,
    "help": "shows words",
    **dict.fromkeys((f"help-{step}" for step in STEPS), "shows pictures of invented data"),
    "treatments": "shows a table of the code",
    **dict.fromkeys(("keeping", "client-erase", "client-add", "client-edit"), _FORM),
    "client-data-file": _FILE,
    "client-data": "shows numbers of one client",
    **dict.fromkeys(("session-end", "session-end-others", "person-sessions-end"), _ACT),
    "backup-list": "lists files of a folder, not rows",
    "backup-make": _ACT,
    "backup-progress": "shows one piece of work under way",
    "healthz": "says that the site answers",
    "readyz": "says whether people can be let in",
    "company-logo": _FILE,
    "state-notice": _FORM,
    "notice-remove": _ASK,
    "person-add": _FORM,
    "person-edit": _FORM,
    "moisture-remove": _ACT,
    "hold-clear": _FORM,
    "product-add": _FORM,
    "product-edit": _FORM,
    "product-step": _FORM,
    "product-sheet": _FILE,
    "room-add": _FORM,
    "room-remove": _ASK,
    "room-before": _FORM,
    "room-copy": _FORM,
    "zone-copy": _FORM,
    "room-note": _FORM,
    "room-note-photo": _FILE,
    "room-note-remove": _ASK,
    "job-archive": _ACT,
    "job-unarchive": _ACT,
    "job-remove": _ASK,
    "client-remove": _ASK,
    "product-remove": _ASK,
    "removed-restore": _ACT,
    "room-floor": _ACT,
    "doorway-remove": _ASK,
    "stair-remove": _ASK,
    "trim-run-add": _FORM,
    "trim-run": _FORM,
    "trim-run-derive": _ACT,
    "zone-remove": _ASK,
    "zone-rules": _FORM,
    "zone-break": _ACT,
    "zone-going-on": _FORM,
    "zone-piles": _FORM,
    "zone-plan": _ACT,
    "zone-progress": "shows how far one errand is",
    "zone-stop": _ACT,
    "zone-compare-stop": _ACT,
    "zone-take": _ACT,
    "zone-spend": "shows two plans of one floor",
    "zone-spend-take": _ACT,
    "plan-cuts": _FROZEN,
    "plan-drawing": _FROZEN,
    "plan-file": _FILE,
    "plan-request": _FILE,
    "log-seal": _FILE,
    "log-worker": _FILE,
    "log-photo": _FILE,
    "log-shot": _FILE,
    "log-hours": "asks about the hours of one person's day, all of them read at once",
    "hold-let-go": _FORM,
    "log-remove": _ASK,
    "packet-print": _ACT,
    "packet-progress": "shows how far one errand is",
    "packet-file": _FILE,
    "packet-changed": _FILE,
    "packet-stop": _ACT,
    "rate-set": _FORM,
    "rate-remove": _ACT,
    "rates-undo": _ACT,
    "callback-add": _FORM,
    "callback": _FORM,
    "log-correct": _FORM,
    "purchase-receipt": _FILE,
    "stock-take": _ACT,
    "stock-back": _ACT,
    "price-set": _FORM,
    "price-import": _FORM,
    "price-preview": "shows the first rows of one file",
    "price-import-progress": "shows how far one errand is",
    "price-export": _FILE,
    "price-answer": "takes answers; what it shows again is what was sent",
    "price-terms": _FORM,
    "rate-card": "shows the rows of the card, as many in every company",
    "card-rate": "shows one row of the card with every rate it had, read at once",
    "payer-prices": "shows the rows of a payer's prices, as many for every payer",
    "payer-price": "shows one row of a payer's prices with every price it had, read at once",
    "supplied-count": _FORM,
    "receipt-remove": _ASK,
    "paid-trip": _ACT,
    "today": "shows one's own days of one date",
    "day-lost": "asks first, with what follows for one job's days, all of them read at once",
    "day-move": "asks first, with what follows for one job's days, all of them read at once",
    "day-split": "asks first, with what follows for one job's days, all of them read at once",
    "day-hold": "asks first, with what follows for one job's days, all of them read at once",
    "days-undo": _ACT,
    "pencil-price": _ACT,
    "pencil-out": _ACT,
    "extra-ask": _FORM,
    "extra-photo": _FILE,
    "extra-drop": _ASK,
    "change-add": _FORM,
    "change-draft": "shows one draft with its lines and what was sent of it, each read at once",
    "change-line-add": _ACT,
    "change-line-remove": _ACT,
    "change-send": _ACT,
    "change-drop": _ASK,
    "change-offer": _FROZEN,
    "change-mail": _ACT,
    "change-noted": _ACT,
    "change-texted": _ACT,
    "change-accept": _ACT,
    "change-withdraw": _ACT,
    "change-relink": _ACT,
    "change-file": _FILE,
    "change-public": _FROZEN,
    "change-decline": _ACT,
    "board-keep": _ACT,
    "board-take-up": _ACT,
    "feed": _FILE,
    "feed-person": _ACT,
    "feed-crew": _ACT,
    "feed-revoke": _ACT,
    "change-public-file": _FILE,
    "change-public-photo": _FILE,
    "option-take": "takes one form; refused, it shows the options again",
    "option-plan": "takes one form; refused, it shows the options again",
    "price-adjust": "takes one form; refused, it shows the price page again",
    "price-tax": "takes one form; refused, it shows the price page again",
    "price-here": "takes one form; refused, it shows the price page again",
    "rate-here": "takes one form; refused, it shows the price page again",
    "price-line-add": "takes one form; refused, it shows the price page again",
    "ballpark-kept": "shows one ballpark as it was said",
    "ballpark-start": _FORM,
    "allowance-add": "takes one form; refused, it shows the allowances again",
    "allowance-offer": "takes one form; refused, it shows the allowances again",
    "allowance": "takes one form; refused, it shows the allowances again",
    "price-line": "takes one form; refused, it shows the price page again",
    "estimate": _FROZEN,
    "quote-accept": _ACT,
    "quote-withdraw": _ACT,
    "quote-mail": _ACT,
    "quote-texted": _ACT,
    "quote-link-renew": _ACT,
    "quote-link-until": _ACT,
    "quote-answer": _ACT,
    "quote-noted": _ACT,
    "mail-again": _ACT,
    "mail-noted": _ACT,
    "quote-preview-file": _FILE,
    "quote-issue-draft": _ACT,
    "passport-correct": _ACT,
    "passport-open": _ACT,
    "passport-revoke": _ACT,
    "passport-leftovers": _ACT,
    "passport-public": "shows the floors of one job, each with its plan",
    "quote-file": _FILE,
    "quote-public": _FROZEN,
    "quote-public-file": _FILE,
    "quote-public-seen": _ACT,
    "quote-public-days": _FILE,
    "quote-public-home": "shows the days of one job, all of them read at once",
    "invoice-file": _FILE,
    "invoice-mail": _ACT,
    "invoice-void": _FORM,
    "invoices-export": _FILE,
    "payment-add": _FORM,
    "payment-back": _FORM,
    "completion-paper": _FILE,
    "completion-file": _FILE,
    "purchase-add": _FORM,
    "purchase-edit": _FORM,
    "purchase-remove": _ASK,
    "job-close": _ACT,
    "job-reopen": _ACT,
}
"""What every other page is about, by URL name: one row, so that no list of it can grow."""


def test_every_page_is_known_to_list_rows_or_not() -> None:
    known = {listing.name for listing in LISTS} | set(ONE_THING)
    assert sorted(known) == sorted(names_in(get_resolver().url_patterns))


def test_no_page_is_said_to_list_rows_and_not() -> None:
    assert not {listing.name for listing in LISTS} & set(ONE_THING)


@pytest.mark.parametrize("listing", LISTS, ids=lambda one: f"{one.name}-{one.grow.__name__}")
def test_a_list_asks_as_often_however_many_rows(listing: Listing, client: Client) -> None:
    book, numbers = OwnersBook(), count(1)
    client.force_login(book.owner)

    def make_rows(rows: int) -> None:
        for _ in range(rows):
            listing.grow(book, next(numbers))

    assert_same_queries(client, listing.url(book), make_rows)
