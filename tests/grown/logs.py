"""Logs of a day for the whole crew, in so many more, for the lists.

As in `tests.growing`, each of these functions makes one more row.
"""

from __future__ import annotations

from jobs.models import DayLog, LogPhoto, PunchItem, Role
from tests.builders import make_log_entry, make_person, make_photo
from tests.growing import OwnersBook


def logs(book: OwnersBook, number: int) -> None:
    """Logs of the day, each with a photograph, a line of the punch list and hours to answer."""
    log = DayLog.objects.create(day=book.day, teller=book.owner, key=f"log-{number}")
    LogPhoto.objects.create(log=log, file=make_photo(book.company), side="before")
    PunchItem.objects.create(job=book.day.job, log=log, text=f"Nail hole {number}")
    person = make_person(book.company, Role.CREW)
    make_log_entry(book.day, person, log=log, standing="phones")
