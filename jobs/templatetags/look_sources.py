"""Sources on a page: what is common practice is one dagger, and one footnote says so."""

from __future__ import annotations

import re

from django import template
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString

register = template.Library()

DAGGER = "†"
FOOTNOTE = "† Common practice, no source."
_PRACTICE = re.compile(r"(\. |\s)?\(?common practice, no source\)?", re.IGNORECASE)


def daggered(text: str) -> str:
    """Return a text with a dagger where it says that something is common practice."""
    return _PRACTICE.sub(DAGGER, text)


def note_practice(context: Context, text: str) -> str:
    """Return a text with its dagger; the page then carries the footnote."""
    short = daggered(text)
    request = getattr(context, "request", None)
    if request is not None and short != text:
        request.has_dagger = True
    return text if request is None else short


@register.simple_tag(takes_context=True)
def sourced(context: Context, text: object) -> str:
    """A source, or a sentence that ends in one: a dagger in place of "common practice, no source".

    Without a page that could carry the footnote the words stay as they are.
    """
    short = note_practice(context, str(text or ""))
    return short[:1].upper() + short[1:]


@register.simple_tag(takes_context=True)
def practice_note(context: Context) -> SafeString:
    """The footnote, once a page, where a dagger stands on it."""
    if not getattr(getattr(context, "request", None), "has_dagger", False):
        return SafeString("")
    return format_html('<p class="small muted footnote">{}</p>', FOOTNOTE)
