"""What is done in each room, in plain words, from what the scope counts there. Pure.

Small goods are part of the work that they are used in and never named.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.quotes.plain_words import (
    ANY_OLD_FLOOR,
    OLD_FLOORS,
    STRIPS,
    called,
    counted_words,
    day_words,
    in_letters,
    listed,
    opened,
)
from estimates.domain.quotes.sold import SoldFloor, SoldRoom
from jobs.domain.figures import length
from jobs.domain.quantities import Quantity
from jobs.domain.scope.scope import FrozenScope

CORES = {
    "rigid": "Rigid vinyl plank",
    "laminate": "Laminate plank",
    "wood": "Engineered wood plank",
}
"""What a plank is made of, as a homeowner knows it."""

_SAID_ANYWAY = re.compile(r"(?: planks?)?(?:,? *[\d./]+ *[x×] *[\d./]+ *(?:in)?)?$", re.IGNORECASE)
"""What may end the name of a product and is told of the floor beside it: its size, a plank."""

FURNITURE = "move the furniture"
MOST_MORE, LEAST_ALIKE = 2, 3
"""A room is told by another with so much more work at most, and so much alike at least."""

Phrase = tuple[str, str]
"""The task that a piece of work is of, and its words."""


def floor_words(
    floors: Sequence[SoldFloor], *, color: str, sample_on: date | None, system: str
) -> tuple[str, ...]:
    """Return what each floor is, in a sentence; color and sample are said with the first."""
    beside = [f"color {color}"] if color else []
    beside += [f"sample seen on {day_words(sample_on)}"] if sample_on else []
    each = list(dict.fromkeys(_floor(floor, system) for floor in floors))
    said = [", ".join([words, *beside]) if not place else words for place, words in enumerate(each)]
    return tuple(f"{words}." for words in said)


def _floor(floor: SoldFloor, system: str) -> str:
    thick = f"{_size(floor.thickness_in, system)} thick"
    if floor.attached_pad:
        thick += " with its pad"
    elif floor.pad:
        thick += ", on a new pad"
    width, long = (_size(each, system) for each in (floor.width_in, floor.length_in))
    core = CORES.get(floor.core, "Plank")
    named = [core, _SAID_ANYWAY.sub("", floor.product).strip(), thick]
    return f"{', '.join(filter(None, named))}, planks {width} wide and {long} long"


def _size(inches: Decimal, system: str) -> str:
    """Return a size with its units in letters: ¼ in, 4 ft, 3 ft 11½ in."""
    return in_letters(length(inches, system))


@dataclass(frozen=True, kw_only=True, slots=True)
class _Counts:
    """What the scope counts in one room; `rolled` is what the job rolls out under its floors."""

    entries: tuple[Quantity, ...]
    rolled: str

    def of(self, code: str) -> Decimal:
        return sum((entry.amount for entry in self.entries if entry.code == code), Decimal(0))

    def first(self, code: str) -> Quantity | None:
        return next((entry for entry in self.entries if entry.code == code and entry.amount), None)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Work:
    """What is done in a room: by us and by the homeowner in their order, and the strips."""

    room: str
    ours: tuple[str, ...]
    yours: tuple[str, ...]
    strips: tuple[str, ...]

    def text(self, known: Sequence[_Work]) -> str:
        """Return it in sentences, told by a room before where that is shorter."""
        said = next(filter(None, map(self._as_in, known)), None) or self._whole()
        return " ".join([*said, *self.strips])

    def _whole(self) -> list[str]:
        said = [f"We {listed(self.ours)}."] if self.ours else []
        return said + ([f"You {listed(self.yours)}."] if self.yours else [])

    def _as_in(self, other: _Work) -> list[str] | None:
        """Return the work as that of another room: at most without furniture, and with more."""
        missing = [words for words in other.ours if words not in self.ours]
        if self.yours or other.yours or missing not in ([], [FURNITURE]):
            return None
        more = [words for words in self.ours if words not in other.ours]
        if len(more) > MOST_MORE or len(self.ours) - len(more) < LEAST_ALIKE:
            return None
        without = ", without furniture" if missing else ""
        said = [f"The same work as in {called(other.room)}{without}."]
        return said + ([f"We also {listed(more)}."] if more else [])


def room_texts(scope: FrozenScope, rooms: Sequence[SoldRoom]) -> tuple[str, ...]:
    """Return what is done in each room; one with the work of a room before says just that."""
    works = [_work(scope, room) for room in rooms]
    return tuple(work.text(works[:place]) for place, work in enumerate(works))


def _work(scope: FrozenScope, room: SoldRoom) -> _Work:
    here = tuple(
        entry
        for entry in scope.quantities
        if room.holds(entry.room) or (not entry.room and entry.zone == room.floor)
    )
    counts = _Counts(entries=here, rolled=_rolled(scope))
    ours, yours = _parted(_phrases(counts, scope.left), scope.left)
    strips = _strips(counts) if "transitions" not in scope.left else []
    return _Work(room=room.name, ours=tuple(ours), yours=tuple(yours), strips=tuple(strips))


def _rolled(scope: FrozenScope) -> str:
    bought = {entry.code for entry in scope.quantities if entry.amount}
    rolls = {"pad": "the pad", "vapour_barrier": "a moisture film"}
    return listed(words for code, words in rolls.items() if code in bought)


def _parted(phrases: Sequence[Phrase], left: Collection[str]) -> tuple[list[str], list[str]]:
    """Return what we do, and what the homeowner does."""
    ours = [words for task, words in phrases if task not in left]
    return ours, [words for task, words in phrases if task in left]


def _phrases(counts: _Counts, left: Collection[str]) -> list[Phrase]:
    """Return the work of a room in the order in which it is done."""
    return [*_before(counts), *_old_floor(counts, left), *_under(counts), *_after(counts)]


def _before(counts: _Counts) -> list[Phrase]:
    phrases: list[Phrase] = []
    if counts.of("furniture"):
        phrases.append(("furniture", FURNITURE))
    if toilets := int(counts.of("toilets")):
        which = ("the toilet", "it") if toilets == 1 else (f"{toilets} toilets", "them")
        phrases.append(("fixtures_off", f"lift {which[0]} and set {which[1]} again"))
    if counts.of("appliances"):
        phrases.append(("fixtures_off", "move the appliances and put them back"))
    if doors := int(counts.of("doors_off")):
        which = ("the door", "it") if doors == 1 else (f"{doors} doors", "them")
        phrases.append(("doors_off", f"take {which[0]} off and hang {which[1]} again"))
    if counts.of("base_off"):
        phrases.append(("base_off", "take the baseboard off"))
    return phrases


def _old_floor(counts: _Counts, left: Collection[str]) -> list[Phrase]:
    torn = counts.first("tear_out")
    if torn is None:
        return []
    old, it = OLD_FLOORS.get(torn.item, ANY_OLD_FLOOR)
    if ("tear_out" in left) == ("dispose" in left):
        return [("tear_out", f"take up {old} and haul {it} away")]
    return [("tear_out", f"take up {old}"), ("dispose", f"haul {it} away")]


def _under(counts: _Counts) -> list[Phrase]:
    phrases: list[Phrase] = []
    if counts.of("subfloor_screws"):
        phrases.append(("prep", "screw down loose spots"))
    elif counts.first("tear_out"):
        phrases.append(("prep", "make the floor beneath ready"))
    if bags := int(counts.of("leveller")):
        much = counted_words(bags, "bag")
        phrases.append(("level", f"fill the low spots with {much} of leveling compound"))
    if counts.of("paint_area"):
        phrases.append(("paint", "paint the walls"))
    if counts.of("pad_area"):
        phrases.append(("underlay", f"roll out {counts.rolled or 'what lies under it'}"))
    return phrases


def _after(counts: _Counts) -> list[Phrase]:
    phrases: list[Phrase] = [("lay", "lay the new floor")]
    if base := counts.first("base_on"):
        new = base.basis.endswith("replace")
        phrases.append(("base", "put on new baseboard" if new else "put your baseboard back on"))
    if counts.of("shoe_on"):
        phrases.append(("shoe", "set a trim strip along its foot"))
    if doors := int(counts.of("doors_trimmed")):
        which = "the door so that it clears" if doors == 1 else "the doors so that they clear"
        phrases.append(("doors_on", f"trim {which} the new floor"))
    return phrases


def _strips(counts: _Counts) -> list[str]:
    """Return how the floor meets those beyond its doorways, in a sentence."""
    kinds = Counter(
        entry.basis.split(",")[0]
        for entry in counts.entries
        if entry.code == "transitions" and entry.amount
    )
    if not kinds:
        return []
    named = [
        STRIPS.get(kind, ("a strip", "strips"))[0]
        if count == 1
        else f"{count} {STRIPS.get(kind, ('a strip', 'strips'))[1]}"
        for kind, count in kinds.items()
    ]
    one = kinds.total() == 1
    joins, floors = ("joins", "the floor") if one else ("join", "the floors")
    words = f"{listed(named)} {joins} it to {floors} beyond."
    return [opened(words)]
