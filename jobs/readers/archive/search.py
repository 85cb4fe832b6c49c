"""Jobs and clients by what is known of them: number, title, address, name, phone, state."""

from __future__ import annotations

from django.db.models import Q, QuerySet

from jobs.models import Client, Job

MOST_WORDS = 8
LONGEST = 200
_JOB_COLUMNS = ("title", "address", "client__name", "client__phone", "client__email")
_CLIENT_COLUMNS = ("name", "phone", "email", "address")
_OF_A_PHONE = frozenset("0123456789()+-./")
_FEWEST_DIGITS = 5  # fewer may be a house's or a job's number
_STATES = {
    "archived": Q(archived_at__isnull=False),
    "closed": Q(closed_at__isnull=False),
}


def words_of(text: str) -> list[str]:
    """Return the words that are looked for; what is beyond the first few is left out."""
    return text.replace("\x00", " ")[:LONGEST].split()[:MOST_WORDS]


def matching_jobs(jobs: QuerySet[Job], text: str) -> QuerySet[Job]:
    """Return those of ``jobs`` in which every word stands somewhere; none for no word.

    A word of digits is a job's number too, with or without a # before it; the words "archived"
    and "closed" are jobs that are so.
    """
    words = words_of(text)
    for word in words:
        jobs = jobs.filter(_in_a_job(word))
    return jobs if words else jobs.none()


def matching_clients(clients: QuerySet[Client], text: str) -> QuerySet[Client]:
    """Return those of ``clients`` in which every word stands somewhere; none for no word."""
    words = words_of(text)
    for word in words:
        clients = clients.filter(_in_columns(word, _CLIENT_COLUMNS) | _in_a_phone(word, "phone"))
    return clients if words else clients.none()


def _in_a_job(word: str) -> Q:
    digits = word.removeprefix("#")
    matches = _in_columns(word, _JOB_COLUMNS) | _in_a_phone(word, "client__phone")
    if digits.isascii() and digits.isdigit() and len(digits) <= 9:
        matches |= Q(number=int(digits))
    return matches | _STATES.get(word.casefold(), Q())


def _in_a_phone(word: str, column: str) -> Q:
    """Return that the digits of a word stand in a phone number, however that is written."""
    digits = [letter for letter in word if letter in "0123456789"]
    if len(digits) < _FEWEST_DIGITS or not set(word) <= _OF_A_PHONE:
        return Q()
    return Q(**{f"{column}__regex": "[^0-9]*".join(digits)})


def _in_columns(word: str, columns: tuple[str, ...]) -> Q:
    """Return that a word stands in one of these columns, in small letters or capitals.

    SQLite knows capitals only of plain letters, so a word with others is looked for in each way.
    """
    ways = {word} if word.isascii() else {word, word.lower(), word.upper(), word.capitalize()}
    either = Q()
    for column in columns:
        for way in sorted(ways):
            either |= Q(**{f"{column}__icontains": way})
    return either
