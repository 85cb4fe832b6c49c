"""A file of prices into the book: read and checked outside any write, written all at once.

Whatever takes time comes first: the file is read, every row checked and held against the book. The
write then begins with one question, whether the book still is as it was seen, and puts all rows in
place; others wait for that moment only.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import connection
from django.db.models import Count, Max, Sum
from django.utils import timezone

from estimates.access import PRICE_FILE
from estimates.domain.book.cells import decoded
from estimates.domain.book.rows import BookRow
from estimates.domain.book.sheet import PriceSheet, SheetFault, read_sheet
from estimates.models import PriceItem
from estimates.readers.price_rows import book_row, materials_of
from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG
from jobs.models import Company, Errand, StoredFile, User
from jobs.services.files import read_file, store_file
from jobs.services.records import audit
from jobs.worker.errands import ask_anew, latest

KIND = "import-prices"

# Any: what the database takes for each column.
PreparedRow = tuple[Any, ...]
Progress = Callable[[float, str], None]
_NAMES = (
    *("label", "pack", "covers", "amount", "per", "taxable", "tax_class", "last_seen"),
    *("supplier", "our_code", "special_order", "returnable"),
)

_FIELDS = [field for field in PriceItem._meta.concrete_fields if not field.primary_key]  # noqa: SLF001  as above


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetAgainstBook:
    """What a sheet would change: new rows, changed ones, and how many stand as they are."""

    rows: tuple[PriceItem, ...]
    new: int
    changed: int
    same: int
    mark: str


def keep_price_file(*, company: Company, content: bytes, name: str) -> StoredFile:
    """Return the file as it was sent, kept so that it is read again when it is imported.

    Raises:
        BadValueError: it is no text that can be a file of prices.
    """
    decoded(content)
    return store_file(company=company, content=content, name=name, content_type=PRICE_FILE)


def sheet_in(stored: StoredFile, *, today: date) -> PriceSheet:
    """Return what a file of prices says; what can't be read stands among its faults."""
    try:
        text = decoded(read_file(stored))
    except BadValueError as bad:
        return PriceSheet(rows=(), faults=(SheetFault(row=0, column="", text=str(bad)),))
    return read_sheet(text, today=today)


def mark_of(company: Company) -> str:
    """Return a mark of the company's prices that another save of any of them changes."""
    totals = materials_of(company).aggregate(n=Count("pk"), v=Sum("version"), top=Max("pk"))
    return f"{totals['n']}-{totals['v'] or 0}-{totals['top'] or 0}"


def held_against_book(company: Company, rows: Iterable[BookRow]) -> SheetAgainstBook:
    """Return what these rows would change in the book as it stands now."""
    mark = mark_of(company)
    stand = {
        (row.code, row.item, row.effective_from): row
        for row in materials_of(company).select_related("company")
    }
    changes: list[PriceItem] = []
    new = same = 0
    for row in rows:
        old = stand.get(row.key)
        if old is not None and book_row(old) == row:
            same += 1
            continue
        new += old is None
        changes.append(_item(company, row, old))
    return SheetAgainstBook(
        rows=tuple(changes), new=new, changed=len(changes) - new, same=same, mark=mark
    )


def _item(company: Company, row: BookRow, old: PriceItem | None) -> PriceItem:
    """Return the row to be written; one that stands keeps its place and gets the next version."""
    fields: dict[str, Any] = {name: getattr(row, name) for name in _NAMES}
    return PriceItem(
        company=company,
        code=row.code,
        item=row.item,
        unit=CATALOG[row.code].unit,
        kind="material",
        effective_from=row.effective_from,
        version=1 if old is None else old.version + 1,
        **fields,
    )


def ask_for_import(*, stored: StoredFile, user: User, mark: str, today: date) -> Errand:
    """Return the errand that imports a file into the book as ``mark`` says that it stands."""
    payload = {"file": stored.pk, "mark": mark, "today": today.isoformat()}
    subject = subject_of(stored)
    return ask_anew(company=stored.company, kind=KIND, subject=subject, payload=payload, user=user)


