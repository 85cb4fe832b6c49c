"""More of what grows: jobs and clients looked for, what was removed, notes of rooms.

As in `tests.growing`, each of these functions makes one more row.
"""

from __future__ import annotations

from django.utils import timezone

from jobs.services.openings.stairs import remove_stair
from tests.builders import (
    make_client,
    make_job,
    make_note,
    make_product,
    make_room,
    make_stair,
    make_zone,
)
from tests.growing import OwnersBook
from tests.jobs.agreed import agree, hold_asbestos, make_scope


def jobs_that_match(book: OwnersBook, number: int) -> None:
    """Jobs on one street, every other one archived."""
    archived = timezone.now() if number % 2 else None
    make_job(book.company, address=f"{number} Larch Court", archived_at=archived)


def clients_that_match(book: OwnersBook, number: int) -> None:
    """Clients on one street."""
    make_client(book.company, f"Client {number}", address=f"{number} Larch Court")


def removals(book: OwnersBook, number: int) -> None:
    """Stairs of the job that were removed."""
    remove_stair(row=make_stair(book.job, name=f"Stair {number}"), user=book.owner)


def notes(book: OwnersBook, number: int) -> None:
    """Notes of the room with their photographs, offered to the crew."""
    make_note(book.room, f"Note {number}", for_packet=True)


def held_jobs(book: OwnersBook, number: int) -> None:
    """Jobs that are agreed on and held, with a floor and a flight of stairs each, on no day yet."""
    job = make_job(book.company)
    agree(job, make_scope(job))
    hold_asbestos(job)
    make_zone(make_room(job), make_product(book.company))
    make_stair(job)
