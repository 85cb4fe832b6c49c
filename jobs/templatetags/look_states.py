"""States for templates: a word with its tone, notices, long work under way, empty pages."""

from __future__ import annotations

from collections.abc import Mapping

from django import template
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString

from jobs.templatetags.part_context import PartContext

register = template.Library()

TONES = ("ok", "caution", "stop", "plain")

STATUS_TONES: Mapping[str, str] = {
    word: tone
    for tone, words in {
        "ok": "accepted active agreed cleared closed done issued laid paid passed planned proven "
        "seen sent signed",
        "caution": "changed due expired hold late outdated queued sending superseded waiting",
        "stop": "blocked canceled declined failed refused stopped withdrawn",
    }.items()
    for word in words.split()
}


@register.simple_tag
def status(word: str, tone: str = "") -> SafeString:
    """A status word; its tone follows from the word unless it is given.

    Raises ValueError where the tone is none of `TONES`.
    """
    shown = tone or STATUS_TONES.get(str(word).lower(), "plain")
    return format_html('<span class="status {}">{}</span>', _tone(shown), word)


def _tone(tone: str) -> str:
    if tone not in TONES:
        raise ValueError(f"Tone {tone!r}; one of {', '.join(TONES)} is expected.")
    return tone


@register.simple_block_tag
def notice(content: str, title: str = "", tone: str = "plain") -> SafeString:
    """Something to know before going on, in a box whose title carries the tone."""
    head = format_html('<p class="notice-title">{}</p>', title) if title else ""
    return format_html('<div class="notice {}">{}{}</div>', _tone(tone), head, content)


@register.inclusion_tag("parts/progress.html", takes_context=True)
def progress(
    context: Context,
    *,
    label: str,
    percent: int | None = None,
    sentence: str = "",
    id: str = "progress",  # noqa: A002
    poll_url: str = "",
    refresh_url: str = "",
    stop_url: str = "",
    stop_label: str = "Stop",
) -> PartContext:
    """Long work under way: how far, in words too, a way to look again and a way to stop.

    With `poll_url` the element asks for itself every two seconds until an answer without
    `poll_url` replaces it. `percent` is 0 to 100, or nothing while it is not known.
    """
    known = None if percent is None else max(0, min(100, round(percent)))
    return {
        "label": label,
        "percent": known,
        "sentence": sentence,
        "id": id,
        "poll_url": poll_url,
        "refresh_url": refresh_url,
        "stop_url": stop_url,
        "stop_label": stop_label,
        "csrf_token": context.get("csrf_token"),
    }


@register.inclusion_tag("parts/empty.html")
def empty_state(
    sentence: str, *, action: str = "", url: str = "", title: str = ""
) -> dict[str, str]:
    """What belongs on an empty page, and the one action that fills it."""
    return {"sentence": sentence, "action": action, "url": url, "title": title}
