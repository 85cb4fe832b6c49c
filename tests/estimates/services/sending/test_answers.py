"""A homeowner's word counts once, while the quote stands, and all concerned hear of it."""

from __future__ import annotations

import threading
from datetime import timedelta

import pytest
from django.db import connection

from estimates.access import quote_link
from estimates.models import Acceptance, Quote, QuoteEvent, QuoteLink
from estimates.readers.sending.states import state_of
from estimates.services import quotes as money
from estimates.services.sending import answers
from estimates.services.sending.links import renew_link
from estimates.services.sending.sending import answer_question, mail_quote, note_texted
from jobs.domain.checks import BadValueError
from jobs.models import Client, Job, Mail, User
from jobs.services.files import read_file
from jobs.worker.worker import carry_out_waiting
from tests.estimates.a_job import TODAY, a_quote, an_owner
from tests.mail_server import mail_server

INES = "ines@example.com"


@pytest.fixture
def quote(owner: User) -> Quote:
    """A quote for somebody with an e-mail address and a phone."""
    quote = a_quote(owner)
    Client.objects.filter(jobs=quote.job).update(email=INES, phone="(510) 555-0101")
    return Quote.objects.get(pk=quote.pk)


def accepted(link: QuoteLink, **changes: object) -> Acceptance:
    words = {"name": "Ines Okafor", "choice": "", "consent": True, "today": TODAY}
    words |= {"ip": "203.0.113.7", "agent": "A phone"}
    return answers.accept(link=link, **words | changes)  # type: ignore[arg-type]


def kinds(quote: Quote) -> list[str]:
    return list(quote.events.values_list("kind", flat=True))


@pytest.mark.django_db
def test_an_acceptance_is_recorded_with_when_and_from_where(quote: Quote) -> None:
    word = accepted(quote.link, agent="Browser " * 100)
    event = quote.events.get(kind="accepted")
    assert (event.name, event.ip, event.at) == ("Ines Okafor", "203.0.113.7", word.at)
    assert (len(event.agent), event.link) == (300, quote.link)
    assert state_of(quote, TODAY) == "accepted"
    assert Job.objects.get(pk=quote.job_id).agreed_scope == quote.estimate.scope


@pytest.mark.django_db
def test_a_second_acceptance_changes_nothing_and_posts_nothing(quote: Quote) -> None:
    first = accepted(quote.link)
    posted = Mail.objects.count()
    assert accepted(quote.link, name="Somebody Else") == first
    assert Acceptance.objects.get().name == "Ines Okafor"
    assert Mail.objects.count() == posted
    assert kinds(quote) == ["accepted", "seen"]


@pytest.mark.django_db
def test_without_consent_nothing_is_agreed(quote: Quote) -> None:
    with pytest.raises(BadValueError, match="without it nothing is agreed"):
        accepted(quote.link, consent=False)
    assert kinds(quote) == []


@pytest.mark.django_db(transaction=True)
def test_both_get_their_copies_by_mail(quote: Quote, owner: User) -> None:
    with mail_server() as box:
        accepted(quote.link)
        carry_out_waiting()
    (ours,), (theirs,) = box.to(owner.email), box.to(INES)
    assert len(box.came) == 2
    for mail in (ours, theirs):
        (file,) = mail.iter_attachments()
        assert file.get_content() == read_file(quote.pdf)
    assert "is accepted" in ours["Subject"]
    body = theirs.get_body(("plain",))
    assert body is not None
    assert f"/q/{quote.token}" in body.get_content()
    ours_body = ours.get_body(("plain",))
    assert ours_body is not None
    assert quote.token not in ours_body.get_content()
    assert f"/quotes/{quote.pk}" in ours_body.get_content()


@pytest.mark.django_db(transaction=True)
def test_a_quote_is_mailed_with_its_paper_and_its_link_to_each_address(
    quote: Quote, owner: User
) -> None:
    with mail_server() as box:
        both = [INES, "tom@example.com", INES]
        first = mail_quote(quote=quote, user=owner, key="k", to=both)
        assert mail_quote(quote=quote, user=owner, key="k", to=both) == first
        assert quote.token not in str(list(Mail.objects.values()))
        carry_out_waiting()
    assert sorted(mail["To"] for mail in box.came) == [INES, "tom@example.com"]
    for mail in box.came:
        body = mail.get_body(("plain",))
        assert body is not None
        assert f"/q/{quote.token}" in body.get_content()
        (file,) = mail.iter_attachments()
        assert file.get_content() == read_file(quote.pdf)
    assert state_of(quote, TODAY) == "sent"


@pytest.mark.django_db
def test_a_bad_address_among_good_ones_posts_nothing(quote: Quote, owner: User) -> None:
    with pytest.raises(BadValueError, match="to is 'tom'"):
        mail_quote(quote=quote, user=owner, key="k", to=[INES, "tom"])
    assert not Mail.objects.exists()
    assert kinds(quote) == []


@pytest.mark.django_db
def test_a_withdrawn_quote_is_neither_mailed_nor_texted(quote: Quote, owner: User) -> None:
    money.withdraw_quote(quote=quote, user=owner)
    with pytest.raises(BadValueError, match="quote is 'withdrawn'"):
        mail_quote(quote=quote, user=owner, key="k", to=[INES])
    with pytest.raises(BadValueError, match="quote is 'withdrawn'"):
        note_texted(quote=quote, user=owner, key="k", to="")


