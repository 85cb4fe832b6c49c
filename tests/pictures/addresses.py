"""Every address of the URLconf: what fills its arguments, or the reason why it is not pictured."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from django.apps import apps
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils.text import slugify

ARGUMENT = re.compile(r"<[^>]+>")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Rows of the demo that stand in an address.

    ``value``, an attribute, is what stands there; ``title`` the way to the title of the row's job,
    empty where it has none; ``label`` what the row is called in the name of a picture.
    """

    model: str
    value: str = "pk"
    title: str = ""
    label: str = "pk"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixed:
    """A word that stands in an address, the same in every book."""

    word: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """An address filled in: what tells it from others of its name, and the path."""

    label: str
    path: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """A named line of the URLconf with its whole route, as `jobs/<int:pk>/edit`."""

    name: str
    route: str

    @property
    def shapes(self) -> tuple[str, ...]:
        """The route up to each argument, as the table of fills has them: `jobs/<>`."""
        plain = ARGUMENT.sub("<>", self.route)
        return tuple(plain[: gap.end()] for gap in re.finditer("<>", plain))


# What fills an argument, by the route up to it.
FILLS: dict[str, Rows | Fixed] = {
    "jobs/<>": Rows(model="jobs.Job", title="title", label="title"),
    "jobs/<>/holds/<>": Fixed(word="asbestos"),
    "rooms/<>": Rows(model="jobs.Room", title="job__title", label="name"),
    "doorways/<>": Rows(model="jobs.Doorway", title="room__job__title", label="room__name"),
    "stairs/<>": Rows(model="jobs.StairFlight", title="job__title", label="name"),
    "trim-runs/<>": Rows(model="jobs.TrimRun", title="room__job__title", label="room__name"),
    "floors/<>": Rows(model="jobs.FloorZone", title="job__title", label="name"),
    "plans/<>": Rows(model="jobs.FloorPlan", title="zone__job__title", label="zone__name"),
    "products/<>": Rows(model="jobs.Product", label="name"),
    "products/<>/steps/<>": Fixed(word="laying"),
    "clients/<>": Rows(model="jobs.Client", label="name"),
    "supplied/<>": Rows(model="jobs.SuppliedMaterial", title="job__title", label="code"),
    "supplied/counts/<>": Rows(model="jobs.SuppliedReceipt", title="material__job__title"),
    "clients/<>/prices/<>": Fixed(word="casings"),
    "crews/<>": Rows(model="jobs.Crew", label="name"),
    "company/notices/<>": Rows(model="estimates.StateNotice", label="title"),
    "company/people/<>": Rows(model="jobs.User", label="name"),
    "days/<>": Rows(model="jobs.WorkDay", title="job__title", label="job__title"),
    "days/log/<>": Rows(model="jobs.LogEntry", title="day__job__title"),
    "packets/<>": Rows(model="jobs.Packet", title="job__title", label="job__title"),
    "rates/<>": Rows(model="jobs.Rate", label="task"),
    "estimates/<>": Rows(model="estimates.Estimate", title="job__title", label="job__title"),
    "quotes/<>": Rows(model="estimates.Quote", title="job__title", label="job__title"),
    "prices/<>": Rows(model="estimates.PriceItem", label="code"),
    "prices/card/<>": Fixed(word="floor_area"),
    "purchases/<>": Rows(model="estimates.Purchase", title="job__title", label="code"),
    "c/<>": Rows(
        model="estimates.ChangeLink",
        value="token",
        title="offer__job__title",
        label="offer__job__title",
    ),
    "change-drafts/<>": Rows(model="estimates.ChangeDraft", title="job__title", label="job__title"),
    "changes/<>": Rows(model="estimates.ChangeOffer", title="job__title", label="job__title"),
    "extras/<>": Rows(model="jobs.JobExtra", title="job__title", label="job__title"),
    "invoices/<>": Rows(model="estimates.Invoice", title="job__title", label="kind"),
    "p/<>": Rows(
        model="estimates.FloorPassport", value="token", title="job__title", label="job__title"
    ),
    "payments/<>": Rows(model="estimates.InvoicePayment", title="invoice__job__title", label="way"),
    "q/<>": Rows(model="estimates.Quote", value="token", title="job__title", label="job__title"),
}

