"""A quote keeps the number that it was issued under, on paper, phone, office page and in mail."""

from __future__ import annotations

from io import BytesIO

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from pypdf import PdfReader

from estimates.models import Quote, SalesTerms
from estimates.readers.quote import stored_quote
from estimates.services.sending.words import subject_of
from jobs.models import Job, User
from jobs.services.files import read_file
from tests.builders import make_planned_job
from tests.estimates.a_job import TODAY, a_quote, accepted, company_of
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.mark.usefixtures("set_paper")
def test_a_quote_keeps_its_number_when_the_company_numbers_otherwise(
    visitor: Visitor, owner: User
) -> None:
    sales = SalesTerms.objects.create(company=company_of(owner), numbering="year")
    quote = a_quote(owner)
    called = f"{TODAY.year}-{quote.job.number:03d}"
    SalesTerms.objects.filter(pk=sales.pk).update(numbering="job")
    assert Quote.objects.get(pk=quote.pk).called == stored_quote(quote).label == called
    pages = PdfReader(BytesIO(read_file(quote.pdf))).pages
    assert called in " ".join(page.extract_text() for page in pages)
    assert f"<b>{called}</b>" in words(Visitor().get(reverse("quote-public", args=[quote.token])))
    assert f"<h1>Quote {called}</h1>" in words(visitor.get(reverse("quote", args=[quote.pk])))
    assert f"Quote {called}</a>" in words(visitor.get(reverse("job-quotes", args=[quote.job_id])))
    assert f"Quote {called} for your floor" in subject_of(quote)
    after = a_quote(owner, make_planned_job(company_of(owner)), key="after")
    assert after.called == f"{after.job.number}-1"


def test_an_older_quote_without_number_words_is_called_by_its_job(owner: User) -> None:
    quote = a_quote(owner)
    Quote.objects.filter(pk=quote.pk).update(label="")
    assert Quote.objects.get(pk=quote.pk).called == f"{quote.job.number}-1"


def test_the_quotes_of_a_job_lead_to_the_draft_and_then_to_the_invoices(
    visitor: Visitor, owner: User
) -> None:
    quote = a_quote(owner)
    page = reverse("job-quotes", args=[quote.job_id])
    draft, invoices = (
        reverse(name, args=[quote.job_id]) for name in ("quote-draft", "job-invoices")
    )
    assert f'href="{draft}">Open the draft' in words(visitor.get(page))
    assert invoices not in words(visitor.get(reverse("quote", args=[quote.pk])))
    accepted(quote)
    assert Job.objects.get(pk=quote.job_id).agreed_scope_id
    assert f'href="{invoices}">Open the invoices' in words(visitor.get(page))
    assert f'href="{draft}">Open the draft' not in words(visitor.get(page))
    assert f'href="{invoices}">Open' in words(visitor.get(reverse("quote", args=[quote.pk])))
