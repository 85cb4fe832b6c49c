"""The price book as a sheet: read with every fault by row and column, written to be read back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from estimates.domain.book.cells import day_in, number_in, records, written, yes_in
from estimates.domain.book.groups import GROUP_OF, MEASURES, is_loose
from estimates.domain.book.packs import Per
from estimates.domain.book.rows import BookRow
from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG

MOST_ROWS = 5_000
MOST_FAULTS = 100
PRICE_PLACES, COVER_PLACES = 4, 3

COLUMNS: Mapping[str, str] = {
    "material": "code",
    "item": "item",
    "label": "label",
    "pack": "pack",
    "covers": "covers",
    "price": "amount",
    "per": "per",
    "from": "effective_from",
    "seen": "last_seen",
    "supplier": "supplier",
    "our code": "our_code",
    "tax class": "tax_class",
    "taxable": "taxable",
    "special order": "special_order",
    "returnable": "returnable",
}
"""The head of the sheet: each column and the field of a row that it holds."""

COLUMN_OF = {field: column for column, field in COLUMNS.items()}
NEEDED = ("material", "price")
_TEXTS = ("item", "supplier", "our_code", "tax_class")
_ANSWERS = {"taxable": True, "special_order": False, "returnable": True}
_SIGNS = {"ft²": "ft2", "sq ft": "ft2", "sf": "ft2", "lf": "ft"}
_CODES = {entry.label.lower(): code for code, entry in CATALOG.items() if code in GROUP_OF}

# Any: each field of a row has a type of its own, which the row checks when it is made.
RowFields = dict[str, Any]
Cell = Callable[[str], Any]


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetFault:
    """What can't be read: the row of the sheet (its head is row 1), the column and the reason."""

    row: int
    column: str
    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceSheet:
    """What a sheet says: its rows, and the first faults; with any fault it says nothing."""

    rows: tuple[BookRow, ...]
    faults: tuple[SheetFault, ...]


def read_sheet(text: str, *, today: date) -> PriceSheet:
    """Return the rows of a sheet; ``today`` stands where no day is given.

    Faults of the file as a whole stand at row 0.
    """
    try:
        lines = list(records(text))
    except BadValueError as bad:
        return _refused(0, "", str(bad))
    head = [name.lower() for name in lines[0]]
    faults = _faults_of_head(head)
    filled = [(place, line) for place, line in enumerate(lines[1:], start=2) if any(line)]
    if len(filled) > MOST_ROWS:
        faults.append(_fault(0, "", f"{len(filled):,} rows; accepted: up to {MOST_ROWS:,}."))
    elif not filled:
        faults.append(_fault(0, "", f"no row below its head; accepted: 1 to {MOST_ROWS:,} rows."))
    if faults:
        return PriceSheet(rows=(), faults=tuple(faults))
    return _read_rows(head, filled, today)


def _read_rows(head: list[str], lines: list[tuple[int, list[str]]], today: date) -> PriceSheet:
    rows: dict[tuple[str, str, date], int] = {}
    made: list[BookRow] = []
    faults: list[SheetFault] = []
    for place, line in lines:
        row, bad = _read_row(place, _cells(head, line), today)
        if len(line) > len(head) and any(line[len(head) :]):
            bad.append(_fault(place, "", f"{len(line)} cells; accepted: the head's {len(head)}."))
        faults += bad
        if row is None or bad:
            continue
        first = rows.setdefault(row.key, place)
        if first != place:
            reason = f"the same thing from the same day stands in row {first}; accepted: once."
            faults.append(_fault(place, "item", reason))
        made.append(row)
    if faults:
        return PriceSheet(rows=(), faults=tuple(faults))
    return PriceSheet(rows=tuple(made), faults=())


def _cells(head: list[str], line: list[str]) -> dict[str, str]:
    cells = dict.fromkeys(COLUMNS, "")
    return cells | dict(zip(head, line, strict=False))


