"""Every address of the site, filled with the keys of the rows that a book holds."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import product
from typing import Any

from django.apps import apps
from django.urls import URLPattern, URLResolver, get_resolver

# What the first argument of an address names, by the words before it: a model and an attribute.
ROWS: Mapping[str, str] = {
    "allowances/": "estimates.JobAllowance.pk",
    "ballparks/": "estimates.Ballpark.pk",
    "board/kept/": "jobs.KeptConflict.pk",
    "callbacks/": "jobs.Callback.pk",
    "c/": "estimates.ChangeLink.token_hash",
    "change-drafts/": "estimates.ChangeDraft.pk",
    "change-lines/": "estimates.ChangeLine.pk",
    "calendar-links/": "jobs.CalendarFeed.pk",
    "changes/": "estimates.ChangeOffer.pk",
    "clients/": "jobs.Client.pk",
    "company/logos/": "jobs.StoredFile.pk",
    "company/notices/": "estimates.StateNotice.pk",
    "company/people/": "jobs.User.pk",
    "completion-slips/": "estimates.CompletionSlip.pk",
    "crews/": "jobs.Crew.pk",
    "days/": "jobs.WorkDay.pk",
    "days/changes/": "jobs.DaysChange.pk",
    "days/log/": "jobs.LogEntry.pk",
    "days/log/shots/": "jobs.LogPhoto.pk",
    "doorways/": "jobs.Doorway.pk",
    "estimates/": "estimates.Estimate.pk",
    "extras/": "jobs.JobExtra.pk",
    "f/": "jobs.CalendarFeed.token",
    "floors/": "jobs.FloorZone.pk",
    "invoices/": "estimates.Invoice.pk",
    "jobs/": "jobs.Job.pk",
    "mails/": "jobs.Mail.pk",
    "p/": "estimates.FloorPassport.token",
    "packets/": "jobs.Packet.pk",
    "passports/": "estimates.FloorPassport.pk",
    "payments/": "estimates.InvoicePayment.pk",
    "plans/": "jobs.FloorPlan.pk",
    "price-lines/": "estimates.JobLine.pk",
    "prices/": "estimates.PriceItem.pk",
    "prices/import/": "jobs.StoredFile.pk",
    "products/": "jobs.Product.pk",
    "purchases/": "estimates.Purchase.pk",
    "q/": "estimates.Quote.token",
    "quote-events/": "estimates.QuoteEvent.pk",
    "quotes/": "estimates.Quote.pk",
    "rates/": "jobs.Rate.pk",
    "rates/taken/": "jobs.RateTaking.pk",
    "removed/": "jobs.Removal.pk",
    "room-notes/": "jobs.RoomNote.pk",
    "rooms/": "jobs.Room.pk",
    "sessions/": "jobs.OpenSession.pk",
    "stairs/": "jobs.StairFlight.pk",
    "supplied/": "jobs.SuppliedMaterial.pk",
    "supplied/counts/": "jobs.SuppliedReceipt.pk",
    "trim-runs/": "jobs.TrimRun.pk",
}
# What stands at a first argument that names no row.
WORDS: Mapping[str, list[Any]] = {
    "prices/card/": ["floor_area", "half_day"],
}
# What stands at a further argument, by its name.
FURTHER: Mapping[str, list[Any]] = {
    "code": ["asbestos"],
    "kind": ["bags", "base"],
    "place": [0],
    "stock": [1],
    "step": ["joining", "laying", "place", "rest", "mix", "sheet"],
}
# The same of one address, where its argument means something else there.
FURTHER_OF: Mapping[str, list[Any]] = {"payer-price": ["floor_area", "half_day"]}
# Addresses that only some rows have: which.
ONLY: Mapping[str, Mapping[str, Any]] = {
    "company-logo": {"name": "logo.png"},
    "hold-clear": {"clearances__code": "asbestos"},
    "hold-let-go": {"pk__lt": 0},  # of an open hold; those of the books are cleared
    "completion-paper": {"agreed_scope__isnull": False},
    "log-photo": {"photo__isnull": False},
    "purchase-receipt": {"receipt__isnull": False},
    "quote-preview-file": {"estimates__number": 1},
    "price-import-progress": {"content_type": "text/csv"},
    "price-preview": {"content_type": "text/csv"},
    "price-row": {"kind": "material"},
    "quote-public-days": {"acceptance__isnull": False, "job__days__number": 1},
    "quote-public-home": {"acceptance__isnull": False, "job__days__number": 1},
    "room-note-photo": {"photo__isnull": False},
    "product-sheet": {"sheet__isnull": False},
}
HANDED_OVER = {"password-set"}
"""Addresses that stand in no row: a link as it was handed over, once."""
MOST_ROWS, MOST_FILES = 4, 7
"""Rows of one table that an address is filled with: spread over all, so that tests stay short."""
_SERVES_A_FILE = re.compile(r"(file|photo|receipt|sheet)$")


def addresses(most: int = MOST_FILES) -> Iterator[tuple[str, str]]:
    """Yield name and path of every address, once for each row it is about, of at most so many.

    The admin, which is the server's own back door, is left out.

    Raises:
        LookupError: an address takes an argument that this module knows nothing of.
    """
    for name, route in routes(get_resolver().url_patterns):
        if name in HANDED_OVER:
            continue
        columns = [_values(name, route, place)[:most] for place in range(route.count("<"))]
        path = "/" + re.sub(r"<[^>]+>", "{}", route)
        for values in product(*columns):
            yield name, path.format(*values)


def routes(patterns: list[URLPattern | URLResolver], before: str = "") -> Iterator[tuple[str, str]]:
    """Yield name and route of every address under these patterns."""
    for pattern in patterns:
        route = before + str(pattern.pattern)
        if isinstance(pattern, URLPattern):
            yield str(pattern.name), route
        elif pattern.namespace != "admin":
            yield from routes(pattern.url_patterns, route)


def _values(name: str, route: str, place: int) -> list[Any]:
    """Return what can stand at the argument in this place of a route."""
    words, first = re.findall(r"(\w+)>", route), route.partition("<")[0]
    if place == 0 and first in WORDS:
        return WORDS[first]
    known, key = (ROWS, first) if place == 0 else (FURTHER, words[place])
    if key not in known:
        message = f"{name} is at {route}; say in tests/books/addresses.py what {key} is of"
        raise LookupError(message)
    if place:
        return FURTHER_OF.get(name, FURTHER[key])
    app, model, field = ROWS[key].split(".")
    rows = apps.get_model(app, model)._default_manager.filter(**ONLY.get(name, {}))
    values = [getattr(row, field) for row in rows.order_by("pk")]
    most = MOST_FILES if _SERVES_A_FILE.search(name) else MOST_ROWS
    return values[:: len(values) // most + 1]
