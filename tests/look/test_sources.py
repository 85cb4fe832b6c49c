"""Common practice on a page: a dagger where it is said, one footnote where the page ends."""

from __future__ import annotations

import pytest
from django.template import Context, Template
from django.template.context import RequestContext
from django.test import RequestFactory

from jobs.templatetags.look_sources import daggered

PAGE = "{% load look %}{% for one in all %}{% sourced one %}|{% endfor %}{% practice_note %}"


@pytest.mark.parametrize(
    ("text", "short"),
    [
        ("common practice, no source", "†"),
        (
            "It is laid down its length (common practice, no source).",
            "It is laid down its length†.",
        ),
        ("Up to 3 1/2. Common practice, no source; measure it.", "Up to 3 1/2†; measure it."),
        ("IRC 2021 R311.7.5", "IRC 2021 R311.7.5"),
    ],
)
def test_the_words_become_a_dagger(text: str, short: str) -> None:
    assert daggered(text) == short


def drawn(*sources: str) -> str:
    """Return a page of these sources."""
    context = RequestContext(RequestFactory().get("/"), {"all": sources})
    return Template(PAGE).render(context)


def test_two_daggers_have_one_footnote() -> None:
    page = drawn("common practice, no source", "Common practice, no source", "ADA 303.2")
    assert page.startswith("†|†|ADA 303.2|<p")
    assert page.count("† Common practice, no source.") == 1


def test_a_page_without_a_dagger_has_no_footnote() -> None:
    assert drawn("ADA 303.2") == "ADA 303.2|"


def test_what_can_carry_no_footnote_keeps_its_words() -> None:
    context = Context({"all": ["common practice, no source"]})
    assert Template(PAGE).render(context) == "Common practice, no source|"
