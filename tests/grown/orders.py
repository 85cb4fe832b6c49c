"""More drafts of changes and more extra work, for pages that list them."""

from __future__ import annotations

from estimates.models import ChangeAnswer, ChangeOffer
from jobs.models import JobExtra, Role
from tests.builders import make_person
from tests.growing import OwnersBook
from tests.orders.a_change import make_change


def change_drafts(book: OwnersBook, number: int) -> None:
    """Drafts of changes of the accepted job, each with what was sent of it."""
    make_change(book.accepted, number=100 + number)


def declined_changes(book: OwnersBook, number: int) -> None:
    """Changes of the accepted job that the client declined; nobody put the word aside."""
    offer = make_change(book.accepted, number=200 + number)
    ChangeOffer.objects.filter(pk=offer.pk).update(
        answer=ChangeAnswer.DECLINED, answered_at=offer.issued_at, reason=f"Too dear, {number}"
    )


def extras(book: OwnersBook, number: int) -> None:
    """Extra work that was noted on the job, each by somebody else."""
    who = make_person(book.company, Role.CREW)
    JobExtra.objects.create(job=book.job, who=who, text=f"Shelf {number}")
