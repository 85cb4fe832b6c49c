"""Somebody leaves a crew in the middle of a job: their last day, after which they do not count."""

from __future__ import annotations

from datetime import date

from jobs.domain.checks import BadValueError
from jobs.models import Crew, LastCrewDay, User
from jobs.services.records import audit, writes_once


@writes_once(Crew, "leave a crew")
def leave_crew(
    *, crew: Crew, user: User, key: str, person: int, last_day: date | None, today: date
) -> Crew:
    """Return the crew with the last day of one of its people; None: they stay.

    Days that are laid out already stay as they are until they are planned again.

    Raises BadValueError for somebody who is not in the crew, and for a last day in the past.
    """
    member = crew.members.filter(pk=person).first()
    if member is None:
        raise BadValueError(field="person", value="nobody", accepted="somebody of this crew")
    if last_day is not None and last_day < today:
        raise BadValueError(field="last_day", value=last_day, accepted=f"{today} or later")
    if last_day is None:
        crew.last_days.filter(person=member).delete()
        act = f"{member.name} stays in {crew}"
    else:
        values = {"date": last_day}
        LastCrewDay.objects.update_or_create(crew=crew, person=member, defaults=values)
        act = f"{member.name} leaves {crew} after {last_day}"
    audit(user=user, company=crew.company, subject=f"crew {crew.pk}", act=act)
    return crew
