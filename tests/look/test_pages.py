"""Pages that every visitor may meet: signing in, help, confirmation and the ways to fail."""

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from django.template.loader import render_to_string
from django.test import Client, RequestFactory

TEMPLATES = Path(__file__).resolve().parents[2] / "templates"

pytestmark = pytest.mark.urls("tests.look.urls")


def drawn_for(*, path: str = "/company", **roles: bool) -> str:
    request: Any = RequestFactory().get(path)
    request.user = type("Person", (), {"is_authenticated": True, "get_full_name": "Ada", **roles})()
    return render_to_string("jobs/guide/guide.html", {}, request)


def test_a_missing_page_says_so(client: Client) -> None:
    response = client.get("/nowhere")
    assert response.status_code == 404
    assert "There is no such page here" in response.text


def test_a_forbidden_page_gives_the_reason(client: Client) -> None:
    response = client.get("/forbidden")
    assert response.status_code == 403
    assert "This page is for the owner." in response.text


def test_a_fault_of_the_program_is_owned_up_to(client: Client) -> None:
    client.raise_request_exception = False
    response = client.get("/broken")
    assert response.status_code == 500
    assert "The fault is in the program" in response.text


def test_a_form_without_its_mark_is_refused_in_words() -> None:
    response = Client(enforce_csrf_checks=True).post("/stop")
    assert response.status_code == 403
    assert "Load the page again".lower() in response.text.lower()


def test_a_garbled_request_is_answered_in_words(client: Client) -> None:
    response = client.get("/wait", headers={"host": "elsewhere.example.com"})
    assert response.status_code == 400
    assert "The request could not be read" in response.text


def test_the_page_about_a_fault_stands_without_a_manifest_of_static_files(settings: Any) -> None:
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.ManifestStaticFilesStorage"},
    }
    assert 'href="/static/css/rowbook.css"' in render_to_string("500.html")


@pytest.mark.parametrize(
    "name",
    [
        "400.html",
        "403.html",
        "403_csrf.html",
        "404.html",
        "413.html",
        "500.html",
        "broken_document.html",
    ],
)
def test_every_error_page_holds_the_part_that_htmx_shows(name: str) -> None:
    assert render_to_string(name).count('id="error-notice"') == 1


@pytest.mark.django_db
def test_the_sign_in_page_helps_password_keepers(client: Client) -> None:
    text = client.get("/sign-in").text
    assert 'autocomplete="username"' in text
    assert 'autocomplete="current-password"' in text


@pytest.mark.django_db
def test_a_refused_sign_in_keeps_the_address_and_says_what_is_wrong(client: Client) -> None:
    text = client.post("/sign-in", {"username": "ada@example.com", "password": "wrong"}).text
    assert 'value="ada@example.com"' in text
    assert "Not signed in" in text


def test_help_tells_every_step_of_the_path(client: Client) -> None:
    steps = ["Site", "Rooms", "Floor", "Price", "Quote", "Days", "Packet", "Log", "Review"]
    assert re.findall(r'<h2 id="[a-z]+">(\w+)</h2>', client.get("/help").text) == steps


def test_a_confirmation_offers_the_deed_and_the_way_back(client: Client) -> None:
    text = client.get("/confirm").text
    assert '<button class="primary stop">Remove the room</button>' in text
    assert "Go back" in text


def test_the_owner_is_offered_the_company(client: Client) -> None:
    assert '<a href="/company" aria-current="page">Company</a>' in drawn_for(is_owner=True)


def test_an_estimator_is_not_offered_the_company() -> None:
    assert "Company" not in drawn_for(is_office=True)


def test_a_crew_member_is_offered_neither_jobs_nor_prices() -> None:
    assert 'aria-label="Main"' not in drawn_for(is_crew=True)


@pytest.mark.parametrize("path", ["/", "/jobs/4/floor", "/rooms/7", "/quotes/2", "/clients/add"])
def test_every_page_of_a_job_belongs_to_jobs(path: str) -> None:
    assert '<a href="/" aria-current="page">Jobs</a>' in drawn_for(is_office=True, path=path)


def test_a_page_elsewhere_does_not_belong_to_jobs() -> None:
    assert '<a href="/">Jobs</a>' in drawn_for(is_office=True, path="/company")


def test_the_foot_names_the_version_of_the_project(client: Client) -> None:
    project = tomllib.loads((TEMPLATES.parent / "pyproject.toml").read_text())["project"]
    assert f"Rowbook {project['version']}" in client.get("/help").text


def test_signing_out_is_a_form() -> None:
    assert '<form class="head-person" method="post" action="/sign-out">' in drawn_for()


def test_htmx_sends_the_mark_of_the_form(client: Client) -> None:
    assert re.search(
        r"""<body[^>]* hx-headers='{"X-CSRFToken": "\w{64}"}'>""", client.get("/wait").text
    )


@pytest.mark.parametrize(
    "path", sorted(TEMPLATES.rglob("*.html")), ids=lambda path: str(path.relative_to(TEMPLATES))
)
def test_no_template_carries_a_style_or_a_script_inline(path: Path) -> None:
    text = path.read_text()
    assert not re.search(r"<style|\sstyle=|\son[a-z]+=|javascript:", text)
    assert all("src=" in tag for tag in re.findall(r"<script[^>]*>", text))