def errand_of(stored: StoredFile) -> Errand | None:
    """Return the newest errand that imports this file, whatever its state."""
    return latest(company=stored.company, kind=KIND, subject=subject_of(stored))


def subject_of(stored: StoredFile) -> str:
    """Return how errands name a file."""
    return f"file:{stored.pk}"


def effect_of(
    errand: Errand, payload: Mapping[str, Any], *, progress: Progress
) -> Callable[[], dict[str, object]]:
    """Return what writes a file's rows, once it was read and checked outside any write.

    Raises:
        BadValueError: a row can't be read, or the book changed since somebody looked at it.
    """
    company = errand.company
    stored = StoredFile.objects.get(pk=payload["file"], company=company)
    progress(0.05, f"Reading {stored.name}")
    sheet = sheet_in(stored, today=date.fromisoformat(payload["today"]))
    if sheet.faults:
        first = sheet.faults[0]
        raise BadValueError(field="file", value=first.text, accepted="a file without a fault")
    progress(0.5, f"{len(sheet.rows):,} rows read, holding them against the book")
    held = held_against_book(company, sheet.rows)
    refuse_other_book(payload["mark"], held.mark)
    lines = prepared(held.rows)
    progress(0.8, f"Writing {len(held.rows):,} rows")

    def write() -> dict[str, object]:
        refuse_other_book(held.mark, mark_of(company))
        write_prepared(lines)
        counts = f"{held.new} new, {held.changed} changed, {held.same} as before"
        act = f"Imported {stored.name[:120]}: {counts}"
        audit(user=errand.asked_by, company=company, subject="prices", act=act)
        return {"new": held.new, "changed": held.changed, "same": held.same}

    return write


def refuse_other_book(seen: str, stands: str) -> None:
    """Raise BadValueError where the book is another than the one that was looked at."""
    if seen != stands:
        accepted = "the book as you saw it; look at the preview again, then import"
        raise BadValueError(field="price book", value="changed meanwhile", accepted=accepted)


def write_rows(rows: Iterable[PriceItem]) -> None:
    """Put rows in place, new ones and changed ones alike; call it inside a transaction."""
    write_prepared(prepared(rows))


def prepared(rows: Iterable[PriceItem]) -> list[PreparedRow]:
    """Return what is written of each row, as the database takes it."""
    now = timezone.now()
    lines = []
    for row in rows:
        row.created_at = row.changed_at = now
        line = (
            field.get_db_prep_save(getattr(row, field.attname), connection) for field in _FIELDS
        )
        lines.append(tuple(line))
    return lines


def write_prepared(lines: list[PreparedRow]) -> None:
    """Write prepared rows by one statement; a row of the same thing and day is changed.

    The framework's own way takes ten times as long, and all that time others wait.
    """
    if lines:
        with connection.cursor() as cursor:
            cursor.executemany(_statement(), lines)


def _statement() -> str:
    """Return the statement that adds a row, or changes the one that stands; only our own names."""
    quote = connection.ops.quote_name
    columns = ", ".join(quote(str(field.column)) for field in _FIELDS)
    places = ", ".join(["%s"] * len(_FIELDS))
    same = ", ".join(
        quote(name) for name in ("company_id", "kind", "code", "item", "effective_from")
    )
    changed = [quote(name) for name in (*_NAMES, "version", "changed_at")]
    changes = ", ".join(f"{name} = excluded.{name}" for name in changed)
    table = quote(PriceItem._meta.db_table)  # noqa: SLF001  public by Django's documentation
    return (
        f"INSERT INTO {table} ({columns}) VALUES ({places}) "  # noqa: S608  no value is in it
        f"ON CONFLICT ({same}) DO UPDATE SET {changes}"
    )
