"""Text between commas, as cells: read strictly, written so that no cell is taken for a formula.

Source of the form: RFC 4180. A cell that begins with = + - @ is what some programs carry out; a
text of that kind is written with an apostrophe before it, which is taken off when it is read.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal

from jobs.domain.checks import BadValueError

MOST_BYTES = 2_000_000
ACCEPTED = "a CSV file in UTF-8, columns between commas, of up to 2 MB"

# The wide forms are taken for the narrow ones by some programs.
_FORMULA = re.compile(r"'*[=+\-@\uff1d\uff0b\uff0d\uff20]")
_GUARDED = re.compile(r"'+[=+\-@\uff1d\uff0b\uff0d\uff20]")
_NUMBER = re.compile(r"\$?([0-9]{1,9}|[0-9]{1,3}(?:,[0-9]{3}){1,2})(\.[0-9]{1,9})?", re.ASCII)
_US_DAY = re.compile(r"([0-9]{1,2})/([0-9]{1,2})/([0-9]{4})", re.ASCII)
_YES = frozenset({"yes", "y", "true", "1"})
_NO = frozenset({"no", "n", "false", "0"})
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]+")


def decoded(content: bytes) -> str:
    """Return the text of a file in UTF-8, with or without its mark.

    Raises:
        BadValueError: it is empty, too large, a workbook, or in another encoding; says where.
    """
    if not content.strip():
        raise BadValueError(field="file", value="empty", accepted=ACCEPTED)
    if len(content) > MOST_BYTES:
        value = f"{len(content) / 1_000_000:.1f} MB large"
        raise BadValueError(field="file", value=value, accepted=ACCEPTED)
    if content[:4] in (b"PK\x03\x04", b"\xd0\xcf\x11\xe0"):
        raise BadValueError(field="file", value="a workbook", accepted=ACCEPTED)
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise BadValueError(field="file", value="in UTF-16", accepted=ACCEPTED)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        line = content[: bad.start].count(b"\n") + 1
        value = f"in another encoding (byte {content[bad.start]:#04x} in line {line})"
        raise BadValueError(field="file", value=value, accepted=ACCEPTED) from None
    if "\0" in text:
        raise BadValueError(field="file", value="no text", accepted=ACCEPTED)
    return text


def records(text: str) -> Iterator[list[str]]:
    """Yield the records of a text, blank lines as empty ones.

    Raises:
        BadValueError: a quote is not closed, or something stands behind a closed one; says where.
    """
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    reader = csv.reader((f"{line}\n" for line in lines), strict=True)
    try:
        for record in reader:
            yield [bare(cell) for cell in record]
    except csv.Error as bad:
        value = f"not between commas as it should be, in line {reader.line_num} ({bad})"
        raise BadValueError(field="file", value=value, accepted=ACCEPTED) from None


def written(rows: Iterable[Sequence[str]]) -> str:
    """Return rows of cells as a text of RFC 4180; a cell that looks like a formula is guarded."""
    lines = _Lines()
    csv.writer(lines).writerows([guarded(cell) for cell in row] for row in rows)
    return "".join(lines.parts)


class _Lines:
    """What the writer writes to: it keeps the lines."""

    def __init__(self) -> None:
        self.parts: list[str] = []

    def write(self, text: str) -> None:
        """Keep a line."""
        self.parts.append(text)


def guarded(cell: str) -> str:
    """Return a cell with an apostrophe before it where a program could carry it out."""
    return f"'{cell}" if _FORMULA.match(cell) else cell


def bare(cell: str) -> str:
    """Return a cell on one line, without blanks at its ends and the apostrophe that guarded it."""
    text = one_line(cell)
    return text[1:] if _GUARDED.match(text) else text


def one_line(text: str) -> str:
    """Return a text with a blank for every tab, line end and control character."""
    return _CONTROL.sub(" ", text).strip()


def number_in(text: str, *, places: int) -> Decimal:
    """Return the number that was typed: 61.50, $61.50 or 1,061.50.

    Raises BadValueError with what is accepted.
    """
    match = _NUMBER.fullmatch(text.strip())
    number = Decimal("".join(match.groups("")).replace(",", "")) if match else None
    if number is None or number != round(number, places):
        accepted = f"a number such as 61.50, with up to {places} decimal places"
        raise BadValueError(field="number", value=text, accepted=accepted)
    return number


def day_in(text: str) -> date:
    """Return the day that was written: 2026-03-02, or 3/2/2026 with the month first.

    Raises BadValueError with what is accepted.
    """
    american = _US_DAY.fullmatch(text)
    try:
        if american:
            month, day, year = (int(part) for part in american.groups())
            return date(year, month, day)
        if len(text) == 10:
            return date.fromisoformat(text)
    except ValueError:
        pass
    accepted = "a day such as 2026-03-02, or 3/2/2026 with the month first"
    raise BadValueError(field="day", value=text, accepted=accepted)


def yes_in(text: str) -> bool:
    """Whether the cell says yes. Raises BadValueError where it says neither yes nor no."""
    word = text.lower()
    if word not in _YES | _NO:
        raise BadValueError(field="answer", value=text, accepted="yes or no")
    return word in _YES
