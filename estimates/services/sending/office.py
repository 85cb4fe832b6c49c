"""Who in the office is written to, and how moments are said to them."""

from __future__ import annotations

from datetime import datetime

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from jobs.clock import shown_to
from jobs.models import Company, Role, User


def office_addresses(company: Company, issued_by: User | None) -> list[str]:
    """Return who in the office is written to: every owner, and who issued the paper; each once.

    Somebody without an address, or with one that no mail can go to, is passed over: a client's
    word counts all the same.
    """
    people = User.objects.filter(company=company, is_active=True)
    written = {
        email.lower() for email in people.filter(role=Role.OWNER).values_list("email", flat=True)
    }
    if issued_by and issued_by.is_active and issued_by.is_office:
        written.add(issued_by.email.lower())
    return sorted(address for address in written if _can_be_written_to(address))


def moment_words(company: Company, at: datetime) -> str:
    """Return day and time of a moment as the company's clock showed it."""
    local = shown_to(company, at)
    clock = f"{local:%I:%M %p}".lstrip("0")
    return f"{local:%B} {local.day}, {local.year}, {clock}"


def _can_be_written_to(address: str) -> bool:
    try:
        validate_email(address)
    except ValidationError:
        return False
    return True
