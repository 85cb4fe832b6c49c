"""How long work takes that waits for other work: `manage.py network FILE.csv [--most 12,13,4]`.

The file has one activity a line: name, how long it lasts, the names that it waits for with a blank
between them, and what it takes of each kind of people or machines, likewise. It is reckoned by the
code that the days of a job come from, so a sequence with other trades can be looked at beside them,
and a network of which the answer is known can be held against it.
"""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.days.critical_path import critical_path
from jobs.domain.schedule.limited import Lasting, limited

MOST_LINES = 500
MOST_LONG = 10_000


class Command(BaseCommand):
    """Prints each activity with its earliest start and its slack, and how long all of it takes."""

    help = "How long work takes that waits for other work, with few people where --most says so."

    def add_arguments(self, parser: CommandParser) -> None:
        """Name the file, and how much there is of each kind."""
        parser.add_argument("file", type=Path)
        parser.add_argument("--most", default="", help="such as 12,13,4: how many of each kind")

    def handle(self, *_: object, **options: Any) -> None:
        """Read the file, reckon it, print it."""
        try:
            work = _read(options["file"])
            there_is = _numbers(options["most"].replace(",", " "), "--most")
            self._by_order(work)
            if there_is:
                table = limited(_taking(work, len(there_is)), there_is)
                self.stdout.write(f"With no more than {options['most']}: {table.length}")
        except BadValueError as bad:
            raise CommandError(as_sentence(bad)) from None

    def _by_order(self, work: list[Lasting]) -> None:
        """Print what the order alone asks for."""
        path = critical_path({one.name: (Decimal(one.lasts), one.after) for one in work})
        for entry in path.activities:
            mark = "critical" if entry.critical else f"slack {entry.slack}"
            self.stdout.write(f"{entry.name}: from {entry.earliest_start}, {mark}")
        self.stdout.write(f"By the order alone: {path.length}; critical {'-'.join(path.critical)}")


def _read(file: Path) -> list[Lasting]:
    """Return the activities of a file. Raises BadValueError naming the line."""
    try:
        lines = [line for line in csv.reader(file.read_text().splitlines()) if line]
    except (OSError, UnicodeDecodeError, csv.Error) as bad:
        accepted = "a file of lines such as: Lay,16,Carry Level,2"
        raise BadValueError(field="file", value=str(file), accepted=accepted) from bad
    if not 0 < len(lines) <= MOST_LINES:
        raise BadValueError(field="lines", value=len(lines), accepted=f"1 to {MOST_LINES}")
    work = [_activity(line, f"line {number}") for number, line in enumerate(lines, start=1)]
    names = [one.name for one in work]
    for name in names:
        if names.count(name) > 1:
            raise BadValueError(field="name", value=name, accepted="a name of its own")
    return work


def _activity(line: list[str], place: str) -> Lasting:
    """Return one line as an activity."""
    name, lasts, after, takes = [cell.strip() for cell in [*line, "", "", ""][:4]]
    lengths = _numbers(lasts, f"{place}, how long")
    if not name or len(lengths) != 1 or lengths[0] > MOST_LONG:
        accepted = f"a name, and one whole number up to {MOST_LONG}"
        raise BadValueError(field=place, value=",".join(line), accepted=accepted)
    waits = tuple(after.split())
    return Lasting(name=name, lasts=lengths[0], after=waits, takes=_numbers(takes, place))


def _taking(work: list[Lasting], kinds: int) -> list[Lasting]:
    """Return the activities with what each takes of so many kinds, nothing where it says none."""
    for one in work:
        if len(one.takes) not in (0, kinds):
            accepted = f"{kinds} numbers, as --most has them"
            raise BadValueError(field=f"{one.name} takes", value=len(one.takes), accepted=accepted)
    return [
        Lasting(name=one.name, lasts=one.lasts, after=one.after, takes=one.takes or (0,) * kinds)
        for one in work
    ]


def _numbers(text: str, field: str) -> tuple[int, ...]:
    """Return whole numbers with blanks between them."""
    words = text.split()
    if not all(word.isascii() and word.isdigit() and len(word) < 6 for word in words):
        raise BadValueError(field=field, value=text, accepted="whole numbers")
    return tuple(int(word) for word in words)
