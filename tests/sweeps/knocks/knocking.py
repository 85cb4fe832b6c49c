"""Knocks at the doors of one small company: seeded, as each role, by forms and by nonsense.

Each knock is drawn from its own number, so one that showed a fault can be sent again alone. After a
few knocks the book is as it was, so that none stands in the way of the next.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from random import Random
from urllib.parse import quote_plus

from django.db import transaction
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import User
from tests.access_doors import TABLE
from tests.access_world import World
from tests.sweeps.knocks.book import WatchedBook
from tests.sweeps.knocks.pages import Pairs, SeenForm, forms_of
from tests.sweeps.knocks.tally import Knocks, KnockTally
from tests.sweeps.knocks.values import any_value, spoiled

TOGETHER = 40
"""So many knocks are taken back at once."""
ROLES = ("owner", "estimator", "crew", "other", "stranger", "nobody")
WEIGHTS = (8, 4, 4, 1, 1, 2)
REFUSED, FAULT = 400, 500
METHODS = ("HEAD", "OPTIONS", "PUT", "PATCH", "DELETE", "TRACE")
TYPES = (
    *("application/json", "text/plain", "", "multipart/form-data", "application/xml"),
    "multipart/form-data; boundary=x",
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Knock:
    """One request: by whom, how, where, and what is sent along."""

    role: str
    method: str
    path: str
    body: bytes
    content_type: str
    htmx: bool

    def __str__(self) -> str:
        return f"{self.role} {self.method} {self.path} {self.content_type} {self.body[:300]!r}"


class Street:
    """A world with its doors, its forms and its people, ready to be knocked at."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.addresses = [_address(world, door.name, door.row) for door in TABLE]
        shown = [one for one in self.addresses if one != reverse("sign-out")]
        visitors = [world.browsers[role] for role in ("owner", "crew", "nobody")]
        self.forms = forms_of(visitors, shown)
        self.people = {role: _who(world.browsers[role]) for role in ROLES}
        self.names = sorted({name for form in self.forms for name, _ in form.fields})
        for browser in world.browsers.values():
            browser.raise_request_exception = False

    def sign_in_again(self) -> None:
        """Sign everybody in whose last knock signed them out."""
        for role, person in self.people.items():
            browser = self.world.browsers[role]
            if person is not None and "sessionid" not in browser.cookies:
                browser.force_login(person)


def _address(world: World, name: str, row: str) -> str:
    return reverse(name, args=world.rows[row] if row else [])


def _who(browser: Visitor) -> User | None:
    key = browser.session.get("_auth_user_id")
    return User.objects.get(pk=key) if key else None


def knocked(street: Street, knocks: Knocks) -> KnockTally:
    """Return what came of the knocks that are left; the same for a seed and a world.

    A fault says its number: ``--first`` that number and ``--count 1`` send that one again.
    """
    kept, end = WatchedBook.read(), knocks.first + knocks.count
    while (start := knocks.first + knocks.tally.count) < end:
        cookies = {role: copy(one.cookies) for role, one in street.world.browsers.items()}
        book = WatchedBook(kept.prints)
        with transaction.atomic():
            for number in range(start, min(end, start + TOGETHER)):
                knock_once(street, book, f"{knocks.seed}:{number}", knocks.tally)
            transaction.set_rollback(True)
        for role, jar in cookies.items():
            street.world.browsers[role].cookies = jar
        knocks.keep()
    return knocks.tally


def knock_once(street: Street, book: WatchedBook, number: str, tally: KnockTally) -> None:
    """Send one request; note a fault of the program, and a refusal that wrote something."""
    with book.watched():
        street.sign_in_again()
    book.changed()
    knock = drawn(street, Random(number))
    headers = {"HX-Request": "true"} if knock.htmx else {}
    browser = street.world.browsers[knock.role]
    with book.watched():
        answer = browser.generic(
            knock.method, knock.path, knock.body, knock.content_type, headers=headers
        )
    tally.statuses[answer.status_code] += 1
    if answer.status_code >= FAULT:
        tally.faults.append(f"{number}: {answer.status_code} {knock}")
    changed = book.changed()
    if changed and answer.status_code >= REFUSED:
        where = ", ".join(changed)
        tally.faults.append(f"{number}: {answer.status_code}, but {where} written: {knock}")


def drawn(street: Street, chance: Random) -> Knock:
    """Draw a request: half of them forms almost as they are filled in, the rest worse."""
    role = chance.choices(ROLES, WEIGHTS)[0]
    kind = chance.random()
    if kind < 0.6:
        return _of_form(street, chance, role)
    if kind < 0.75:
        return _of_query(street, chance, role)
    if kind < 0.92:
        return _of_names(street, chance, role)
    return _of_nonsense(street, chance, role)


