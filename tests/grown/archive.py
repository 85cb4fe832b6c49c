"""More of what grows: jobs and clients looked for, what was removed, notes of rooms.

As in `tests.growing`, each of these functions makes one more row.
"""

from __future__ import annotations

from django.utils import timezone

from jobs.services.openings.stairs import remove_stair
from tests.builders import make_client, make_job, make_note, make_stair
from tests.growing import OwnersBook


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
