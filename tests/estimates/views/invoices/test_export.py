"""Invoices and payments as a CSV file: of this company alone, none left out."""

from __future__ import annotations

import csv
import io

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import InvoicePayment
from jobs.models import Job
from tests.builders import make_company, make_person
from tests.estimates.views.invoices.test_pages import issue, pay

pytestmark = pytest.mark.django_db


def rows_of(visitor: Visitor) -> list[dict[str, str]]:
    answer = visitor.get(reverse("invoices-export"))
    assert answer["Content-Type"].startswith("text/csv")
    assert "attachment" in answer["Content-Disposition"]
    text = answer.content.decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_every_invoice_and_payment_is_a_row(visitor: Visitor, job: Job) -> None:
    job.client.name = "=Okafor"
    job.client.save()
    invoice = issue(visitor, job)
    pay(visitor, invoice, "20.00")
    payment = InvoicePayment.objects.get()
    back = reverse("payment-back", args=[payment.pk])
    visitor.post(back, {"key": "b", "reason": "Check returned"})
    rows = rows_of(visitor)
    assert [row["Entry"] for row in rows] == ["Invoice", "Payment", "Payment taken back"]
    assert [row["Paid"] for row in rows] == ["", "20.00", "-20.00"]
    assert rows[0]["To be paid"] == f"{invoice.payable}"
    assert {row["Billed to"] for row in rows} == {"'=Okafor"}
    assert rows[2]["Note"] == "Check returned"


def test_a_void_invoice_is_a_row_that_says_so(visitor: Visitor, job: Job) -> None:
    invoice = issue(visitor, job)
    visitor.post(reverse("invoice-void", args=[invoice.pk]), {"key": "v", "reason": "Wrong day"})
    (row,) = rows_of(visitor)
    assert (row["State"], row["Note"]) == ("void", "Wrong day")


def test_another_company_gets_none_of_it(visitor: Visitor, job: Job) -> None:
    issue(visitor, job)
    stranger = Visitor()
    stranger.force_login(make_person(make_company("Other Floors")))
    assert rows_of(stranger) == []
