"""The days of a penciled crew beside those that are priced; no write."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.days.crew import PlannedDay
from jobs.domain.documents import plain_decimal
from jobs.domain.scope.crews_words import crews_word, in_crews_words
from jobs.domain.scope.laid_for.basis import LaidFor, laid_for
from jobs.domain.scope.schedule import ScopeSchedule
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job, PenciledCrew
from jobs.models.board.penciled import PenciledDay
from jobs.readers.days import PARTS
from jobs.readers.penciled.words import differing_words
from jobs.services.days import Wish, refuse_wish, working_for
from jobs.services.moved_days.bounds import crew_day_of
from jobs.services.scope import WorkBasis, work_basis


@dataclass(frozen=True, kw_only=True, slots=True)
class PenciledStanding:
    """A penciled crew, the schedule that is priced and its own, and what differs, in sentences.

    ``refused``: why there are no days of this crew at present; then all of ``real`` is missing.
    """

    row: PenciledCrew
    priced: ScopeSchedule | None
    differs: tuple[str, ...] = ()
    refused: str = ""
    real: ScopeSchedule | None = None
    days: tuple[PenciledDay, ...] = ()

    @property
    def out_of_date(self) -> bool:
        """Whether the priced days are not those of this crew."""
        return bool(self.differs or self.refused)


def penciled_standing(job: Job, today: date) -> PenciledStanding | None:
    """Return how the penciled crew of a job stands to its price; None without one.

    None also once a quote is accepted, and where nothing is planned that could be priced.
    """
    row = PenciledCrew.objects.filter(job=job).select_related("crew").first()
    if row is None or job.agreed_scope_id is not None:
        return None
    try:
        basis = work_basis(job)
        priced = basis.worked_out()
    except BadValueError:
        return None
    try:
        return standing_of(row, basis, priced, today)
    except BadValueError as refused:
        return PenciledStanding(row=row, priced=priced.schedule, refused=as_sentence(refused))


def standing_of(
    row: PenciledCrew, basis: WorkBasis, priced: FrozenScope, today: date
) -> PenciledStanding:
    """Return how a penciled crew stands to a price.

    Raises BadValueError for a crew without people, a start in the past, and work that can't be laid
    onto days of this crew.
    """
    refuse_wish(row.job, wish_of(row), today)
    crew = crew_basis(row)
    scope = _scope_of(basis, crew)
    real = scope.schedule
    planned = crew.days(
        in_crews_words(scope.crews_tasks, scope.quantities), real.may_be_open if real else {}
    )
    if real is None or planned is None:
        raise _no_days(row)
    return PenciledStanding(
        row=row,
        priced=priced.schedule,
        differs=tuple(differing_words(priced.schedule, real)),
        real=real,
        days=tuple(_kept(planned)),
    )


def wish_of(row: PenciledCrew) -> Wish:
    """Return what the office has in mind as it would wish for it."""
    return Wish(
        crew=row.crew, start=row.start, saturdays=row.saturdays, holidays_too=row.holidays_too
    )


def crew_basis(row: PenciledCrew) -> LaidFor:
    """Return the crew as it is now, and when it works.

    Raises BadValueError where nobody is left.
    """
    works = working_for(row.job, wish_of(row))
    return laid_for(crew_day_of(row.crew, row.start), row.start, works, saturdays=row.saturdays)


def _scope_of(basis: WorkBasis, crew: LaidFor) -> FrozenScope:
    """Return the scope of a job as this crew does it."""
    try:
        return basis.with_crew(crew).worked_out()
    except BadValueError as bad:
        if not bad.field.startswith("site."):
            raise
        accepted = f"a crew whose day is longer than its drive; {bad.accepted}"
        value = f"{crew.crew.capacity} h a day"
        raise BadValueError(field="crew", value=value, accepted=accepted) from None


def _no_days(row: PenciledCrew) -> BadValueError:
    accepted = "a crew and a first day from which the work can be laid onto days"
    return BadValueError(field="crew", value=f"{row.crew} from {row.start}", accepted=accepted)


def _kept(planned: Iterable[PlannedDay]) -> Iterable[PenciledDay]:
    for day in planned:
        if not day.crew_hours:
            continue
        labels = (
            PARTS.get((entry.task_code, entry.part), crews_word(entry.task_code, entry.label))
            for entry in day.entries
            if entry.task_code != "travel"
        )
        yield {
            "date": day.date.isoformat(),
            "hours": plain_decimal(day.booked),
            "tasks": list(dict.fromkeys(labels)),
        }
