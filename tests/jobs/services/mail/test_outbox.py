"""Mail goes out once, to a real server on this machine, however that server behaves."""

from __future__ import annotations

import smtplib
from datetime import timedelta

import pytest
import time_machine
from django.db import transaction
from django.test import override_settings
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.models import Company, Errand, Mail
from jobs.services.files import path_of, store_file
from jobs.services.mail import sender
from jobs.services.mail.outbox import LINK, link_address, post, send_again
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_company
from tests.mail_server import mail_server

pytestmark = pytest.mark.django_db(transaction=True)

INES = "ines@example.com"
FILES = "django.core.mail.backends.filebased.EmailBackend"


@pytest.fixture
def company() -> Company:
    return make_company("Fernwood Floors", email="office@example.com")


def posted(company: Company, key: str = "one", to: str = INES, **values: object) -> Mail:
    words = {"kind": "note", "about": "job:1", "subject": "Your floor", "text": "Good evening."}
    return post(company=company, key=key, to=to, **words | values)  # type: ignore[arg-type]


def now(mail: Mail) -> Mail:
    return Mail.objects.get(pk=mail.pk)


def worked_after(**passed: float) -> int:
    """How many errands the worker does when so much time has passed."""
    with time_machine.travel(timezone.now() + timedelta(**passed), tick=False):
        return carry_out_waiting()


def test_a_mail_reaches_its_server_with_its_file(company: Company) -> None:
    pdf = store_file(
        company=company, content=b"%PDF-1.7", name="q.pdf", content_type="application/pdf"
    )
    with mail_server() as box:
        mail = posted(company, attachment=pdf, reply_to="office@example.com")
        assert carry_out_waiting() == 1
    (came,) = box.came
    assert (came["To"], came["Subject"], came["Reply-To"]) == (
        INES,
        "Your floor",
        "office@example.com",
    )
    assert came["From"] == "Fernwood Floors <office@rowbook.example.com>"
    (file,) = came.iter_attachments()
    assert (file.get_filename(), file.get_content()) == ("q.pdf", b"%PDF-1.7")
    assert (now(mail).state, now(mail).tries, now(mail).sent_at is not None) == ("sent", 1, True)


def test_posted_twice_under_a_key_it_goes_out_once(company: Company) -> None:
    with mail_server() as box:
        assert posted(company) == posted(company)
        carry_out_waiting()
        posted(company)
        carry_out_waiting()
    assert len(box.came) == 1


def test_what_is_taken_back_is_not_sent(company: Company) -> None:
    with mail_server() as box:
        with transaction.atomic():
            posted(company)
            transaction.set_rollback(True)
        assert carry_out_waiting() == 0
    assert box.came == []


def test_a_link_is_computed_when_the_mail_goes_out_and_kept_nowhere(company: Company) -> None:
    link_address("test-link")(lambda number: f"https://book.example.com/q/word-{number}")
    with mail_server() as box:
        mail = posted(company, text=f"Open {LINK} please.", link=("test-link", 7))
        carry_out_waiting()
    assert "https://book.example.com/q/word-7" in box.came[0].get_content()
    assert "word-7" not in str(Mail.objects.filter(pk=mail.pk).values())
    assert "word-7" not in str(list(Errand.objects.values()))


def test_without_a_server_nothing_is_posted_and_it_says_so(company: Company) -> None:
    refused = pytest.raises(BadValueError, match="text the link, or download the PDF")
    with override_settings(EMAIL_BACKEND=FILES), refused:
        posted(company)
    assert not Mail.objects.exists()


@pytest.mark.parametrize("to", ["ines", "ines@", "a@b.com\nBcc: c@d.com", "a@b.com, c@d.com", ""])
def test_what_is_no_address_is_refused_by_its_field(company: Company, to: str) -> None:
    with pytest.raises(BadValueError, match=r"such as ines@example\.com") as refused:
        posted(company, to=to)
    assert refused.value.field == "to"


def test_a_subject_of_several_lines_cannot_write_a_header(company: Company) -> None:
    with mail_server() as box:
        posted(company, subject="Floor\r\nBcc: c@example.com")
        carry_out_waiting()
    assert box.came[0]["Subject"] == "Floor Bcc: c@example.com"
    assert box.came[0]["Bcc"] is None


def test_a_server_that_is_down_is_tried_later_and_then_it_goes_out(company: Company) -> None:
    with mail_server(), override_settings(EMAIL_PORT=1):
        mail = posted(company)
        assert carry_out_waiting() == 1
        assert (now(mail).state, now(mail).tries) == ("queued", 1)
        assert "can't be reached" in now(mail).error
        assert worked_after(seconds=50) == 0
    with mail_server() as box:
        assert worked_after(seconds=70) == 1
        assert worked_after(days=2) == 0
    assert (now(mail).state, now(mail).error, len(box.came)) == ("sent", "", 1)


