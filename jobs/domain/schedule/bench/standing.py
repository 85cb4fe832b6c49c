"""Where everybody stands about at the site for longer than what they wait for takes them."""

from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_HALF

LONG_QUARTERS = 4
"""Nobody goes home for less than an hour."""


def stands_from(day: WorkedDay) -> int | None:
    """Return after how many half hours a crew goes home sooner than it waits; None: it does not.

    It waits for an hour and more, for work that takes no longer than that.
    """
    ends = day.opens
    last = max(spell.ends for spell in day.spells)
    for spell in sorted(day.spells, key=lambda one: one.begins):
        gap = spell.begins - ends
        if ends > day.opens and gap >= LONG_QUARTERS and last - spell.begins <= gap:
            return (ends - day.opens) // QUARTERS_A_HALF
        ends = max(ends, spell.ends)
    return None


def stood(day: WorkedDay) -> int:
    """Return for how many half hours people stand about between two strokes, all together."""
    ends: dict[int, int] = {}
    quarters = 0
    for spell in sorted(day.spells, key=lambda one: one.begins):
        quarters += spell.begins - ends.get(spell.person, spell.begins)
        ends[spell.person] = max(spell.ends, ends.get(spell.person, spell.ends))
    return quarters // QUARTERS_A_HALF
