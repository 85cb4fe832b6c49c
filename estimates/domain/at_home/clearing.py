"""What a homeowner clears and does beside the crew, in plain words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimates.domain.quotes.days import AT_HOME, NOT_MOVED, clear_sentences
from estimates.domain.quotes.plain_words import as_sentences
from estimates.domain.quotes.sold import SoldRoom
from jobs.domain.days.homeowner import HomeownersTask
from jobs.domain.scope.scope import FrozenScope

YOURS = {
    "furniture": "move the furniture out and back",
    "fixtures_off": "disconnect the toilet and move the appliances out",
    "base_off": "take the baseboard off",
    "doors_off": "take the doors off",
    "tear_out": "take the old floor out",
    "dispose": "take the old floor away",
    "prep": "clean the floor beneath",
    "paint": "paint",
    "level": "fill the low spots",
    "transitions": "set the strips at the doors",
    "base": "put the baseboard on",
    "shoe": "put the trim strip on",
    "doors_on": "hang the doors again",
    "fixtures_on": "set the toilet again and move the appliances back",
    "lay": "lay the floor",
    "stairs": "cover the stairs",
    "clean": "clean",
}
"""What a homeowner may do, as they would say it."""

PETS = "Keep pets out of the rooms we work in, and behind a closed door while we carry."
"""Common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SiteWords:
    """What the visit noted of what the homeowner clears, and of pets; as typed, empty: nothing."""

    aquarium: str = ""
    piano: str = ""
    electronics: str = ""
    pets: str = ""


def clearing_words(
    scope: FrozenScope, rooms: Sequence[SoldRoom], site: SiteWords
) -> tuple[str, ...]:
    """Return what has to be cleared before the first day, each thing that was noted by its name."""
    said = [line for line in clear_sentences(scope, rooms) if line not in (NOT_MOVED, AT_HOME)]
    named = [
        sentence
        for typed, sentence in (
            (site.aquarium, "The aquarium ({}): you empty it and move it before day 1; we don't."),
            (site.piano, "The piano ({}): you have it moved before day 1; we don't."),
            (
                site.electronics,
                "Electronics ({}): you unplug and move them before day 1; we don't.",
            ),
        )
        if typed
    ]
    typed = [what for what in (site.aquarium, site.piano, site.electronics) if what]
    named = [
        sentence.format(what.rstrip(". ")) for sentence, what in zip(named, typed, strict=True)
    ]
    return (*said, *(named or [NOT_MOVED]), AT_HOME)


def pet_words(site: SiteWords) -> tuple[str, ...]:
    """Return what is asked for the pets, those of the house first."""
    return (as_sentences([site.pets]), PETS) if site.pets else (PETS,)


def your_work(tasks: Sequence[HomeownersTask]) -> tuple[str, ...]:
    """Return what the homeowner does and by when, in plain words."""
    return tuple(_yours(task) for task in tasks if task.code in YOURS)


def _yours(task: HomeownersTask) -> str:
    words, where = YOURS[task.code], f" ({task.zone})" if task.zone else ""
    if task.is_between:
        return f"You {words}{where} on day {task.before}, between our work."
    if task.before is not None:
        return f"You {words}{where} before day {task.before}."
    if task.after is not None:
        return f"You {words}{where} after day {task.after}."
    return f"You {words}{where}."