@pytest.mark.django_db(transaction=True)
def test_a_question_is_told_and_its_answer_comes_back(quote: Quote, owner: User) -> None:
    with mail_server() as box:
        question = answers.ask(link=quote.link, text="Who moves the piano?", name="Ines")
        assert answers.ask(link=quote.link, text="Who moves the piano? ", name="Ines") == question
        answer_question(question=question, user=owner, key="a", text="We do, two of us.")
        carry_out_waiting()
    (ours,), (theirs,) = box.to(owner.email), box.to(INES)
    assert "has a question" in ours["Subject"]
    assert "Who moves the piano?" in ours.get_content()
    assert "We do, two of us." in theirs.get_content()
    assert "> Who moves the piano?" in theirs.get_content()
    assert QuoteEvent.objects.get(pk=question.pk).noted_at is not None
    assert state_of(quote, TODAY) == "seen"


@pytest.mark.django_db
def test_questions_have_words_and_an_end(quote: Quote) -> None:
    for bad in ("", "  \n", "x" * 2001):
        with pytest.raises(BadValueError, match="up to 2000 characters"):
            answers.ask(link=quote.link, text=bad, name="")
    for number in range(answers.MOST_QUESTIONS):
        answers.ask(link=quote.link, text=f"Question {number}?", name="")
    with pytest.raises(BadValueError, match="call us for more"):
        answers.ask(link=quote.link, text="One more?", name="")


@pytest.mark.django_db
def test_a_refusal_counts_once_and_ends_the_quote(quote: Quote) -> None:
    first = answers.decline(link=quote.link, reason="Too dear <script>alert(1)</script>")
    assert answers.decline(link=quote.link, reason="Another") == first
    assert state_of(quote, TODAY) == "declined"
    with pytest.raises(BadValueError, match="quote is 'declined'"):
        accepted(quote.link)


@pytest.mark.django_db
def test_what_is_accepted_is_not_declined_afterwards(quote: Quote) -> None:
    accepted(quote.link)
    with pytest.raises(BadValueError, match="quote is 'accepted'"):
        answers.decline(link=quote.link, reason="")


@pytest.mark.django_db
def test_a_superseded_or_expired_quote_takes_no_word(owner: User, quote: Quote) -> None:
    with pytest.raises(BadValueError, match="still valid"):
        accepted(quote.link, today=quote.valid_until + timedelta(days=1))
    a_quote(owner, quote.job, key="newer")
    assert state_of(quote, TODAY) == "superseded"
    with pytest.raises(BadValueError, match="the newest one, quote 2"):
        accepted(quote.link)
    with pytest.raises(BadValueError, match="superseded"):
        answers.decline(link=quote.link, reason="")


@pytest.mark.django_db
def test_a_word_through_a_link_renewed_meanwhile_comes_too_late(quote: Quote, owner: User) -> None:
    opened = QuoteLink.objects.get(quote=quote)
    renew_link(quote=quote, user=owner)
    with pytest.raises(BadValueError, match="the newest link"):
        accepted(opened)


@pytest.mark.django_db
def test_seen_is_noted_once_and_the_office_hears_of_it_once(quote: Quote) -> None:
    answers.note_seen(link=quote.link)
    answers.note_seen(link=quote.link)
    assert kinds(quote) == ["seen"]
    assert Mail.objects.filter(subject__contains="was opened").count() == 1


@pytest.mark.django_db
def test_a_quote_withdrawn_since_the_page_was_opened_is_not_accepted(
    quote: Quote, owner: User
) -> None:
    opened = QuoteLink.objects.select_related("quote").get(quote=quote)
    money.withdraw_quote(quote=Quote.objects.get(pk=quote.pk), user=owner)
    assert opened.quote.withdrawn_at is None
    with pytest.raises(BadValueError, match="quote is 'withdrawn'"):
        accepted(opened)
    assert not Acceptance.objects.exists()


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("turn", range(4))
def test_accepted_and_withdrawn_at_the_same_moment_one_of_them_counts(turn: int) -> None:
    owner = an_owner()
    quote = a_quote(owner)
    opened = QuoteLink.objects.select_related("quote").get(quote=quote)
    start, refused = threading.Barrier(2), []

    def at_once(act: object, **words: object) -> None:
        start.wait()
        try:
            act(**words)  # type: ignore[operator]
        except BadValueError as too_late:
            refused.append(str(too_late))
        finally:
            connection.close()

    both = [
        threading.Thread(target=at_once, args=[accepted], kwargs={"link": opened}),
        threading.Thread(
            target=at_once, args=[money.withdraw_quote], kwargs={"quote": quote, "user": owner}
        ),
    ]
    for thread in both[:: 1 if turn % 2 else -1]:
        thread.start()
    for thread in both:
        thread.join()
    now = Quote.objects.get(pk=quote.pk)
    taken = Acceptance.objects.filter(quote=quote).exists()
    assert taken != (now.withdrawn_at is not None)
    assert len(refused) == 1
    agreed = Job.objects.get(pk=quote.job_id).agreed_scope_id
    assert (agreed is not None) == taken


@pytest.mark.django_db
def test_the_door_finds_a_link_by_its_word(quote: Quote) -> None:
    assert quote_link(None, quote.token).quote == quote  # type: ignore[arg-type]
