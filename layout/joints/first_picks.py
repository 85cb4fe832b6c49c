"""Picks laid run by run, as a careful installer does without a plan: a place to search from.

Each run begins with the longest leftover that keeps the rules, trimmed where that is what keeps
them, else with a new plank; its last piece comes from the shortest leftover that holds it.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from layout.joints.choices import (
    NEVER,
    Choices,
    Pick,
    Site,
    Terms,
    choices_of,
    clashes,
    terms_between,
)
from layout.rows.contacts import Contact
from layout.rows.rows import Floor
from layout.values.tolerances import TOUCHING_TOLERANCE


@dataclass(slots=True)
class _Rack:
    """Leftovers that wait, rising: rooms keep a right end, rests keep a left end."""

    rooms: list[float] = field(default_factory=list)
    rests: list[float] = field(default_factory=list)

    def take(self, leftovers: list[float], length: float) -> bool:
        """Whether some leftover holds ``length``; the shortest one that does is taken."""
        k = bisect_left(leftovers, length - TOUCHING_TOLERANCE)
        if k == len(leftovers):
            return False
        leftovers.pop(k)
        return True


def opening(floor: Floor, sites: Sequence[Site], terms: Terms) -> list[Pick]:
    """Return starter and ender of every run, laid one after another."""
    below: dict[int, list[Contact]] = {}
    for contact in floor.contacts:
        below.setdefault(contact.high, []).append(contact)
    racks: dict[float, _Rack] = {}
    laid: list[Choices] = []
    for index, site in enumerate(sites):
        rack = racks.setdefault(round(site.run.width, 6), _Rack())
        phases = [site.run.x0 + room for room in rack.rooms]
        choices = choices_of(site, terms, phases)
        close = np.zeros(len(choices), dtype=bool)
        for contact in below.get(index, ()):
            kept = terms_between(sites[contact.low], site, terms)
            close |= clashes(laid[contact.low], choices, contact, kept)[0]
        good = choices if close.all() else choices.kept(~close)
        chosen = _longest_leftover(good, rack)
        laid.append(good.kept(np.arange(len(good)) == chosen))
        _take(good, chosen, rack, terms)
    return [choices.pick(0) for choices in laid]


def _longest_leftover(choices: Choices, rack: _Rack) -> int:
    """Return the choice in one piece, else the one that begins with most of a leftover."""
    single = np.flatnonzero(choices.ender >= NEVER)
    if len(single):
        return int(single[0])
    longest = rack.rooms[-1] if rack.rooms else 0.0
    reused = choices.starter <= longest + TOUCHING_TOLERANCE
    return int(np.argmax(np.where(reused, choices.starter + NEVER, choices.starter)))


def _take(choices: Choices, chosen: int, rack: _Rack, terms: Terms) -> None:
    """Take the pieces of a run from the rack, or from new planks whose rest goes there."""
    starter, ender = choices.pick(chosen)
    if not rack.take(rack.rooms, starter):
        insort(rack.rests, terms.room(starter))
    if ender < NEVER and not rack.take(rack.rests, ender):
        insort(rack.rooms, terms.room(ender))
