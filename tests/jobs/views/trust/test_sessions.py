"""Who is signed in where: seen by themselves and by the owner, and ended."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.db import DatabaseError
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import AuditLine, OpenSession, Role, User
from jobs.services.sign_in import sessions
from tests.builders import PASSWORD, make_company, make_person
from tests.reading import words

pytestmark = pytest.mark.django_db

IPHONE = "Mozilla/5.0 (iPhone; CPU iPhone OS 17_5) Version/17.5 Safari/604.1"
LINUX = "Mozilla/5.0 (X11; Linux x86_64; rv:125.0) Gecko/20100101 Firefox/125.0"


def signed_in(person: User, agent: str = LINUX) -> Client:
    """Return a browser in which somebody has signed in and looked at a page."""
    browser = Client(headers={"User-Agent": agent})
    browser.post(reverse("sign-in"), {"username": person.email, "password": PASSWORD})
    browser.get(reverse("help"))
    return browser


@pytest.fixture(name="owner")
def the_owner() -> User:
    """The owner of a company."""
    return make_person(make_company(), name="Ada Lind")


def test_each_browser_is_listed_once_by_what_it_is(owner: User) -> None:
    desk = signed_in(owner)
    signed_in(owner, IPHONE)
    page = words(desk.get(reverse("session-list")))
    assert page.count("Safari on iPhone") == 2  # in its row and on its button
    assert page.count("this one") == 1
    assert OpenSession.objects.filter(person=owner).count() == 2


def test_a_browser_that_is_signed_out_opens_nothing_any_more(owner: User) -> None:
    desk, phone = signed_in(owner), signed_in(owner, IPHONE)
    row = OpenSession.objects.get(device="Safari on iPhone")
    assert phone.get("/clients").status_code == 200
    desk.post(reverse("session-end", args=[row.pk]))
    assert phone.get("/clients").status_code == 302
    assert desk.get("/clients").status_code == 200
    assert AuditLine.objects.filter(act="Signed out Ada Lind on Safari on iPhone").count() == 1


def test_everywhere_else_is_everywhere_but_here(owner: User) -> None:
    desk, others = signed_in(owner), [signed_in(owner, IPHONE) for _ in range(2)]
    answer = desk.post(reverse("session-end-others"), follow=True)
    assert "Signed out on 2 other devices" in words(answer)
    assert [one.get("/clients").status_code for one in others] == [302, 302]
    assert desk.get("/clients").status_code == 200


def test_the_owner_signs_a_crew_member_out_everywhere(owner: User) -> None:
    assert owner.company
    member = make_person(owner.company, Role.CREW)
    desk, phone = signed_in(owner), signed_in(member, IPHONE)
    page = words(desk.get(reverse("person-sessions", args=[member.pk])))
    assert "Safari on iPhone" in page
    desk.post(reverse("person-sessions-end", args=[member.pk]))
    assert phone.get("/days/today").status_code == 302


def test_the_owner_stays_where_the_button_was_pressed(owner: User) -> None:
    desk, phone = signed_in(owner), signed_in(owner, IPHONE)
    desk.post(reverse("person-sessions-end", args=[owner.pk]))
    assert (desk.get("/clients").status_code, phone.get("/clients").status_code) == (200, 302)


def test_sessions_of_others_and_of_other_companies_are_not_there(owner: User) -> None:
    assert owner.company
    member = make_person(owner.company, Role.CREW)
    stranger = make_person(make_company("Other Floors"))
    row = OpenSession.objects.create(person=owner, session_key="k")
    for person in (member, stranger):
        browser = signed_in(person)
        assert browser.post(reverse("session-end", args=[row.pk])).status_code == 404
    assert OpenSession.objects.filter(pk=row.pk).exists()
    assert signed_in(stranger).get(reverse("person-sessions", args=[owner.pk])).status_code == 404


def test_a_session_that_has_run_out_is_listed_no_more_and_swept(owner: User) -> None:
    desk = signed_in(owner)
    signed_in(owner, IPHONE)
    key = OpenSession.objects.get(device="Safari on iPhone").session_key
    long_ago = timezone.now() - timedelta(days=1)
    Session.objects.filter(session_key=key).update(expire_date=long_ago)
    assert "iPhone" not in words(desk.get(reverse("session-list")))
    assert sessions.sweep_sessions(timezone.now()) == 1
    assert not OpenSession.objects.filter(session_key=key).exists()
    assert OpenSession.objects.filter(person=owner).count() == 1


def test_a_session_is_written_down_once_in_a_quarter_of_an_hour(owner: User) -> None:
    desk = signed_in(owner)
    long_ago = timezone.now() - timedelta(days=1)
    OpenSession.objects.update(seen_at=long_ago)
    desk.get(reverse("help"))
    assert OpenSession.objects.get().seen_at == long_ago


def test_a_page_is_shown_also_where_a_session_cannot_be_noted(
    owner: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(**_: object) -> None:
        raise DatabaseError("attempt to write a readonly database")

    monkeypatch.setattr(sessions, "note_session", refuse)
    browser = Client()
    browser.force_login(owner)
    assert browser.get("/clients").status_code == 200


def test_who_is_not_signed_in_is_noted_nowhere(client: Client) -> None:
    client.get(reverse("sign-in"))
    assert not OpenSession.objects.exists()
