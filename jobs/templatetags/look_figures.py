"""Figures for templates: figures with their sources, facts, heads of tables, figures in words."""

from __future__ import annotations

from collections.abc import Iterable

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from jobs.domain import figures
from jobs.domain.packet.words.site import tasks_in
from jobs.templatetags.part_context import PartContext, Shown

register = template.Library()

FIGURE_CLASS = SafeString(' class="num"')


@register.inclusion_tag("parts/figure.html")
def figure(
    value: Shown, *, label: str, unit: str = "", source: str = "", size: str = "", note: str = ""
) -> PartContext:
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
def facts(pairs: Iterable[tuple[str, Shown]]) -> PartContext:
    """A definition list of (term, value); pairs without a value are left out."""
    return {"pairs": [(term, value) for term, value in pairs if value not in (None, "")]}


@register.simple_tag
def columns(*names: str) -> SafeString:
    """The head of a table, a column for each name; a # before a name makes it one of figures."""
    cells = format_html_join(
        "",
        '<th scope="col"{}>{}</th>',
        ((FIGURE_CLASS if name.startswith("#") else "", name.removeprefix("#")) for name in names),
    )
    return format_html("<thead><tr>{}</tr></thead>", cells)


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
register.filter("tasks_in", tasks_in)
