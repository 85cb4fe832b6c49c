"""The first sheet of a packet: where, who, how to get in, and the gates with their boxes. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from jobs.domain.formats import Fields
from jobs.domain.quantities import PRACTICE
from jobs.domain.site.facts import Caution

NO_READING = "no-reading"
"""The code of the gate of a job that nobody has read the moisture of."""
AGAIN = "moisture-again"
MOST_PLACES = 12
"""Places that find room to be written on a cover; of more, the sheet of readings has a line each.

Readings by room are common practice, no source; the number for a slab is the standard's.
"""
_NUMBER = "; readings by area: NWFA Installation Guidelines, from memory"


@dataclass(frozen=True, kw_only=True, slots=True)
class MadeReading:
    """A reading that was made: method, figure with unit, place and day in words."""

    method: str
    figure: str
    where: str
    on: str


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadingRule:
    """How the moisture of a job is read: the method, its limit, and the places.

    ``subfloor``: what is read, in words. ``limit`` is the product's, None where its sheet gives
    none. ``places`` are rooms, or numbered places of a slab; ``counts``: how many readings each
    takes, one where that is not told. ``rest``: how long cartons lie in the room first, in words.
    """

    subfloor: str
    method: str
    unit: str
    limit: Decimal | None
    places: tuple[str, ...]
    made: tuple[MadeReading, ...]
    counts: tuple[int, ...] = ()
    rest: str = ""

    @property
    def limit_words(self) -> str:
        """The limit as it is said."""
        if self.limit is None:
            return "Limit not noted: write it here from the maker's sheet"
        return f"{self.limit.normalize():f} {self.unit} or less"


def gate_contents(
    cautions: Iterable[Caution],
    clearances: Mapping[str, Mapping[str, str]],
    rule: ReadingRule | None,
) -> list[Fields]:
    """Return the gates of a job: its hold points, and the reading that precedes row one.

    ``clearances``: who cleared a hold, by its code. ``rule``: how moisture is read; None where no
    floor is laid by us.
    """
    holds = [caution for caution in cautions if caution.severity == "hold"]
    gates = [_hold(hold, clearances.get(hold.code), rule) for hold in holds]
    if rule is not None and not any(_is_of_moisture(hold.code) for hold in holds):
        gates.append(_reading(rule))
    return gates


def _is_of_moisture(code: str) -> bool:
    return code.startswith("moisture")


def _hold(hold: Caution, cleared: Mapping[str, str] | None, rule: ReadingRule | None) -> Fields:
    read = _reading_fields(rule) if rule is not None and _is_of_moisture(hold.code) else {}
    return {
        "code": hold.code,
        "title": hold.title,
        "text": hold.text,
        "source": hold.source,
        "held": cleared is None,
        "cleared": dict(cleared) if cleared is not None else None,
        **_nothing_read(),
        **read,
    }


def _reading(rule: ReadingRule) -> Fields:
    """Return the gate of the moisture: a hold where nobody has read it yet."""
    if rule.made:
        title = f"Moisture of the {rule.subfloor}: read it again on the morning of row one"
    else:
        title = f"No moisture reading of the {rule.subfloor}"
    many = any(count > 1 for count in rule.counts)
    return {
        "code": AGAIN if rule.made else NO_READING,
        "title": title,
        "text": "Nobody lays in a room before its reading is written here. Over the limit: stop, "
        "call the office.",
        "source": f"limit of the floor's maker; the places: {PRACTICE}{_NUMBER * many}",
        "held": not rule.made,
        "cleared": None,
        **_reading_fields(rule),
    }


def _nothing_read() -> Fields:
    words = dict.fromkeys(("limit", "method", "unit", "rest"), "")
    return {**words, "limit_open": False, "places": [], "reads": [], "made": []}


def readings_of_room(area_ft2: Decimal) -> int:
    """Return how often a wood subfloor is read in a room: 20 times for 1000 ft2, 3 at least.

    Source: NWFA Installation Guidelines, moisture testing, from memory; the least: common practice.
    """
    return max(3, int((area_ft2 / 50).to_integral_value(ROUND_CEILING)))


def _reading_fields(rule: ReadingRule) -> Fields:
    counts = rule.counts or (1,) * len(rule.places)
    return {
        "limit": rule.limit_words,
        "method": rule.method,
        "unit": rule.unit,
        "limit_open": rule.limit is None,
        "rest": rule.rest,
        "places": list(rule.places),
        "reads": [
            {"place": place, "boxes": list(range(1, count + 1))}
            for place, count in zip(rule.places, counts, strict=True)
        ],
        "made": [
            ", ".join(part for part in (one.method, one.figure, one.where, one.on) if part)
            for one in rule.made
        ],
    }


def carry_words(*, flights: int, cartons: int, weight_lb: Decimal) -> str:
    """Return what is carried in and how, in the words of every page that tells it."""
    stairs = f"{flights} flight{'s' * (flights != 1)} of stairs" if flights else "No stairs"
    weight = f" of {weight_lb.quantize(Decimal(1))} lb" if weight_lb else ""
    load = f"{cartons} carton{'s' * (cartons != 1)}{weight}" if cartons else ""
    return ", ".join(part for part in (stairs, load) if part)


def cover_content(
    *,
    places: Sequence[tuple[str, str]],
    contacts: Sequence[tuple[str, str, str]],
    carry: str,
    today: str,
    access: str | None,
) -> Fields:
    """Return the cover's own words.

    ``places``: parking, saw spot and the like, what is known of them; ``contacts``: role, name and
    phone; ``today``: the drawing that leads a phone to the day; ``access``: None where it is not
    printed, since paper gets lost: the phone shows it on the day.
    """
    return {
        "places": [list(place) for place in places],
        "contacts": [list(contact) for contact in contacts],
        "carry": carry,
        "today": today,
        "access": access,
    }
