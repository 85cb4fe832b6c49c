"""Templates: where they lie, who draws them, how wide they are, and whose words they use."""

from __future__ import annotations

import re
from pathlib import Path

from tests.conftest import ROOT
from tests.house.test_docs import tracked

TEMPLATES = ROOT / "templates"
PAGES = sorted(str(path.relative_to(TEMPLATES)) for path in TEMPLATES.rglob("*.html"))
APPS = ("jobs", "estimates")
MOST_WIDE = 140
MOST_LONG = 350
# Django asks for these by itself.
ERROR_PAGES = {"400.html", "403.html", "403_csrf.html", "404.html"}


def text_of(page: str) -> str:
    """Return the text of a template."""
    return (TEMPLATES / page).read_text()


def named_in(paths: list[str]) -> set[str]:
    """Return every template that these files name in quotes, alone or with a part of it."""
    texts = ((ROOT / path).read_text() for path in paths)
    return {name for text in texts for name in re.findall(r'"([\w/]+\.html)(?:#\w+)?"', text)}


def test_no_line_of_a_template_is_wider_than_a_screen() -> None:
    wide = [
        f"{page}:{number}"
        for page in PAGES
        for number, line in enumerate(text_of(page).splitlines(), start=1)
        if len(line) > MOST_WIDE
    ]
    assert wide == []


def test_no_tag_of_a_template_is_broken_over_two_lines() -> None:
    broken = re.compile(r"\{%(?:(?!%\}).)*$|\{\{(?:(?!\}\}).)*$", re.MULTILINE)
    assert [page for page in PAGES if broken.search(text_of(page))] == []


def test_every_template_is_drawn_by_somebody() -> None:
    code = [path for path in tracked("*.py") if not path.startswith("tests/")]
    drawn = named_in([*code, *tracked("templates/*.html")])
    assert set(PAGES) - drawn == ERROR_PAGES


def test_every_template_that_is_named_exists() -> None:
    code = [path for path in tracked("*.py") if not path.startswith("tests/")]
    drawn = named_in([*code, *tracked("templates/*.html")])
    assert {name for name in drawn if "/" in name} <= set(PAGES)


def test_a_template_lies_in_the_folder_of_a_subject_that_has_views() -> None:
    subjects = {tuple(Path(page).parts[:-1][:2]) for page in PAGES if page.startswith(APPS)}
    views = {(app, path.stem) for app in APPS for path in (ROOT / app / "views").glob("[!_]*")}
    assert subjects <= views


def test_what_is_only_included_is_marked_by_its_name() -> None:
    """A leading underscore says: a part of a page, no page."""
    views = named_in([path for path in tracked("*.py") if not path.startswith("tests/")])
    pages = {page for page in PAGES if page.startswith(APPS)}
    assert {page for page in pages if Path(page).name.startswith("_")} == pages - views


def test_no_page_style_or_script_has_outgrown_itself() -> None:
    long = [
        name
        for name in tracked("*.html", "*.css", "*.js")
        if "axe.min" not in name and len((ROOT / name).read_text().splitlines()) > MOST_LONG
    ]
    assert long == []