def test_a_server_that_stays_down_fails_the_mail_and_a_person_sends_it_again(
    company: Company,
) -> None:
    with mail_server(), override_settings(EMAIL_PORT=1):
        mail = posted(company)
        moment = timezone.now()
        for _ in range(10):
            moment += timedelta(hours=9)
            with time_machine.travel(moment, tick=False):
                carry_out_waiting()
    assert (now(mail).state, now(mail).tries) == ("failed", len(sender.PAUSES) + 1)
    with mail_server() as box:
        send_again(mail=mail)
        send_again(mail=mail)
        carry_out_waiting()
        assert send_again(mail=mail).state == "sent"
        assert carry_out_waiting() == 0
    assert (now(mail).state, len(box.came)) == ("sent", 1)


def test_of_two_addresses_one_is_refused_and_the_other_gets_it(company: Company) -> None:
    with mail_server() as box:
        box.refuses["old@example.com"] = "550 no such mailbox"
        good = posted(company, key="good")
        bad = posted(company, key="bad", to="old@example.com")
        carry_out_waiting()
    assert (now(good).state, now(bad).state) == ("sent", "failed")
    assert "did not take the address old@example.com: no such mailbox" in now(bad).error
    assert [mail["To"] for mail in box.came] == [INES]


def test_an_address_refused_for_now_is_tried_again(company: Company) -> None:
    with mail_server() as box:
        box.refuses[INES] = "451 come back later"
        mail = posted(company)
        carry_out_waiting()
        assert now(mail).state == "queued"
        box.refuses.clear()
        worked_after(minutes=2)
    assert (now(mail).state, len(box.came)) == ("sent", 1)


@pytest.mark.parametrize("says", ["silent", "hangs up"])
def test_a_server_that_took_it_and_never_said_so_gets_it_once(company: Company, says: str) -> None:
    with mail_server() as box:
        box.says = says
        mail = posted(company)
        carry_out_waiting()
        box.says = "250 OK"
        assert worked_after(days=2) == 0
    assert (now(mail).state, len(box.came)) == ("unsure", 1)
    assert "may have gone out or not" in now(mail).error


def test_a_server_slow_to_take_the_address_is_tried_again(company: Company) -> None:
    with mail_server(timeout=0.3) as box:
        box.slow = 0.8
        mail = posted(company)
        carry_out_waiting()
        assert now(mail).state == "queued"
        box.slow = 0
        worked_after(minutes=2)
    assert (now(mail).state, len(box.came)) == ("sent", 1)


@pytest.mark.parametrize(
    ("says", "state"), [("554 this looks like advertising", "failed"), ("452 full", "queued")]
)
def test_content_that_is_refused_was_not_sent(company: Company, says: str, state: str) -> None:
    with mail_server() as box:
        box.says = says
        mail = posted(company)
        carry_out_waiting()
    assert (now(mail).state, box.came) == (state, [])
    assert says in now(mail).error


@pytest.mark.parametrize(("password", "state"), [("wrong", "failed"), ("right", "sent")])
def test_a_wrong_password_is_said(company: Company, password: str, state: str) -> None:
    with mail_server(), override_settings(EMAIL_HOST_USER="us", EMAIL_HOST_PASSWORD=password):
        mail = posted(company)
        carry_out_waiting()
    assert now(mail).state == state
    said = "The mail server did not take the user name and password."
    assert now(mail).error == (said if state == "failed" else "")


def test_killed_between_the_servers_yes_and_our_note_it_is_not_sent_again(
    company: Company, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Killed(BaseException):
        """The process is gone."""

    def killed(*_: object) -> None:
        raise Killed

    with mail_server() as box:
        mail = posted(company)
        monkeypatch.setattr(sender, "_settle", killed)
        with pytest.raises(Killed):
            carry_out_waiting()
        monkeypatch.undo()
        assert (now(mail).state, len(box.came)) == ("sending", 1)
        assert worked_after(hours=2) == 1
        assert worked_after(days=2) == 0
    assert (now(mail).state, len(box.came)) == ("unsure", 1)


def test_a_sender_that_comes_back_late_puts_a_doubt_right(company: Company) -> None:
    with mail_server() as box:
        mail = posted(company)
        claimed = sender._claimed(mail.pk)
        assert claimed is not None
        assert sender._claimed(mail.pk) is None
        carry_out_waiting()
        assert (now(mail).state, box.came) == ("unsure", [])
        sender._settle(claimed, Mail.State.SENT, "")
    assert now(mail).state == "sent"


def test_a_file_that_is_gone_is_said_and_nothing_goes_out(company: Company) -> None:
    pdf = store_file(company=company, content=b"lost", name="q.pdf", content_type="application/pdf")
    path_of(pdf.sha256).unlink()
    with mail_server() as box:
        mail = posted(company, attachment=pdf)
        carry_out_waiting()
    assert (now(mail).state, box.came) == ("failed", [])
    assert "not in the folder of files" in now(mail).error


def test_an_unexpected_error_leaves_no_mail_between_two_states(
    company: Company, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stumbles(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(smtplib.SMTP, "ehlo_or_helo_if_needed", stumbles)
    with mail_server():
        mail = posted(company)
        carry_out_waiting()
    assert (now(mail).state, now(mail).error) == ("failed", sender.BROKE_DOWN)