# The job whose rows come first: it is half down, so most kinds of row are there, and its crew's
# lead sees it too. Some pages have more to show on another job.
BEST_JOB = "Bedroom and hall"
# The demo's sites stop no work; in pictures this one's old floor comes out, whatever it is.
HOLD_JOB = "Kitchen, ell with a column"
BEST_JOB_FOR = {
    "hold-clear": HOLD_JOB,
    "hold-let-go": HOLD_JOB,
    "job-passport": "Sunroom",
    "job-review": "Sunroom",
    "moisture": "Sunroom",
    "purchase-list": "Sunroom",
    "quote": "Living room with a bay",
    "quote-public": "Living room with a bay",
    "room-trim": "Living room with a bay",
}

# Pages pictured for every row of the demo, not only for the first: they look different on each.
EVERY_ROW = frozenset(
    {"day", "job", "job-days", "job-price", "plan", "quote-file", "quote-public", "room-edit"}
    | {"job-review", "product-edit", "zone", "zone-list", "packet-file"}
)

POST_ONLY = "takes a sent form only"
NOT_NOTED = "a note with a photograph as somebody took it; the demo has none"
DATA_FILE = "a file of data, saved and not looked at"
POLLED = "asked for while work runs; leads back to its page otherwise"

# Addresses without a picture, each with its reason.
NOT_PICTURED = {
    "allowance": POST_ONLY,
    "allowance-add": POST_ONLY,
    "allowance-offer": POST_ONLY,
    "backup-make": POST_ONLY,
    "backup-progress": POLLED,
    "session-end": POST_ONLY,
    "client-data-file": POST_ONLY,
    "session-end-others": POST_ONLY,
    "person-sessions-end": POST_ONLY,
    "ballpark-kept": "a range said at the phone; the demo has none",
    "ballpark-start": "starts a job from such a range; the demo has none",
    "admin:": "the server's own back door, for a superuser; its pages are Django's",
    "change-accept": POST_ONLY,
    "change-decline": POST_ONLY,
    "change-drop": "asks before a draft is dropped; the demo's one is agreed on",
    "change-line-add": POST_ONLY,
    "change-mail": POST_ONLY,
    "change-noted": POST_ONLY,
    "change-texted": POST_ONLY,
    "change-line-remove": POST_ONLY,
    "change-public-photo": "a photograph of extra work; the demo has none",
    "change-relink": POST_ONLY,
    "change-send": POST_ONLY,
    "change-withdraw": POST_ONLY,
    "company-logo": "the picture that the set-up page shows, as a file",
    "completion-file": "a completion slip as signed; the demo has none",
    "completion-paper": "the completion slip as a PDF, only where a scope is agreed on",
    "crew-calendar": DATA_FILE,
    "board-keep": POST_ONLY,
    "board-take-up": POST_ONLY,
    "feed": DATA_FILE,
    "feed-crew": POST_ONLY,
    "feed-person": POST_ONLY,
    "feed-revoke": POST_ONLY,
    "extra-drop": "asks before extra work is dropped; the demo's is agreed on",
    "extra-photo": "a photograph of extra work; the demo has none",
    "days-undo": POST_ONLY,
    "pencil-out": POST_ONLY,
    "pencil-price": POST_ONLY,
    "healthz": "an answer for programs",
    "readyz": "an answer for programs",
    "invoice-mail": POST_ONLY,
    "invoices-export": DATA_FILE,
    "job-archive": POST_ONLY,
    "job-close": POST_ONLY,
    "job-reopen": POST_ONLY,
    "log-shot": "a photograph as somebody took it; the demo has none",
    "log-photo": "a photograph as somebody took it; the demo has none",
    "log-seal": "a key for the script of the day pages",
    "log-worker": "a script of the day pages",
    "moisture-remove": POST_ONLY,
    "option-plan": POST_ONLY,
    "option-take": POST_ONLY,
    "packet-print": POST_ONLY,
    "packet-changed": "sheets of packet-file that differ from the one before; the demo has one",
    "packet-progress": POLLED,
    "packet-stop": POST_ONLY,
    "passport-correct": POST_ONLY,
    "passport-leftovers": POST_ONLY,
    "passport-open": POST_ONLY,
    "passport-revoke": POST_ONLY,
    "plan-drawing": "the drawing that the page of the plan shows, as a file",
    "paid-trip": POST_ONLY,
    "plan-file": DATA_FILE,
    "plan-request": DATA_FILE,
    "price-adjust": POST_ONLY,
    "price-answer": POST_ONLY,
    "price-export": DATA_FILE,
    "price-here": POST_ONLY,
    "price-import-progress": POLLED,
    "price-line": POST_ONLY,
    "price-line-add": POST_ONLY,
    "price-preview": "a file of prices as somebody sent it; the demo has none",
    "price-tax": POST_ONLY,
    "product-sheet": "a maker's sheet as somebody uploaded it; the demo has none",
    "mail-again": POST_ONLY,
    "mail-noted": POST_ONLY,
    "quote-accept": POST_ONLY,
    "quote-answer": POST_ONLY,
    "quote-issue-draft": POST_ONLY,
    "quote-link-renew": POST_ONLY,
    "quote-link-until": POST_ONLY,
    "quote-mail": POST_ONLY,
    "quote-noted": POST_ONLY,
    "quote-public-days": DATA_FILE,
    "quote-public-seen": POST_ONLY,
    "quote-texted": POST_ONLY,
    "quote-withdraw": POST_ONLY,
    "rate-here": POST_ONLY,
    "rate-remove": "the demo company works by the book's own rates and has none to remove",
    "rates-undo": POST_ONLY,
    "callback": "a callback to a closed job; the demo has none",
    "purchase-receipt": "a photograph of a receipt; the demo has none",
    "stock-back": POST_ONLY,
    "stock-take": POST_ONLY,
    "job-unarchive": POST_ONLY,
    "removed-restore": POST_ONLY,
    "room-floor": POST_ONLY,
    "room-note": NOT_NOTED,
    "room-note-photo": NOT_NOTED,
    "room-note-remove": NOT_NOTED,
    "sign-out": POST_ONLY,
    "person-link": POST_ONLY,
    "password-set": "a link that works once, as it was handed over; the demo has none",
    "trim-run-derive": POST_ONLY,
    "zone-break": POST_ONLY,
    "zone-compare-stop": POST_ONLY,
    "zone-plan": POST_ONLY,
    "zone-progress": POLLED,
    "zone-spend": "the demo's floors have spent what their last carton leaves; leads back to them",
    "zone-spend-take": POST_ONLY,
    "zone-stop": POST_ONLY,
    "zone-take": POST_ONLY,
}


