"""A file of prices goes in whole or not at all, and nobody waits for it longer than its write."""

from __future__ import annotations

import logging
import threading
import time
from datetime import date
from decimal import Decimal

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext

from estimates.domain.book.sheet import MOST_ROWS, write_sheet
from estimates.models import PriceItem
from estimates.readers.price_rows import book_row, materials_of
from estimates.services import price_import as services
from jobs.domain.checks import BadValueError
from jobs.models import AuditLine, Company, Errand, StoredFile, User
from jobs.services.records import audit
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_company
from tests.estimates.a_job import TODAY, an_owner, company_of

log = logging.getLogger(__name__)
pytestmark = pytest.mark.django_db
MOST_STATEMENTS = 10
"""The write holds the lock of the database: rows come in by the thousand, not one by one."""


def many_rows(rows: int = MOST_ROWS) -> bytes:
    """A file of so many cartons, each by the square foot."""
    lines = [f"cartons,Plank {n},{2 + n % 5}.{n % 100:02},ft2,23.3" for n in range(rows)]
    return "\n".join(["material,item,price,per,covers", *lines]).encode()


def kept(company: Company, content: bytes) -> StoredFile:
    """A file as it was sent."""
    return services.keep_price_file(company=company, content=content, name="prices.csv")


def imported(owner: User, content: bytes) -> Errand:
    """The errand that imported a file, once the worker has seen to it."""
    stored = kept(company_of(owner), content)
    mark = services.mark_of(stored.company)
    services.ask_for_import(stored=stored, user=owner, mark=mark, today=TODAY)
    carry_out_waiting()
    errand = services.errand_of(stored)
    assert errand is not None
    return errand


def book_of(company: Company) -> set[object]:
    """Every price of a material, as values."""
    return {book_row(row) for row in materials_of(company)}


def test_new_and_changed_prices_are_written_and_the_rest_stays(owner: User) -> None:
    before = book_of(company_of(owner))
    text = b"material,price,from\npad,45,2020-01-01\ncaulk,5,2026-11-01\nbase_stock,14,2020-01-01\n"
    errand = imported(owner, text)
    assert errand.result == '{"changed":1,"new":1,"same":1}'
    pad = PriceItem.objects.get(code="pad")
    assert (pad.amount, pad.version) == (Decimal(45), 2)
    assert len(book_of(company_of(owner)) & before) == len(before) - 1


def test_an_import_is_told_in_the_book_of_changes(owner: User) -> None:
    imported(owner, b"material,price\npad,45\n")
    assert AuditLine.objects.filter(act="Imported prices.csv: 1 new, 0 changed, 0 as before")


def test_a_fault_keeps_every_row_out(owner: User) -> None:
    before = book_of(company_of(owner))
    errand = imported(owner, b"material,price\ncaulk,5\npad,-1\n")
    assert errand.state == Errand.State.FAILED
    assert "“-1” can't be used" in errand.error
    assert book_of(company_of(owner)) == before


def test_a_book_that_changed_since_the_preview_is_left_alone(owner: User) -> None:
    company = company_of(owner)
    stored, mark = kept(company, b"material,price\npad,45\n"), services.mark_of(company)
    PriceItem.objects.filter(code="pad").update(version=2)
    services.ask_for_import(stored=stored, user=owner, mark=mark, today=TODAY)
    carry_out_waiting()
    errand = services.errand_of(stored)
    assert errand is not None
    assert "look at the preview again" in errand.error
    assert PriceItem.objects.get(code="pad").amount == Decimal(32)


def test_a_book_that_changes_between_reading_and_writing_is_left_alone(owner: User) -> None:
    stored = kept(company_of(owner), b"material,price\npad,45\n")
    errand = services.ask_for_import(
        stored=stored, user=owner, mark=services.mark_of(stored.company), today=TODAY
    )
    payload = {"file": stored.pk, "mark": services.mark_of(stored.company)}
    write = services.effect_of(
        errand, payload | {"today": TODAY.isoformat()}, progress=lambda share, text: None
    )
    PriceItem.objects.filter(code="caulk").update(version=2)
    with pytest.raises(BadValueError, match="changed meanwhile"):
        write()


def test_the_book_is_read_back_as_it_was_handed_out(owner: User) -> None:
    company, elsewhere = company_of(owner), make_company("Elsewhere Floors")
    names = ("=1+2", "'@x", "<b>Oak</b>", 'Oak "7", long', "+7", "Eiche 7½")
    for number, name in enumerate(names):
        PriceItem.objects.create(
            company=company,
            code="cartons",
            item=name,
            label="-Flooring",
            unit="carton",
            pack="carton",
            covers=Decimal("23.3"),
            per="measure",
            amount=Decimal("2.6190"),
            effective_from=date(2026, 1, 1 + number),
            last_seen=date(2026, 2, 1),
            supplier=name,
            special_order=True,
        )
    text = write_sheet(tuple(book_row(row) for row in materials_of(company)))
    sheet = services.sheet_in(kept(elsewhere, text.encode("utf-8-sig")), today=TODAY)
    services.write_rows(services.held_against_book(elsewhere, sheet.rows).rows)
    assert sheet.faults == ()
    assert book_of(elsewhere) == book_of(company)


@pytest.mark.django_db(transaction=True)
def test_others_keep_writing_while_five_thousand_rows_come_in() -> None:
    owner = an_owner()
    company = company_of(owner)
    stored, mark = kept(company, many_rows()), services.mark_of(company)
    errand = services.ask_for_import(stored=stored, user=owner, mark=mark, today=TODAY)
    payload = {"file": stored.pk, "mark": mark, "today": TODAY.isoformat()}
    waits: list[float] = []

    def somebody_writes(share: float = 0, text: str = "") -> None:
        began = time.monotonic()
        audit(user=None, company=company, subject="job 1", act="Looked")
        waits.append(time.monotonic() - began)

    # Before the write no lock is held: whoever writes is through at once.
    write = services.effect_of(errand, payload, progress=somebody_writes)
    assert len(waits) == 3
    over = threading.Event()

    def others() -> None:
        while not over.is_set():
            somebody_writes()
        connection.close()

    busy = threading.Thread(target=others)
    busy.start()
    began = time.monotonic()
    with CaptureQueriesContext(connection) as statements, transaction.atomic():
        write()
    took = time.monotonic() - began
    over.set()
    busy.join()
    log.info("written in %.2f s (aim 3 s); another waited %.2f s at most", took, max(waits))
    assert PriceItem.objects.filter(code="cartons", company=company).count() == MOST_ROWS + 1
    assert len(waits) > 3
    assert len(statements) < MOST_STATEMENTS, f"{len(statements)} statements"