def _faults_of_head(head: list[str]) -> list[SheetFault]:
    if len(head) == 1 and (";" in head[0] or "\t" in head[0]):
        return [_fault(1, "", "columns between semicolons or tabs; accepted: between commas.")]
    accepted = ", ".join(COLUMNS)
    faults = [
        _fault(1, name, f"no column of this name is known; accepted: {accepted}.")
        for name in dict.fromkeys(head)
        if name not in COLUMNS
    ]
    faults += [_fault(1, name, "the column is missing.") for name in NEEDED if name not in head]
    twice = sorted({name for name in head if head.count(name) > 1})
    return faults + [_fault(1, name, "the column stands twice; accepted: once.") for name in twice]


def _read_row(
    place: int, cells: dict[str, str], today: date
) -> tuple[BookRow | None, list[SheetFault]]:
    """Return the row that these cells make, or what is wrong with them."""
    faults: list[SheetFault] = []
    code = _code_in(cells["material"])
    if code is None:
        accepted = "; ".join(CATALOG[known].label for known in GROUP_OF)
        reason = f"“{cells['material'][:60]}” is no material; accepted: {accepted}."
        return None, [_fault(place, "material", reason)]
    fields: RowFields = {"code": code, "label": cells["label"] or CATALOG[code].label}
    fields |= {name: cells[COLUMN_OF[name]] for name in _TEXTS}
    for name, read in _readers(code, cells, today).items():
        column = COLUMN_OF[name]
        try:
            fields[name] = read(cells[column])
        except BadValueError as bad:
            faults.append(_fault(place, column, _reason(bad)))
    if faults:
        return None, faults
    try:
        return BookRow(**fields), []
    except BadValueError as bad:
        return None, [_fault(place, COLUMN_OF.get(bad.field, bad.field), _reason(bad))]


def _readers(code: str, cells: dict[str, str], today: date) -> dict[str, Cell]:
    """Return what reads each cell of a row that is no plain text."""
    pack = cells["pack"].lower()
    if not pack and not is_loose(code):
        pack = CATALOG[code].unit

    readers: dict[str, Cell] = {
        "pack": lambda _: pack,
        "covers": lambda text: number_in(text, places=COVER_PLACES) if text else None,
        "amount": lambda text: number_in(text, places=PRICE_PLACES),
        "per": lambda text: _per_in(text.lower(), code, pack),
        "effective_from": lambda text: day_in(text) if text else today,
        "last_seen": lambda text: day_in(text) if text else _first_seen(cells["from"], today),
    }
    return readers | {name: _answer(usual) for name, usual in _ANSWERS.items()}


def _first_seen(text: str, today: date) -> date:
    """Return the day from which a price is in force, today where that is later or can't be read."""
    try:
        return min(today, day_in(text))
    except BadValueError:
        return today


def _answer(usual: bool) -> Cell:
    return lambda text: yes_in(text) if text else usual


def _per_in(text: str, code: str, pack: str) -> Per:
    """Return whether a price is by the pack or by the measure; empty: as a floor takes it."""
    measure = MEASURES[code]
    word = _SIGNS.get(text, text)
    if not word:
        return "measure" if is_loose(code) and not pack else "pack"
    if word == measure:
        return "measure"
    if pack and word in (pack, "pack"):
        return "pack"
    accepted = " or ".join(dict.fromkeys(part for part in (pack, measure) if part))
    raise BadValueError(field="per", value=text, accepted=accepted)


def _code_in(text: str) -> str | None:
    code = _CODES.get(text.lower(), text.lower())
    return code if code in GROUP_OF else None


def _reason(bad: BadValueError) -> str:
    value = "Nothing" if bad.value in (None, "") else f"“{str(bad.value)[:60]}”"
    return f"{value} can't be used; accepted: {bad.accepted}."


def _fault(row: int, column: str, text: str) -> SheetFault:
    return SheetFault(row=row, column=column, text=text)


def _refused(row: int, column: str, text: str) -> PriceSheet:
    return PriceSheet(rows=(), faults=(_fault(row, column, text),))


def write_sheet(rows: tuple[BookRow, ...]) -> str:
    """Return rows as a sheet that is read back as the same rows."""
    return written([tuple(COLUMNS), *(_line(row) for row in rows)])


def _line(row: BookRow) -> tuple[str, ...]:
    said = {"per": row.price.per_word}
    return tuple(
        said.get(column) or _cell(getattr(row, field)) for column, field in COLUMNS.items()
    )


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return str(value)
