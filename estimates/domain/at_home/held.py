"""What a hold is to a homeowner: why a day may move, in their words. Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date

from estimates.domain.at_home.closed import short_day
from jobs.domain.site.facts import Caution

WORDS: Mapping[str, str] = {
    "asbestos": "The old floor may hold asbestos: it stays until an inspector has cleared it",
    "lead": "Old paint may hold lead: it stays untouched until that is settled",
    "moisture": "The floor below is too damp to lay on: it has to dry first",
    "moisture-open": "We measure the moisture of the floor below before we bring material",
    "moisture-row-one": "We measure the moisture of the floor below once more that morning",
    "moisture-boards": "The planks lie in your rooms until they are as dry as the house",
    "risers": "The steps are evened before we cover them",
}
"""By the code of a hold."""
OTHERS = "Something has to be settled before all of the work goes on"


def held_words(
    holds: Iterable[Caution], days: Mapping[date, Collection[str]], today: date
) -> tuple[str, ...]:
    """Return what is not settled yet, each with the first day that it may move.

    ``days``: the tasks of each day. A hold of nothing that is still to come is not mentioned.
    """
    said = []
    for hold in holds:
        waits = [day for day, tasks in days.items() if day >= today and set(hold.blocks) & {*tasks}]
        if waits:
            words = WORDS.get(hold.code, OTHERS)
            said.append(f"{words}. If it takes longer, {short_day(min(waits))} may move.")
    return tuple(dict.fromkeys(said))
