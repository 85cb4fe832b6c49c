"""Passwords: one's own, a link once, the lock of the sign-in, the first and the last owner."""

from __future__ import annotations

import re
from datetime import timedelta
from io import StringIO

import pytest
import time_machine
from axes.utils import reset
from django.core.management import CommandError, call_command
from django.test import Client as Visitor
from django.test import override_settings
from django.urls import reverse
from django.utils import timezone

from jobs.models import AuditLine, Company, Mail, Role, User
from jobs.services.sign_in.links import password_link
from jobs.worker.worker import carry_out_waiting
from tests.builders import PASSWORD, make_person
from tests.estimates.a_job import company_of
from tests.mail_server import mail_server
from tests.reading import words

pytestmark = pytest.mark.django_db

NEW = "plank-and-spacer-88"


def signed_in(person: User, password: str = PASSWORD) -> Visitor | None:
    """Return a browser in which a person signed in with a password, None where it is refused."""
    browser = Visitor()
    sent = {"username": person.email, "password": password}
    return browser if browser.post(reverse("sign-in"), sent).status_code == 302 else None


def set_by(link: str, browser: Visitor | None = None, password: str = NEW) -> str:
    """Follow a link, type a password twice; return the page that follows."""
    browser = browser or Visitor()
    page = browser.get(link, follow=True)
    if page.status_code != 200:
        return words(page)
    address = page.redirect_chain[-1][0]
    sent = {"new_password1": password, "new_password2": password}
    return words(browser.post(address, sent, follow=True))


def link_on(page: str) -> str:
    """Return the path of the link that stands on a page or in a mail."""
    match = re.search(r"http://[^/]+(/password/set/[^\s<]+)", page)
    assert match is not None
    return match[1]


def test_a_crew_member_changes_the_own_password_and_other_phones_are_signed_out(
    owner: User,
) -> None:
    person = make_person(company_of(owner), Role.CREW)
    phone, other = signed_in(person), signed_in(person)
    assert phone
    assert other
    sent = {"old_password": PASSWORD, "new_password1": NEW, "new_password2": NEW}
    assert "The password is changed" in words(
        phone.post(reverse("own-password"), sent, follow=True)
    )
    assert phone.get(reverse("own-password")).status_code == 200
    assert other.get(reverse("own-password")).status_code == 302
    assert signed_in(person) is None
    assert signed_in(person, NEW)
    assert AuditLine.objects.filter(who=person.name, act="Changed the own password").exists()


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        ({"old_password": "wrong"}, "That is not the password you signed in with"),
        ({"new_password2": "another-one-77"}, "The two are not the same"),
        ({"new_password1": "short", "new_password2": "short"}, "too short"),
        ({"new_password1": "1" * 12, "new_password2": "1" * 12}, "entirely numeric"),
    ],
)
def test_an_own_password_is_refused_in_words(
    visitor: Visitor, owner: User, sent: dict[str, str], sentence: str
) -> None:
    whole = {"old_password": PASSWORD, "new_password1": NEW, "new_password2": NEW} | sent
    answer = visitor.post(reverse("own-password"), whole)
    assert answer.status_code == 422
    assert sentence in words(answer)
    owner.refresh_from_db()
    assert owner.check_password(PASSWORD)


def test_somebody_new_without_a_password_sets_one_by_a_link_once(
    visitor: Visitor, owner: User
) -> None:
    sent = {"name": "Ines Okafor", "email": "ines@example.com", "role": "crew", "is_active": "on"}
    page = visitor.post(reverse("person-add"), sent | {"key": "k1"}, follow=True)
    person = User.objects.get(email="ines@example.com")
    assert "Make a link for Ines Okafor" in words(page)
    assert not person.has_usable_password()
    link = link_on(words(visitor.post(reverse("person-link", args=[person.pk]))))
    assert "The password is set" in set_by(link)
    assert "leads nowhere any more" in set_by(link)
    assert signed_in(person, NEW)
    assert AuditLine.objects.filter(act__contains="Made a link for Ines Okafor").exists()


def test_a_link_is_too_old_after_three_days(owner: User) -> None:
    link = link_on(password_link(owner))
    with time_machine.travel(timezone.now() + timedelta(days=3, minutes=1)):
        assert "leads nowhere any more" in set_by(link)
    with time_machine.travel(timezone.now() + timedelta(days=2, hours=23)):
        assert "The password is set" in set_by(link)


@pytest.mark.parametrize("link", ["MQ/x-y", "0/x", "MQ/set-password", "é/ü"])
def test_a_guessed_link_leads_nowhere(owner: User, link: str) -> None:
    answer = Visitor().get(f"/password/set/{link}")
    assert answer.status_code == 404
    assert "leads nowhere any more" in words(answer)


