"""What is offered, sent and answered, in so many rows more, for the lists of `tests.growing`."""

from __future__ import annotations

import json

from estimates.models import Ballpark, JobAllowance, JobLine, PriceItem, QuoteEvent, StateNotice
from estimates.services.sending.notices import about
from jobs.models import Mail, SuppliedMaterial
from tests.builders import make_job, make_product
from tests.growing import FIRST_DAY, OwnersBook
from tests.stages import accept, make_quote


def notices(book: OwnersBook, number: int) -> None:
    """Notices that the state of the company asks for."""
    values = {"title": f"Notice {number}", "text": "Read this.", "place": number}
    StateNotice.objects.create(company=book.company, **values)


def allowances(book: OwnersBook, number: int) -> None:
    """Allowances on the price of the job."""
    values = {"units": 1, "unit": "hour", "unit_price": 80, "evidence": "It shows."}
    JobAllowance.objects.create(job=book.job, label=f"Glue {number}", **values)


def ballparks(book: OwnersBook, number: int) -> None:
    """Ballparks, every other one started as a job."""
    job = make_job(book.company) if number % 2 else None
    values = {"area_ft2": 370, "least": 2000, "most": 2500, "made_on": FIRST_DAY, "job": job}
    Ballpark.objects.create(company=book.company, size=f"{number} x 10", **values)


def ballpark_planks(book: OwnersBook, number: int) -> None:
    """Products with a price of their own, by the square foot."""
    make_product(book.company, name=f"Larch {number}")
    price = {"code": "cartons", "item": f"Larch {number}", "label": "Flooring", "unit": "carton"}
    values = price | {"amount": 60, "effective_from": FIRST_DAY.replace(year=2020)}
    PriceItem.objects.create(company=book.company, **values)


def counts(book: OwnersBook, number: int) -> None:
    """Materials of the job that its client supplies, each counted and one of it faulty."""
    given = {"code": "cartons", "item": f"Larch {number}", "whose": "client"}
    row = SuppliedMaterial.objects.create(job=book.job, **given)
    row.receipts.create(counted=3, faulty=1, faults="wet", day=FIRST_DAY, user=book.owner)


def quotes(book: OwnersBook, number: int) -> None:
    """Quotes of the accepted job, every other one accepted too."""
    first = book.accepted.quotes.earliest()
    quote = make_quote(book.accepted, json.loads(first.document.text))
    if number % 2:
        accept(quote)


def questions(book: OwnersBook, number: int) -> None:
    """Questions about a quote, every other one answered; all still wait on the office."""
    question = QuoteEvent.objects.create(quote=book.quote, kind="asked", text=f"Question {number}?")
    if number % 2:
        answer = {"text": "Yes.", "user": book.owner, "question": question}
        QuoteEvent.objects.create(quote=book.quote, kind="answered", **answer)


def mails(book: OwnersBook, number: int) -> None:
    """Mails about a quote that did not go out."""
    to = {"to": f"ines{number}@example.com", "key": str(number), "kind": "quote"}
    values = {"about": about(book.quote), "subject": "Quote", "text": "Hello", "state": "failed"}
    Mail.objects.create(company=book.company, **to, **values)


def price_lines(book: OwnersBook, number: int) -> None:
    """Lines of its own on the price of the job."""
    JobLine.objects.create(job=book.job, label=f"Piano {number}", quantity=1, unit="job")
