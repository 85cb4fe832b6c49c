"""Every form that the pages show, read from the pages themselves."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

from django.test import Client as Visitor

Pairs = list[tuple[str, str]]


@dataclass(frozen=True, kw_only=True, slots=True)
class SeenForm:
    """A form as a page showed it: where it sends to, how, and what stood in it."""

    action: str
    method: str
    fields: tuple[tuple[str, str], ...]
    files: tuple[str, ...] = ()


@dataclass(kw_only=True)
class _Open:
    action: str
    method: str
    fields: Pairs = field(default_factory=list)
    files: list[str] = field(default_factory=list)


class _FormReader(HTMLParser):
    """Reads the forms of one page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.page = page
        self.forms: list[SeenForm] = []
        self._form: _Open | None = None
        self._select = ""
        self._area: list[str] | None = None
        self._area_name = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Open a form, or take a field of the open one."""
        said = {name: value or "" for name, value in attrs}
        if tag == "form":
            action = urljoin(self.page, said.get("action", ""))
            self._form = _Open(action=action, method=said.get("method", "get").lower())
        if self._form is None:
            return
        name = said.get("name", "")
        if tag == "select":
            self._select = name
        elif tag == "option" and self._select:
            self._form.fields.append((self._select, said.get("value", "")))
        elif tag == "textarea":
            self._area, self._area_name = [], name
        elif tag == "input" and said.get("type") == "file":
            self._form.files.append(name)
        elif tag in ("input", "button") and name and name != "csrfmiddlewaretoken":
            self._form.fields.append((name, said.get("value", "")))

    def handle_data(self, data: str) -> None:
        """Take what stands in a text area."""
        if self._area is not None:
            self._area.append(data)

    def handle_endtag(self, tag: str) -> None:
        """Close a field or the form."""
        if tag == "select":
            self._select = ""
        if self._form is None:
            return
        if tag == "textarea" and self._area is not None:
            self._form.fields.append((self._area_name, "".join(self._area).strip()))
            self._area = None
        if tag == "form":
            done = self._form
            self.forms.append(
                SeenForm(
                    action=urlsplit(done.action).path,
                    method=done.method,
                    fields=tuple(done.fields),
                    files=tuple(done.files),
                )
            )
            self._form = None


def forms_on(page: str, html: str) -> list[SeenForm]:
    """Return the forms of a page."""
    reader = _FormReader(page)
    reader.feed(html)
    return reader.forms


def forms_of(visitors: Iterable[Visitor], addresses: Iterable[str]) -> list[SeenForm]:
    """Return every form that these people see at these addresses, each action and fields once."""
    seen: dict[tuple[object, ...], SeenForm] = {}
    pages = list(addresses)
    for visitor in visitors:
        for address in pages:
            answer = visitor.get(address)
            if answer.status_code != 200 or "html" not in answer.get("Content-Type", ""):
                continue
            for form in forms_on(address, answer.content.decode()):
                names = tuple(sorted({name for name, _ in form.fields}))
                seen.setdefault((form.action, form.method, names), form)
    return list(seen.values())
