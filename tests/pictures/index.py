"""The page that shows every picture of a run: plain HTML, no script."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from itertools import groupby

from tests.pictures import EFFORT_ITERATIONS, MOMENT
from tests.pictures.take import PicturedSight

# By this line a folder is known for one that may be emptied.
MARK = '<meta name="generator" content="bin/pictures">'
STYLE = """
body { font: 15px/1.4 system-ui, sans-serif; margin: 24px; }
section { border-top: 1px solid #bbb; margin-top: 24px; }
figure { display: inline-block; margin: 0 16px 16px 0; vertical-align: top; }
figure a { display: block; width: 180px; height: 240px; overflow: hidden; border: 1px solid #bbb; }
img { display: block; width: 100%; }
figcaption { max-width: 180px; overflow-wrap: anywhere; }
td, th { text-align: left; padding: 2px 16px 2px 0; vertical-align: top; }
"""


def index_page(outcomes: Iterable[PicturedSight], reasons: dict[str, str]) -> str:
    """Return the page: a section for every address, then the addresses without a picture."""
    by_name = groupby(
        sorted(outcomes, key=lambda one: one.sight.name), key=lambda one: one.sight.name
    )
    sections = [(name, list(group)) for name, group in by_name]
    contents = " ".join(f'<a href="#{escape(name)}">{escape(name)}</a>' for name, _ in sections)
    terms = f"The demo of {MOMENT:%Y-%m-%d}, {EFFORT_ITERATIONS} iterations a floor."
    parts = [
        f'<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8">{MARK}',
        f"<title>Pictures of Rowbook</title>\n<style>{STYLE}</style></head>\n<body>",
        f"<h1>Pictures of Rowbook</h1>\n<p>{terms}</p>\n<p>{contents}</p>",
        *(_section(name, group) for name, group in sections),
        _reasons(reasons),
        "</body>\n</html>\n",
    ]
    return "\n".join(parts)


def _section(name: str, group: list[PicturedSight]) -> str:
    """Return the pictures and papers of an address, then how others were answered."""
    figures = "\n".join(_figure(one, file) for one in group for file in one.pictures)
    papers = "".join(
        f'<li><a href="{escape(file)}">{escape(file)}</a></li>'
        for one in group
        for file in one.files
        if file.endswith(".pdf")
    )
    others = "".join(f"<li>{escape(_others(one))}</li>" for one in group if not one.files)
    heading = f'<section id="{escape(name)}">\n<h2>{escape(name)}</h2>'
    return f"{heading}\n{figures}\n<ul>{papers}{others}</ul>\n</section>"


def _figure(one: PicturedSight, file: str) -> str:
    """Return a small picture that leads to the whole one."""
    part = file.removeprefix(one.sight.stem).strip("-").removesuffix(".png")
    caption = f"{_who(one)}, {part}: {one.sight.path}"
    image = f'<img src="{escape(file)}" alt="{escape(caption)}" loading="lazy">'
    words = f"<figcaption>{escape(caption)}</figcaption>"
    return f'<figure><a href="{escape(file)}">{image}</a>{words}</figure>'


def _others(one: PicturedSight) -> str:
    """Return how a role was answered that left no picture of its own."""
    if one.same_as:
        return f"{_who(one)}: the same paper as {one.same_as}, {one.sight.path}"
    kind = f", {one.kind}" if one.status == 200 else ""
    return f"{_who(one)}: {one.status}{kind}, {one.sight.path}"


def _who(one: PicturedSight) -> str:
    return f"{one.sight.onlooker.company} company, {one.sight.onlooker.role}"


def _reasons(reasons: dict[str, str]) -> str:
    rows = "\n".join(
        f"<tr><th>{escape(name)}</th><td>{escape(reason)}</td></tr>"
        for name, reason in sorted(reasons.items())
    )
    return f'<section id="not-pictured"><h2>Not pictured</h2>\n<table>{rows}</table></section>'
