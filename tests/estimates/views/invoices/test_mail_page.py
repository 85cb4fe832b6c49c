"""An invoice goes by mail with its PDF; overdue ones and unpaid deposits wait on the office."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client as Visitor
from django.test import override_settings
from django.urls import reverse
from pytest_django.asserts import assertRedirects

from estimates.models import Invoice
from jobs.clock import today_of
from jobs.models import Client, Job, Mail, User
from jobs.services.files import read_file
from jobs.worker.worker import carry_out_waiting
from tests.estimates.a_job import an_agreed_job
from tests.estimates.services.invoices.test_invoices import issue as issue_at
from tests.estimates.views.invoices.test_pages import issue, page_of, pay
from tests.mail_server import mail_server

INES = "ines@example.com"
FILES = "django.core.mail.backends.filebased.EmailBackend"


@pytest.fixture
def job(owner: User) -> Job:
    job = an_agreed_job(owner)
    Client.objects.filter(pk=job.client_id).update(email=INES)
    return Job.objects.get(pk=job.pk)


def home(visitor: Visitor) -> str:
    return visitor.get(reverse("job-list")).content.decode()


def mail(visitor: Visitor, invoice: Invoice, to: str = INES) -> int:
    answer = visitor.post(reverse("invoice-mail", args=[invoice.pk]), {"to": to, "key": "m"})
    return answer.status_code


@pytest.mark.django_db(transaction=True)
def test_it_is_mailed_once_with_its_pdf_and_the_sum_in_words(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    assert f"{INES}</textarea>" in page_of_tags(visitor, invoice)
    with mail_server() as box:
        assert [mail(visitor, invoice), mail(visitor, invoice)] == [303, 303]
        carry_out_waiting()
    (came,) = box.came
    (file,) = came.iter_attachments()
    assert file.get_content() == read_file(invoice.pdf)
    body = came.get_body(("plain",))
    assert body is not None
    # 30 % of 586.29 is 175.887; a deposit is rounded down.
    assert f"invoice {invoice.label} for 4 Cooper Lane: Deposit, $175.88" in body.get_content()
    assert "sent" in page_of(visitor, "invoice", invoice.pk)


def page_of_tags(visitor: Visitor, invoice: Invoice) -> str:
    return visitor.get(reverse("invoice", args=[invoice.pk])).content.decode()


@pytest.mark.django_db
def test_without_a_mail_server_the_pdf_is_downloaded(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    with override_settings(EMAIL_BACKEND=FILES):
        shown = page_of_tags(visitor, invoice)
        assert mail(visitor, invoice) == 422
    assert "No mail server is set" in shown
    assert f'href="{reverse("invoice-file", args=[invoice.pk])}" download' in shown
    assert not Mail.objects.exists()


@pytest.mark.django_db
def test_a_bad_address_and_a_void_invoice_are_refused(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    assert mail(visitor, invoice, "tom") == 422
    visitor.post(reverse("invoice-void", args=[invoice.pk]), {"key": "v", "reason": "Twice"})
    assert mail(visitor, invoice) == 422
    assert "Mail the invoice" not in page_of_tags(visitor, invoice)
    assert not Mail.objects.exists()


@pytest.mark.django_db
def test_a_failure_is_shown_and_sent_again_from_there(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    mail(visitor, invoice)
    Mail.objects.update(state="failed", error="The address is unknown.")
    assert "The address is unknown." in page_of(visitor, "invoice", invoice.pk)
    assert f"did not go out: Invoice {invoice.label}" in home(visitor)
    answer = visitor.post(reverse("mail-again", args=[Mail.objects.get().pk]))
    assertRedirects(answer, reverse("invoice", args=[invoice.pk]), status_code=303)


@pytest.mark.django_db
def test_a_deposit_waits_on_home_until_it_is_paid_whole(visitor: Visitor, job: Job) -> None:
    deposit = issue(visitor, job)
    assert f"Invoice {deposit.label}, deposit not paid yet" in home(visitor)
    assert "$175.88 open" in home(visitor)
    pay(visitor, deposit, "100", "first")
    assert "$75.88 open" in home(visitor)
    pay(visitor, deposit, "75.88", "rest")
    assert f"Invoice {deposit.label}" not in home(visitor)


@pytest.mark.django_db
def test_another_invoice_waits_on_home_from_the_day_after_its_last(
    visitor: Visitor, job: Job, owner: User
) -> None:
    today = today_of(job.company)
    deposit = issue(visitor, job)
    pay(visitor, deposit, f"{deposit.payable}")
    final = issue_at(job, owner, today=today, due_on=today)
    assert f"Invoice {final.label}" not in home(visitor)
    before = today - timedelta(days=2)
    Invoice.objects.filter(pk=final.pk).update(due_on=today - timedelta(days=1), issued_on=before)
    assert f"Invoice {final.label}, overdue since" in home(visitor)
    visitor.post(reverse("invoice-void", args=[final.pk]), {"key": "v", "reason": "Twice"})
    assert "overdue since" not in home(visitor)