def _of_form(street: Street, chance: Random, role: str) -> Knock:
    form = chance.choice(street.forms)
    fields = list(_filled_in(form, chance))
    for _ in range(chance.choice((0, 1, 1, 1, 2, 3))):
        if fields:
            place = chance.randrange(len(fields))
            name, value = fields[place]
            fields[place] = (name, spoiled(chance, value))
    if chance.random() < 0.15 and fields:
        fields.pop(chance.randrange(len(fields)))
    if chance.random() < 0.1 and fields:
        fields.append(chance.choice(fields))
    path = form.action if chance.random() < 0.9 else chance.choice(street.addresses)
    if form.method == "get":
        return _knock(role, "GET", f"{path}?{_encoded(fields)}", htmx=chance.random() < 0.3)
    if form.files and chance.random() < 0.7:
        return _multipart(form, fields, chance, role, path)
    return _posted(role, path, fields, htmx=chance.random() < 0.3)


def _filled_in(form: SeenForm, chance: Random) -> Iterator[tuple[str, str]]:
    """Yield each field once, with one of the values that it showed; keys of forms are new."""
    values: dict[str, list[str]] = {}
    for name, value in form.fields:
        values.setdefault(name, []).append(value)
    for name, shown in values.items():
        if name == "key" and chance.random() < 0.8:
            yield name, f"k{chance.random()}"
            continue
        value = chance.choice(shown)
        yield name, value if value or chance.random() < 0.4 else any_value(chance)


def _of_query(street: Street, chance: Random, role: str) -> Knock:
    words = ("page", "q", "week", "from", "job", "client", "part", "do", "next", "person", "since")
    pairs = [(chance.choice(words), any_value(chance)) for _ in range(chance.randint(1, 3))]
    path = f"{chance.choice(street.addresses)}?{_encoded(pairs)}"
    return _knock(role, chance.choice(("GET", "GET", "HEAD")), path, htmx=chance.random() < 0.4)


def _of_names(street: Street, chance: Random, role: str) -> Knock:
    """Fields of any form at any address: what somebody forges who knows the others."""
    names = [chance.choice(street.names) for _ in range(chance.randint(1, 8))]
    pairs = [(name, any_value(chance)) for name in names]
    path = chance.choice(street.addresses)
    return _posted(role, path, pairs, htmx=chance.random() < 0.3)


def _of_nonsense(street: Street, chance: Random, role: str) -> Knock:
    """Other methods, bodies of other kinds, keys of rows that are none."""
    path = chance.choice(street.addresses)
    if chance.random() < 0.4:
        parts = path.split("/")
        place = chance.randrange(len(parts))
        parts[place] = chance.choice(("0", "9" * 18, "9" * 25, "x", "%C2%B2", "-1", "%FF"))
        path = "/".join(parts) or "/"
    content: object = {chance.choice(street.names): any_value(chance)}
    body = json.dumps(content).encode() if chance.random() < 0.5 else chance.randbytes(60)
    method = chance.choice(("POST", "POST", *METHODS))
    return Knock(
        role=role,
        method=method,
        path=path,
        body=body,
        content_type=chance.choice(TYPES),
        htmx=False,
    )


def _multipart(form: SeenForm, fields: Pairs, chance: Random, role: str, path: str) -> Knock:
    contents = (b"", b"%PDF-1.7", b"\xff\xd8\xff\xe0", b"a,b\n1,2\n", chance.randbytes(400))
    lines = []
    for name, value in fields:
        head = f'--sent\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n'
        lines.append(head.encode() + value.encode("utf-8", "surrogatepass") + b"\r\n")
    for name in form.files:
        head = f'--sent\r\nContent-Disposition: form-data; name="{name}"; filename="a.jpg"\r\n'
        lines.append(head.encode() + b"Content-Type: image/jpeg\r\n\r\n")
        lines.append(chance.choice(contents) + b"\r\n")
    return Knock(
        role=role,
        method="POST",
        path=path,
        body=b"".join(lines) + b"--sent--\r\n",
        content_type="multipart/form-data; boundary=sent",
        htmx=False,
    )


def _posted(role: str, path: str, pairs: Pairs, *, htmx: bool) -> Knock:
    return Knock(
        role=role,
        method="POST",
        path=path,
        body=_encoded(pairs).encode("ascii"),
        content_type="application/x-www-form-urlencoded",
        htmx=htmx,
    )


def _knock(role: str, method: str, path: str, *, htmx: bool) -> Knock:
    return Knock(role=role, method=method, path=path, body=b"", content_type="", htmx=htmx)


def _encoded(pairs: Pairs) -> str:
    return "&".join(f"{quote_plus(name)}={_quoted(value)}" for name, value in pairs)


def _quoted(value: str) -> str:
    return quote_plus(value.encode("utf-8", "surrogatepass"))
