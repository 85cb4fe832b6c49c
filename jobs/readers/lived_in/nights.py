"""How long each room that somebody lives by is open, by the days, and what was agreed of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.formats import BrokenDocumentError
from jobs.domain.scope.schedule import RoomNights
from jobs.domain.scope.scope import FrozenScope
from jobs.models import AgreedNights, Job, Scope, WorkDay
from jobs.readers.scope import scope_value


def newest_scope_of(job: Job) -> FrozenScope | None:
    """Return the newest scope of a job, agreed on or not; None where none can be read."""
    return _value(job.scopes.select_related("document", "job").first())


def nights_named(scope: Scope) -> tuple[RoomNights, ...]:
    """Return the nights that a scope, and so the quote made of it, names room by room."""
    value = _value(scope)
    return value.schedule.nights if value and value.schedule else ()


def _value(scope: Scope | None) -> FrozenScope | None:
    try:
        return scope_value(scope) if scope else None
    except BrokenDocumentError:
        return None


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomNightsLine:
    """One room: for how many nights it is open by the days, and what was agreed."""

    room: str
    use: str
    nights: int
    agreed: AgreedNights | None

    @property
    def is_open(self) -> bool:
        """Whether more nights lie on the days than anybody agreed to."""
        if not self.nights:
            return False
        if self.agreed is None:
            return True
        return self.agreed.nights is not None and self.nights > self.agreed.nights

    @property
    def nights_words(self) -> str:
        """The nights by the days, in words."""
        if not self.nights:
            return "No night"
        return f"{self.nights} night{'s' if self.nights > 1 else ''}"

    @property
    def agreed_words(self) -> str:
        """Who agreed to what and when, in words."""
        row = self.agreed
        if row is None:
            return "Nobody agreed yet" if self.nights else "Nothing to agree to"
        which = "as many as it takes" if row.nights is None else f"{row.nights} of them"
        weekend = ", weekends too" if row.days_off else ""
        paper = f", by quote {row.quote}" if row.quote else ""
        return f"{which.capitalize()}{weekend}: {row.by}, {row.on:%b} {row.on.day}{paper}"


def nights_lines(
    job: Job, scope: FrozenScope | None, days: Sequence[WorkDay]
) -> list[RoomNightsLine]:
    """Return every room that is open for a night by these days, or by the scope without days.

    A room that was agreed on stands in it too, with no nights where it has none.
    """
    rows = list(job.agreed_nights.select_related("room"))
    whole = next((row for row in rows if row.room is None), None)
    by_room = {row.room.name: row for row in rows if row.room}
    nights = _nights(scope, days)
    named: Iterable[str] = dict.fromkeys((*nights, *by_room))
    return [
        RoomNightsLine(
            room=name,
            use=nights.get(name, (0, ""))[1],
            nights=nights.get(name, (0, ""))[0],
            agreed=_widest(by_room.get(name), whole),
        )
        for name in named
    ]


def _widest(of_room: AgreedNights | None, whole: AgreedNights | None) -> AgreedNights | None:
    """Return the word that allows more: the whole job's, unless the room's has no bound."""
    if of_room is None or (whole is not None and of_room.nights is not None):
        return whole or of_room
    return of_room


def _nights(scope: FrozenScope | None, days: Sequence[WorkDay]) -> Mapping[str, tuple[int, str]]:
    """Return the nights and the use of each room that is open, by the days, else by the scope."""
    laid = [(night["room"], night["nights"], night["use"]) for day in days for night in day.nights]
    if not days and scope is not None and scope.schedule is not None:
        laid = [(night.room, night.nights, night.use) for night in scope.schedule.nights]
    nights: dict[str, tuple[int, str]] = {}
    for room, count, use in laid:
        nights[room] = (nights.get(room, (0, use))[0] + count, use)
    return nights
