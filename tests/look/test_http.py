"""The whole page or a part of it: decided once."""

from typing import Any

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory
from django_htmx.middleware import HtmxDetails

from jobs.http import go_to, render_page, wants_part

pytestmark = pytest.mark.urls("tests.look.urls")

ASKS_FOR_PART = {"HX-Request": "true"}
BOOSTED = {**ASKS_FOR_PART, "HX-Boosted": "true"}
FROM_HISTORY = {**ASKS_FOR_PART, "HX-History-Restore-Request": "true"}


def asking(headers: dict[str, str]) -> HttpRequest:
    request: Any = RequestFactory().get("/", headers=headers)
    request.htmx = HtmxDetails(request)
    return request  # type: ignore[no-any-return]


def answer(headers: dict[str, str]) -> HttpResponse:
    return render_page(asking(headers), "look/page_with_part.html", {"word": "oak"}, part="word")


@pytest.fixture(autouse=True)
def page_with_part(settings: Any) -> None:
    """A page with one named partial, known to the template engine for one test."""
    part = "{% partialdef word inline %}<p>{{ word }}</p>{% endpartialdef %}"
    page = "<h1>Page</h1>{% load partials %}" + part
    templates = [dict(settings.TEMPLATES[0])]
    loaders = [("django.template.loaders.locmem.Loader", {"look/page_with_part.html": page})]
    templates[0]["OPTIONS"] = {
        "loaders": [("template_partials.loader.Loader", loaders)],
        "builtins": ["template_partials.templatetags.partials"],
    }
    settings.TEMPLATES = templates


def test_a_plain_request_gets_the_page() -> None:
    assert answer({}).content == b"<h1>Page</h1><p>oak</p>"


def test_htmx_gets_the_part_it_asks_for() -> None:
    assert answer(ASKS_FOR_PART).content == b"<p>oak</p>"


@pytest.mark.parametrize("headers", [BOOSTED, FROM_HISTORY])
def test_boosted_links_and_history_get_the_whole_page(headers: dict[str, str]) -> None:
    assert answer(headers).content.startswith(b"<h1>Page</h1>")


def test_caches_are_told_what_the_answer_depends_on() -> None:
    assert "HX-Request" in answer({})["Vary"]


def test_a_request_that_never_met_htmx_wants_a_page() -> None:
    assert not wants_part(RequestFactory().get("/"))


def test_a_plain_request_is_led_on_by_a_see_other() -> None:
    response = go_to(asking({}), "/jobs/4")
    assert (response.status_code, response["Location"]) == (303, "/jobs/4")


def test_htmx_is_led_on_without_swapping_a_page_into_a_part() -> None:
    response = go_to(asking(ASKS_FOR_PART), "/jobs/4")
    assert (response.status_code, response["HX-Redirect"]) == (200, "/jobs/4")