def addresses() -> list[Address]:
    """Return every named address of the site, a namespace as one address with a colon behind."""
    return list(_addresses_in(get_resolver().url_patterns, ""))


def _addresses_in(patterns: list[URLPattern | URLResolver], before: str) -> Iterator[Address]:
    for pattern in patterns:
        route = before + str(pattern.pattern)
        if isinstance(pattern, URLPattern):
            yield Address(name=str(pattern.name), route=route)
        elif pattern.namespace:
            yield Address(name=f"{pattern.namespace}:", route=route)
        else:
            yield from _addresses_in(pattern.url_patterns, route)


def is_pictured(address: Address) -> bool:
    """Whether the page of an address is pictured: no reason speaks against it, and it is filled."""
    return address.name not in NOT_PICTURED and all(one in FILLS for one in address.shapes)


def examples_of(address: Address) -> list[Example]:
    """Return the address filled in, the best row first; no example where the demo has no row.

    Only an address with one argument has more than one.
    """
    best = BEST_JOB_FOR.get(address.name, BEST_JOB)
    choices = [_choices(FILLS[shape], best) for shape in address.shapes]
    if not all(choices):
        return []
    if len(choices) != 1:
        path = reverse(address.name, args=[choice[0][1] for choice in choices])
        return [Example(label="", path=path)]
    return [
        Example(label=label, path=reverse(address.name, args=[value]))
        for label, value in choices[0]
    ]


def _choices(fill: Rows | Fixed, best: str) -> list[tuple[str, object]]:
    """Return label and value of every row that may stand in an address, the best job's first."""
    if isinstance(fill, Fixed):
        return [("", fill.word)]
    rows = apps.get_model(fill.model)._default_manager.order_by("pk")
    named = rows.values_list("pk", fill.title or fill.label, fill.label)
    at = {row.pk: getattr(row, fill.value) for row in rows}
    choices = [(title, label, at[pk]) for pk, title, label in named]
    choices.sort(key=lambda row: row[0] != best)
    return [(slugify(str(label))[:40], value) for _, label, value in choices]
