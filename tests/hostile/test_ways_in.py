"""The ways in: the name of the site, where a sign-in leads, the session."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from pytest_django import Settings

from jobs.http import whole_address
from jobs.models import Job, User
from tests.builders import PASSWORD

pytestmark = pytest.mark.django_db

ELSEWHERE = (
    "https://elsewhere.example.net/",
    "//elsewhere.example.net/",
    "/\\elsewhere.example.net",
    "http:elsewhere.example.net",
    "javascript:alert(1)",
    "https:///elsewhere.example.net",
    " //elsewhere.example.net",
)


def sign_in(browser: Visitor, person: User, **more: str) -> str:
    """Sign in as a person does; return where it leads."""
    sent = {"username": person.email, "password": PASSWORD} | more
    answer = browser.post(reverse("sign-in"), sent)
    assert answer.status_code == 302
    return answer["Location"]


@pytest.mark.parametrize("host", ["elsewhere.example.net", "localhost.example.net", "localhost@x"])
def test_a_name_that_is_not_the_sites_is_refused(visitor: Visitor, job: Job, host: str) -> None:
    for name in ("job-list", "password-lost", "sign-in", "healthz"):
        assert visitor.get(reverse(name), headers={"host": host}).status_code == 400


def test_an_address_that_is_sent_is_the_sites_whatever_the_request_says(settings: Settings) -> None:
    settings.SITE_URL = "https://book.example.com"
    assert whole_address("sign-in") == "https://book.example.com/sign-in"


@pytest.mark.parametrize("where", ELSEWHERE)
def test_a_sign_in_leads_nowhere_else(owner: User, where: str) -> None:
    browser = Visitor()
    assert sign_in(browser, owner, next=where) == reverse("job-list")
    answer = browser.get(reverse("sign-in"), {"next": where})
    assert answer.status_code == 302
    assert answer["Location"] == reverse("job-list")


def test_a_sign_in_leads_back_to_the_page_that_was_wanted(owner: User) -> None:
    assert sign_in(Visitor(), owner, next=reverse("client-list")) == reverse("client-list")


def test_a_session_that_was_there_before_is_not_the_one_signed_in(owner: User) -> None:
    browser = Visitor()
    session = browser.session
    session["kept"] = "yes"
    session.save()
    planted = browser.cookies["sessionid"].value
    sign_in(browser, owner)
    assert browser.cookies["sessionid"].value != planted
    stranger = Visitor()
    stranger.cookies["sessionid"] = planted
    assert stranger.get(reverse("job-list")).status_code == 302


def test_a_session_key_that_somebody_made_up_is_never_taken(owner: User) -> None:
    browser = Visitor()
    browser.cookies["sessionid"] = "a" * 32
    sign_in(browser, owner)
    assert browser.cookies["sessionid"].value != "a" * 32


def test_signing_out_ends_the_session_for_who_copied_it(owner: User) -> None:
    browser, copied = Visitor(), Visitor()
    sign_in(browser, owner)
    copied.cookies["sessionid"] = browser.cookies["sessionid"].value
    assert copied.get(reverse("job-list")).status_code == 200
    browser.post(reverse("sign-out"))
    assert copied.get(reverse("job-list")).status_code == 302


def test_the_session_and_the_mark_of_forms_are_no_scripts_to_read(owner: User) -> None:
    browser = Visitor()
    sign_in(browser, owner)
    assert browser.cookies["sessionid"]["httponly"] is True
    assert browser.cookies["sessionid"]["samesite"] == "Lax"