def test_a_lost_password_is_set_by_a_mailed_link_and_nobody_sees_who_exists(owner: User) -> None:
    with mail_server() as box:
        pages = [
            words(Visitor().post(reverse("password-lost"), {"email": email}))
            for email in (owner.email.upper(), "nobody@example.com", owner.email)
        ]
        assert len({page.split("<h1>")[1] for page in pages}) == 1
        assert "/password/set/" not in Mail.objects.get().text
        carry_out_waiting()
        (mail,) = box.came
    assert "The password is set" in set_by(link_on(mail.get_content()))
    assert signed_in(owner, NEW)


def test_without_a_mail_server_the_page_says_who_helps() -> None:
    with override_settings(EMAIL_BACKEND="django.core.mail.backends.filebased.EmailBackend"):
        page = words(Visitor().get(reverse("password-lost")))
    assert "No mail leaves this machine" in page
    assert 'name="email"' not in page


def tries(email: str, times: int, address: str = "203.0.113.7") -> int:
    """Try wrong passwords; return the status of the last."""
    sent = {"username": email, "password": "wrong"}
    answers = [Visitor(REMOTE_ADDR=address).post(reverse("sign-in"), sent) for _ in range(times)]
    return answers[-1].status_code


def test_capitals_and_blanks_make_no_other_name_for_the_lock(owner: User) -> None:
    reset()
    for number, email in enumerate([owner.email, owner.email.upper(), f" {owner.email} "] * 3):
        assert tries(email, 1, f"203.0.113.{number}") == 200
    assert tries(owner.email.title(), 1, "203.0.113.99") == 429
    assert signed_in(owner) is None
    reset()
    assert signed_in(owner)


def test_one_address_that_tries_many_names_is_rested(owner: User) -> None:
    reset()
    for number in range(9):
        assert tries(f"n{number}@example.com", 1) == 200
    assert tries("n10@example.com", 1) == 429
    assert tries(owner.email, 1, "203.0.113.8") == 200
    reset()


def person_form(person: User, **values: str) -> dict[str, str]:
    """The page of a person as sent."""
    sent = {"name": person.name, "email": person.email, "role": person.role, "is_active": "on"}
    return sent | {"key": "k1"} | values


@pytest.mark.parametrize("field", ["role", "is_active"])
def test_the_last_owner_stays_owner_and_signed_in(
    visitor: Visitor, owner: User, field: str
) -> None:
    sent = person_form(owner, role=Role.CREW) if field == "role" else person_form(owner)
    if field == "is_active":
        del sent["is_active"]
    url = reverse("person-edit", args=[owner.pk])
    answer = visitor.post(url, sent)
    assert answer.status_code == 422
    assert "the last owner" in words(answer)
    owner.refresh_from_db()
    assert (owner.role, owner.is_active) == (Role.OWNER, True)
    make_person(company_of(owner), Role.OWNER)
    assert visitor.post(url, sent).status_code in (302, 303)


def test_two_owners_who_change_one_person_at_once(visitor: Visitor, owner: User) -> None:
    person = make_person(company_of(owner), Role.CREW)
    url = reverse("person-edit", args=[person.pk])
    shown = words(visitor.get(url))
    match = re.search(r'name="seen" value="([^"]+)"', shown)
    assert match is not None
    User.objects.filter(pk=person.pk).update(phone="555-0177")
    answer = visitor.post(url, person_form(person, phone="555-0100", seen=match[1]))
    assert answer.status_code == 409
    assert "Somebody else saved this meanwhile" in words(answer)
    person.refresh_from_db()
    assert person.phone == "555-0177"
    again = re.search(r'name="seen" value="([^"]+)"', words(answer))
    assert again is not None
    visitor.post(url, person_form(person, phone="555-0100", seen=again[1]))
    person.refresh_from_db()
    assert person.phone == "555-0100"


def open_a_book(email: str, password: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Open the book of a company by the command that the README names."""
    monkeypatch.setattr("getpass.getpass", lambda _: password)
    call_command("company", "Example Floors", owner="Ada Lind", email=email, stdout=StringIO())


def test_the_first_owner_is_made_by_a_command_and_signs_in(
    client: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_a_book("ada@example.com", PASSWORD, monkeypatch)
    sent = {"username": "ada@example.com", "password": PASSWORD}
    assert client.post(reverse("sign-in"), sent).status_code == 302
    assert client.get(reverse("company")).status_code == 200
    assert User.objects.get().role == Role.OWNER


@pytest.mark.parametrize(
    ("email", "password", "sentence"),
    [
        ("ada@example.com", "short", "too short"),
        ("ada", PASSWORD, "valid email"),
        ("Owner@Example.com", PASSWORD, "signs in with"),
    ],
)
def test_a_first_owner_who_can_not_be_is_refused(
    monkeypatch: pytest.MonkeyPatch, email: str, password: str, sentence: str
) -> None:
    if email.startswith("Owner"):
        open_a_book(email.lower(), PASSWORD, monkeypatch)
    before = Company.objects.count()
    with pytest.raises(CommandError, match=sentence):
        open_a_book(email, password, monkeypatch)
    assert Company.objects.count() == before
