"""What the page of days says of the facts that days are laid out by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job, WorkDay
from jobs.readers.lived_in.nights import RoomNightsLine, nights_lines


@dataclass(frozen=True, kw_only=True, slots=True)
class DaysFacts:
    """What is to be said: rooms open for more nights than anybody agreed to."""

    open_nights: tuple[RoomNightsLine, ...]


def days_facts(job: Job, scope: FrozenScope | None, days: Sequence[WorkDay]) -> DaysFacts:
    """Return what the page of a job's days says of the facts behind them."""
    lines = nights_lines(job, scope, days)
    return DaysFacts(open_nights=tuple(line for line in lines if line.is_open))
