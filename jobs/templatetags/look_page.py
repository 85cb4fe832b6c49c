"""What stands around a page: navigation, the path of a job, the pager, files, long texts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django import template
from django.conf import settings
from django.http import HttpRequest
from django.template import Context
from django.templatetags.static import static
from django.urls import NoReverseMatch, reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from jobs.templatetags.part_context import PartContext, Shown

register = template.Library()


@register.simple_tag
def help_link(steps: Iterable[Shown]) -> SafeString:
    """The way to the pictures of the step that a page stands at; nothing where it has none."""
    for step in steps:
        if step.state == "here":
            try:
                url = reverse(f"help-{step.name.lower()}")
            except NoReverseMatch:
                break
            return format_html(
                '<p class="no-print"><a class="help-link" href="{}">{} in pictures</a></p>',
                url,
                step.name,
            )
    return SafeString("")


STEP_WORDS: Mapping[str, str] = {
    "done": "✓ done",
    "here": "here",
    "next": "next",
    "later": "later",
    "blocked": "blocked",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class NavItem:
    """A word of the main navigation, the URL name behind it and the roles that see it.

    `under` are the beginnings of further addresses that belong to the word.
    """

    word: str
    url_name: str
    under: tuple[str, ...] = ()
    roles: tuple[str, ...]  # properties of a user, any of them enough


JOB_PAGES = (
    "/jobs/",
    "/clients",
    "/rooms/",
    "/room-notes/",
    "/search",
    "/removed",
    "/doorways/",
    "/stairs/",
    "/trim-runs/",
    "/floors/",
    "/plans/",
    "/estimates/",
    "/quotes/",
    "/purchases/",
)
OFFICE = ("is_office",)
EVERYONE = (*OFFICE, "is_crew")

MAIN_NAV: Sequence[NavItem] = (
    NavItem(word="Today", url_name="today", roles=("is_crew",)),
    NavItem(word="Jobs", url_name="job-list", under=JOB_PAGES, roles=OFFICE),
    NavItem(word="Days", url_name="day-list", under=("/calendar-links",), roles=EVERYONE),
    NavItem(word="Board", url_name="board", roles=OFFICE),
    NavItem(word="Prices", url_name="price-list", under=("/rates",), roles=OFFICE),
    NavItem(word="Products", url_name="product-list", roles=OFFICE),
    NavItem(word="Crews", url_name="crew-list", roles=OFFICE),
    NavItem(word="Company", url_name="company", roles=("is_owner",)),
)


@register.simple_tag
def asset(path: str) -> str:
    """The address of a static file, also where no manifest of static files has been made yet.

    The page that reports a fault must not fail over a missing manifest.
    """
    try:
        return static(path)
    except ValueError:
        return f"{settings.STATIC_URL}{path}"


@register.simple_block_tag
def wording(content: str) -> SafeString:
    """A text too long for an argument, on one line: `{% wording as help %}...{% endwording %}`."""
    # A no-break space stays what it is.
    return SafeString(re.sub(r"[ \n]+", " ", content).strip(" "))


@register.simple_tag
def version() -> str:
    """The version of Rowbook that is running, or nothing where the settings name none."""
    return str(getattr(settings, "VERSION", ""))


@register.inclusion_tag("parts/nav.html", takes_context=True)
def main_nav(context: Context) -> PartContext:
    """The words of the main navigation that the signed-in person's role may follow."""
    request: HttpRequest | None = context.get("request")
    user = getattr(request, "user", None)
    path = getattr(request, "path", "")
    words = []
    for item in MAIN_NAV:
        url = _url_or_nothing(item.url_name)
        if url and any(getattr(user, role, False) for role in item.roles):
            below = () if url == "/" else (f"{url}/",)
            fits = path == url or path.startswith((*below, *item.under))
            words.append((item.word, url, fits))
    nearest = max((len(url) for _, url, fits in words if fits), default=0)
    return {
        "items": [
            {"word": word, "url": url, "current": fits and len(url) == nearest}
            for word, url, fits in words
        ]
    }


def _url_or_nothing(name: str) -> str:
    try:
        return reverse(name)
    except NoReverseMatch:
        return ""


@register.inclusion_tag("parts/path.html")
def job_path(steps: Iterable[Shown], next_sentence: str = "", job: Shown = None) -> PartContext:
    """The path of a job: steps with `name`, `url`, `state` and `note`, and what to do next.

    With `job` the line above names its number and title.

    Raises ValueError where a state is none of `STEP_WORDS`.
    """
    rows = []
    for place, step in enumerate(steps, start=1):
        state = _read(step, "state")
        if state not in STEP_WORDS:
            raise ValueError(f"Step state {state!r}; one of {', '.join(STEP_WORDS)} is expected.")
        rows.append(
            {
                "place": place,
                "name": _read(step, "name"),
                "url": _read(step, "url"),
                "note": _read(step, "note"),
                "state": state,
                "word": STEP_WORDS[state],
            }
        )
    here = next((row for row in rows if row["state"] == "here"), None)
    return {"steps": rows, "here": here, "next_sentence": next_sentence, "job": job}


def _read(thing: Shown, name: str) -> str:
    value = thing.get(name) if isinstance(thing, Mapping) else getattr(thing, name, None)
    return "" if value is None else str(value)


@register.inclusion_tag("parts/pager.html", takes_context=True)
def pager(context: Context, page: Shown, word: str = "page") -> PartContext:
    """Earlier and later page of a Django `Page`; the rest of the query string is kept."""
    return {"page": page, "word": word, "request": context.get("request")}
