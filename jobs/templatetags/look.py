"""Components and figures for templates: `{% load look %}`.

Each component draws one template of `templates/parts/`; that folder's README.md shows every one
in use. Figures become words here and nowhere else, so that a length reads the same on a screen,
on a quote and on the floor.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import template
from django.conf import settings
from django.forms import BaseForm
from django.forms.boundfield import BoundField
from django.forms.formsets import BaseFormSet
from django.forms.widgets import CheckboxInput
from django.http import HttpRequest
from django.template import Context
from django.templatetags.static import static
from django.urls import NoReverseMatch, reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from jobs.domain import figures

register = template.Library()

TONES = ("ok", "caution", "stop", "plain")

STATUS_TONES: Mapping[str, str] = {
    word: tone
    for tone, words in {
        "ok": "accepted active agreed cleared closed done issued laid paid passed planned proven "
        "sent signed",
        "caution": "changed due expired hold late outdated queued superseded waiting",
        "stop": "blocked cancelled declined failed refused stopped withdrawn",
    }.items()
    for word in words.split()
}

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
    NavItem(word="Jobs", url_name="job-list", under=JOB_PAGES, roles=OFFICE),
    NavItem(word="Days", url_name="day-list", roles=EVERYONE),
    NavItem(word="Prices", url_name="price-list", under=("/rates",), roles=OFFICE),
    NavItem(word="Products", url_name="product-list", roles=OFFICE),
    NavItem(word="Crews", url_name="crew-list", roles=OFFICE),
    NavItem(word="Company", url_name="company", roles=("is_owner",)),
)


# Page furniture


@register.simple_tag
def asset(path: str) -> str:
    """The address of a static file, also where no manifest of static files has been made yet.

    The page that reports a fault must not fail over a missing manifest.
    """
    try:
        return static(path)
    except ValueError:
        return f"{settings.STATIC_URL}{path}"


@register.simple_tag
def version() -> str:
    """The version of Rowbook that is running, or nothing where the settings name none."""
    return str(getattr(settings, "VERSION", ""))


@register.inclusion_tag("parts/nav.html", takes_context=True)
def main_nav(context: Context) -> dict[str, Any]:
    """The words of the main navigation that the signed-in person's role may follow."""
    request: HttpRequest | None = context.get("request")
    user = getattr(request, "user", None)
    path = getattr(request, "path", "")
    items = []
    for item in MAIN_NAV:
        url = _url_or_nothing(item.url_name)
        if url and any(getattr(user, role, False) for role in item.roles):
            own = () if url == "/" else (f"{url}/",)
            current = path == url or path.startswith((*own, *item.under))
            items.append({"word": item.word, "url": url, "current": current})
    return {"items": items}


def _url_or_nothing(name: str) -> str:
    try:
        return reverse(name)
    except NoReverseMatch:
        return ""


@register.inclusion_tag("parts/path.html")
def job_path(steps: Iterable[Any], next_sentence: str = "", job: Any = None) -> dict[str, Any]:
    """The path of a job: steps with `name`, `url`, `state` and `note`, and what to do next.

    With `job` the line above names its number and title.

    Raises ValueError where a state is none of `STEP_WORDS`.
    """
    rows = []
    for step in steps:
        state = _read(step, "state")
        if state not in STEP_WORDS:
            raise ValueError(f"Step state {state!r}; one of {', '.join(STEP_WORDS)} is expected.")
        rows.append(
            {
                "name": _read(step, "name"),
                "url": _read(step, "url"),
                "note": _read(step, "note"),
                "state": state,
                "word": STEP_WORDS[state],
            }
        )
    return {"steps": rows, "next_sentence": next_sentence, "job": job}


def _read(thing: Any, name: str) -> str:
    value = thing.get(name) if isinstance(thing, Mapping) else getattr(thing, name, None)
    return "" if value is None else str(value)


@register.inclusion_tag("parts/pager.html", takes_context=True)
def pager(context: Context, page: Any, word: str = "page") -> dict[str, Any]:
    """Earlier and later page of a Django `Page`; the rest of the query string is kept."""
    return {"page": page, "word": word, "request": context.get("request")}


# Forms


