"""A change order by mail: to the client with paper and link, and to both once there is a word."""

from __future__ import annotations

import threading

import pytest
from django.db import connection

from estimates.models import ChangeOffer, ChangeOrder
from estimates.services.orders.answers import Whence, accept_change, decline_change
from estimates.services.orders.figures import draft_price
from estimates.services.orders.mails import mail_change
from estimates.services.orders.offers import renew_link, send_change, withdraw_change, word_of
from jobs.domain.checks import BadValueError
from jobs.models import Client, Company, Job, Mail, User
from jobs.readers.today import waiting_for
from jobs.services.files import read_file
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_person
from tests.estimates.a_job import TODAY, an_agreed_job, an_owner, company_of
from tests.estimates.services.orders.test_offers import a_shelf
from tests.mail_server import Mailbox, mail_server

INES = "ines@example.com"
BY_LINK = Whence(ip="192.0.2.7", agent="Phone")


def a_change(owner: User) -> ChangeOffer:
    """Two hours at a shelf, sent to somebody with an e-mail address."""
    job = an_agreed_job(owner)
    Client.objects.filter(pk=job.client_id).update(email=INES)
    draft = a_shelf(Job.objects.get(pk=job.pk), owner)
    price = draft_price(draft, TODAY)
    amount = price.difference
    return send_change(
        draft=draft, user=owner, key="offer", amount=amount, seen=price.seen, today=TODAY
    )


@pytest.fixture
def offer(owner: User) -> ChangeOffer:
    return a_change(owner)


def accept(offer: ChangeOffer) -> ChangeOrder:
    return accept_change(offer=offer, name="Ines Okafor", today=TODAY, whence=BY_LINK)


def texts(box: Mailbox, to: str) -> list[str]:
    bodies = [mail.get_body(("plain",)) for mail in box.to(to)]
    return [str(body.get_content()) for body in bodies if body is not None]


@pytest.mark.django_db(transaction=True)
def test_it_is_mailed_once_with_its_paper_and_the_link_of_now(
    offer: ChangeOffer, owner: User
) -> None:
    with mail_server() as box:
        for _ in range(2):
            mail_change(offer=offer, user=owner, key="k", to=[INES, INES], today=TODAY)
        renew_link(offer=offer, user=owner)
        carry_out_waiting()
    (mail,) = box.came
    (file,) = mail.iter_attachments()
    assert file.get_content() == read_file(offer.pdf)
    offer.link.refresh_from_db()
    assert f"/c/{word_of(offer.link)}" in texts(box, INES)[0]
    assert word_of(offer.link) not in str(list(Mail.objects.values()))


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("word", ["accepted", "declined"])
def test_a_word_on_it_reaches_every_owner_once_and_the_client(
    offer: ChangeOffer, owner: User, word: str
) -> None:
    other = make_person(company_of(owner), email="second@example.com")
    make_person(company_of(owner), email="gone@example.com", is_active=False)
    with mail_server() as box:
        for _ in range(2):
            if word == "accepted":
                accept(offer)
            else:
                decline_change(offer=offer, reason="Too dear", whence=BY_LINK)
        carry_out_waiting()
    assert sorted(mail["To"] for mail in box.came) == sorted([INES, owner.email, other.email])
    for mail in box.came:
        assert f"Change order {offer.number} is {word}" in mail["Subject"]
        (file,) = mail.iter_attachments()
        assert file.get_content() == read_file(offer.pdf)
    ours, theirs = texts(box, owner.email)[0], texts(box, INES)[0]
    assert f"/changes/{offer.pk}" in ours
    assert word_of(offer.link) not in ours
    assert f"/c/{word_of(offer.link)}" in theirs
    assert ("Too dear" in ours) == (word == "declined")


@pytest.mark.django_db
def test_an_owner_whom_no_mail_can_reach_does_not_keep_a_client_from_accepting(
    offer: ChangeOffer, owner: User
) -> None:
    User.objects.filter(pk=owner.pk).update(email="owner-at-nowhere")
    accept(offer)
    assert list(Mail.objects.values_list("to", flat=True)) == [INES]


@pytest.mark.django_db
def test_what_is_withdrawn_is_not_mailed(offer: ChangeOffer, owner: User) -> None:
    withdraw_change(offer=offer, user=owner)
    with pytest.raises(BadValueError, match="withdrawn"):
        mail_change(offer=offer, user=owner, key="k", to=[INES], today=TODAY)
    assert not Mail.objects.exists()


@pytest.mark.django_db
def test_a_mail_of_it_that_did_not_go_out_waits_on_the_office(
    offer: ChangeOffer, owner: User
) -> None:
    mail_change(offer=offer, user=owner, key="k", to=[INES], today=TODAY)
    Mail.objects.update(state="failed", error="The address is unknown.")
    lines = waiting_for(Company.objects.get(pk=offer.job.company_id))
    (line,) = [each for each in lines if each.kind == "mail"]
    assert f"Mail to {INES} did not go out: Change order {offer.number}" in line.text
    assert line.url == f"/changes/{offer.pk}#mails"


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("turn", range(4))
def test_accepted_and_withdrawn_at_the_same_moment_one_of_them_counts(turn: int) -> None:
    owner = an_owner()
    offer = a_change(owner)
    agreed = Job.objects.get(pk=offer.job_id).agreed_scope_id
    start, refused = threading.Barrier(2), []

    def at_once(act: object, **words: object) -> None:
        start.wait()
        try:
            act(offer=ChangeOffer.objects.get(pk=offer.pk), **words)  # type: ignore[operator]
        except BadValueError as too_late:
            refused.append(str(too_late))
        finally:
            connection.close()

    word = {"name": "Ines Okafor", "today": TODAY, "whence": BY_LINK}
    both = [
        threading.Thread(target=at_once, args=[accept_change], kwargs=word),
        threading.Thread(target=at_once, args=[withdraw_change], kwargs={"user": owner}),
    ]
    for thread in both[:: 1 if turn % 2 else -1]:
        thread.start()
    for thread in both:
        thread.join()
    now = ChangeOffer.objects.get(pk=offer.pk)
    taken = ChangeOrder.objects.filter(job=offer.job_id).exists()
    assert taken != (now.withdrawn_at is not None)
    assert (now.answer == "accepted") == taken
    assert len(refused) == 1
    assert Job.objects.get(pk=offer.job_id).agreed_scope_id == (offer.scope_id if taken else agreed)
    assert Mail.objects.filter(kind="change-notice").exists() == taken
