"""The half hours of a day put together: who is at what without a break."""

from collections.abc import Iterable

from jobs.domain.schedule.bench.values import WorkSpell
from jobs.domain.schedule.halves import QUARTERS_A_HALF


def spells_from(made: Iterable[tuple[int, str, int]]) -> list[WorkSpell]:
    """Return half hours of a person at a step, each by its beginning, as spells in that order."""
    spells: list[WorkSpell] = []
    last: dict[int, int] = {}
    for person, key, now in made:
        place = last.get(person)
        before = spells[place] if place is not None else None
        begins = now
        if place is not None and before is not None and before.key == key and before.ends == now:
            begins = before.begins
        else:
            place = last[person] = len(spells)
            spells.append(WorkSpell(person=person, key=key, begins=now, ends=now))
        ends = now + QUARTERS_A_HALF
        spells[place] = WorkSpell(person=person, key=key, begins=begins, ends=ends)
    return spells