@register.inclusion_tag("parts/field.html")
def field(
    bound: BoundField,
    *,
    unit: str = "",
    help: str = "",  # noqa: A002
    label: str = "",
    width: str = "",
    **attrs: Any,
) -> dict[str, Any]:
    """A labelled control with its unit, help and errors, tied together for a screen reader.

    `width` is "short", "wide" or nothing. Further arguments become attributes of the control, an
    underscore becoming a hyphen: `inputmode="decimal" hx_get=url`.
    """
    kind = _kind(bound)
    help_text = help or str(bound.help_text)
    described = _described_by(bound, unit=unit, help_text=help_text)
    control_attrs = {name.replace("_", "-"): value for name, value in attrs.items()}
    if described and kind != "group":
        control_attrs["aria-describedby"] = described
    return {
        "bound": bound,
        "kind": kind,
        "label": label or bound.label,
        "unit": figures.unit_sign(unit),
        "help_text": help_text,
        "width": width,
        "described": described,
        "control": bound.as_widget(attrs=control_attrs),
        "errors": list(bound.errors),
    }


def _kind(bound: BoundField) -> str:
    if bound.is_hidden:
        return "hidden"
    if isinstance(bound.field.widget, CheckboxInput):
        return "check"
    # A file input that can be cleared is several controls too, yet one label serves it well.
    return "group" if bound.use_fieldset and not bound.field.widget.needs_multipart_form else "one"


def _described_by(bound: BoundField, *, unit: str, help_text: str) -> str:
    parts = {"unit": unit, "helptext": help_text, "error": bound.errors}
    return " ".join(f"{bound.auto_id}_{name}" for name, present in parts.items() if present)


@register.inclusion_tag("parts/form_fields.html")
def form_fields(form: BaseForm) -> dict[str, Any]:
    """Every field of a form in its own order, hidden ones included, without units."""
    return {"form": form}


@register.inclusion_tag("parts/form_errors.html")
def form_errors(*forms: BaseForm | BaseFormSet[Any]) -> dict[str, Any]:
    """What was not accepted, at the top of the page, each entry leading to its field."""
    faults = [fault for form in forms for fault in _faults(form)]
    return {"faults": faults, "count": len(faults)}


def _faults(form: BaseForm | BaseFormSet[Any]) -> list[dict[str, Any]]:
    if isinstance(form, BaseFormSet):
        general = [{"text": text} for text in form.non_form_errors()]
        return general + [fault for one in form.forms for fault in _faults(one)]
    faults: list[dict[str, Any]] = [{"text": text} for text in form.non_field_errors()]
    for bound in form:
        target = "" if bound.is_hidden else bound.id_for_label or bound.auto_id
        faults += [{"text": text, "label": bound.label, "target": target} for text in bound.errors]
    return faults


@register.simple_block_tag
def fieldset(content: str, legend: str, help: str = "") -> SafeString:  # noqa: A002
    """A group of fields under one legend."""
    hint = format_html('<p class="muted">{}</p>', help) if help else ""
    return format_html("<fieldset><legend>{}</legend>{}{}</fieldset>", legend, hint, content)


@register.simple_block_tag
def actions(content: str, *, bar: bool = True) -> SafeString:
    """The buttons of a page; `bar` keeps them at the thumb on a phone."""
    return format_html('<div class="{}">{}</div>', "actions bar" if bar else "actions", content)


# States


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
) -> dict[str, Any]:
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


# Figures


@register.inclusion_tag("parts/figure.html")
def figure(
    value: Any, *, label: str, unit: str = "", source: str = "", size: str = "", note: str = ""
) -> dict[str, Any]:
    """A figure with its label and unit; where it comes from is one tap away.

    `size` is "big" for the figure a page is about.
    """
    return {
        "value": value,
        "label": label,
        "unit": figures.unit_sign(unit),
        "source": source,
        "size": size,
        "note": note,
    }


@register.simple_block_tag
def figure_row(content: str) -> SafeString:
    """Figures side by side, ruled like the title block of a drawing."""
    return format_html('<div class="figures">{}</div>', content)


@register.inclusion_tag("parts/facts.html")
def facts(pairs: Iterable[tuple[str, Any]]) -> dict[str, Any]:
    """A definition list of (term, value); pairs without a value are left out."""
    return {"pairs": [(term, value) for term, value in pairs if value not in (None, "")]}


# Not "length": that is Django's own filter for the number of items.
register.filter("length_in", figures.length)
register.filter("length_mm", figures.length_mm)
register.filter("area", figures.area)
register.filter("area_in2", figures.area_in2)
register.filter("area_mm2", figures.area_mm2)
register.filter("money", figures.money)
register.filter("in_prose", figures.in_prose)
register.filter("counted", figures.counted)
register.filter("hours", figures.hours)
register.filter("percent", figures.percent)
register.filter("unit_sign", figures.unit_sign)
