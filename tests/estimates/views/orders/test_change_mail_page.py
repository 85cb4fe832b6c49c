"""The office mails a change order from its page, and its first page says what came of it."""

from __future__ import annotations

from urllib.parse import quote

import pytest
from django.test import Client as Visitor
from django.test import override_settings
from django.urls import reverse
from pytest_django.asserts import assertRedirects

from estimates.models import ChangeOffer, ChangeText
from estimates.services.orders.answers import decline_change
from estimates.services.orders.figures import draft_price
from estimates.services.orders.offers import send_change, word_of
from jobs.clock import today_of
from jobs.models import Client, Job, Mail, User
from tests.estimates.a_job import an_agreed_job, company_of
from tests.estimates.services.orders.test_change_mails import BY_LINK, INES
from tests.estimates.services.orders.test_offers import a_shelf
from tests.reading import words

pytestmark = pytest.mark.django_db
FILES = "django.core.mail.backends.filebased.EmailBackend"


@pytest.fixture
def offer(owner: User) -> ChangeOffer:
    """A change sent today to somebody with a phone and an address."""
    job = an_agreed_job(owner)
    Client.objects.filter(pk=job.client_id).update(email=INES, phone="510 555-0101")
    draft, today = a_shelf(Job.objects.get(pk=job.pk), owner), today_of(company_of(owner))
    price = draft_price(draft, today)
    fields = {"amount": price.difference, "seen": price.seen, "today": today}
    return send_change(draft=draft, user=owner, key="offer", **fields)  # type: ignore[arg-type]


def page(visitor: Visitor, offer: ChangeOffer) -> str:
    return visitor.get(reverse("change-offer", args=[offer.pk])).content.decode()


def home(visitor: Visitor) -> str:
    return words(visitor.get(reverse("job-list")))


def test_text_and_mail_stand_side_by_side_and_the_mail_is_posted_once(
    visitor: Visitor, offer: ChangeOffer
) -> None:
    shown = page(visitor, offer)
    assert 'href="sms:5105550101?' in shown
    assert "Mail the change" in shown
    for _ in range(2):
        sent = {"mail-to": INES, "mail-key": "k"}
        answer = visitor.post(reverse("change-mail", args=[offer.pk]), sent)
        assertRedirects(answer, reverse("change-offer", args=[offer.pk]), status_code=303)
    assert Mail.objects.get().about == f"change:{offer.pk}"
    assert f'<td class="lead">{INES}</td>' in page(visitor, offer)


def test_a_change_sent_from_a_phone_is_noted_once(visitor: Visitor, offer: ChangeOffer) -> None:
    for _ in range(2):
        answer = visitor.post(reverse("change-texted", args=[offer.pk]), {"texted-key": "k"})
        assertRedirects(answer, reverse("change-offer", args=[offer.pk]), status_code=303)
    text = ChangeText.objects.get()
    assert (text.to, text.name) == ("510 555-0101", text.offer.issued_by.name)  # type: ignore[union-attr]
    assert "Texted to 510 555-0101 by" in page(visitor, offer)


def test_a_change_that_was_declined_is_not_noted_as_texted(
    visitor: Visitor, offer: ChangeOffer
) -> None:
    decline_change(offer=offer, reason="", whence=BY_LINK)
    answer = visitor.post(reverse("change-texted", args=[offer.pk]), {"texted-key": "k"})
    assert "a change order that still waits for a word" in words(answer)
    assert not ChangeText.objects.exists()


@override_settings(SITE_URL="https://floors.example.com")
def test_the_page_the_text_and_the_mail_name_one_address(
    visitor: Visitor, offer: ChangeOffer
) -> None:
    link = f"https://floors.example.com/c/{word_of(offer.link)}"
    shown = page(visitor, offer)
    assert f'href="{link}"' in shown
    assert quote(link, safe="") in shown
    assert "testserver" not in shown


def test_without_a_mail_server_it_is_said_plainly(visitor: Visitor, offer: ChangeOffer) -> None:
    with override_settings(EMAIL_BACKEND=FILES):
        shown = page(visitor, offer)
        sent = {"mail-to": INES, "mail-key": "k"}
        answer = visitor.post(reverse("change-mail", args=[offer.pk]), sent)
    assert "No mail server is set" in shown
    assert "Mail the change" not in shown
    assert answer.status_code == 422
    assert not Mail.objects.exists()


def test_a_bad_address_is_named_and_what_was_typed_stays(
    visitor: Visitor, offer: ChangeOffer
) -> None:
    sent = {"mail-to": f"{INES} tom", "mail-key": "k"}
    answer = visitor.post(reverse("change-mail", args=[offer.pk]), sent)
    assert answer.status_code == 422
    assert "“tom” is no address" in answer.content.decode()
    assert f"{INES} tom</textarea>" in answer.content.decode()


def test_a_failure_is_shown_and_sent_again_from_there(visitor: Visitor, offer: ChangeOffer) -> None:
    sent = {"mail-to": INES, "mail-key": "k"}
    visitor.post(reverse("change-mail", args=[offer.pk]), sent)
    Mail.objects.update(state="failed", error="The mail server did not take the address.")
    assert "did not take the address" in page(visitor, offer)
    answer = visitor.post(reverse("mail-again", args=[Mail.objects.get().pk]))
    assertRedirects(answer, reverse("change-offer", args=[offer.pk]), status_code=303)
    assert Mail.objects.get().state == "queued"


def test_accepted_by_link_home_says_so_until_it_is_put_aside(
    visitor: Visitor, offer: ChangeOffer
) -> None:
    link = reverse("change-public", args=[word_of(offer.link)])
    assert Visitor().post(link, {"name": "Ines Okafor", "read": "on"}).status_code == 302
    assert f"Change order {offer.number} is accepted by Ines Okafor" in home(visitor)
    visitor.post(reverse("change-noted", args=[offer.pk]))
    assert "is accepted by" not in home(visitor)


def test_declined_home_says_why_until_it_is_put_aside(visitor: Visitor, offer: ChangeOffer) -> None:
    decline_change(offer=offer, reason="We keep the shelf", whence=BY_LINK)
    assert f"Change order {offer.number} is declined: “We keep the shelf”" in home(visitor)
    visitor.post(reverse("change-noted", args=[offer.pk]))
    assert "is declined" not in home(visitor)


def test_put_aside_before_there_is_a_word_changes_nothing(
    visitor: Visitor, offer: ChangeOffer
) -> None:
    visitor.post(reverse("change-noted", args=[offer.pk]))
    assert ChangeOffer.objects.get(pk=offer.pk).noted_at is None


def test_a_change_leads_to_the_invoices_of_its_job(visitor: Visitor, offer: ChangeOffer) -> None:
    assert reverse("job-invoices", args=[offer.job_id]) in page(visitor, offer)
