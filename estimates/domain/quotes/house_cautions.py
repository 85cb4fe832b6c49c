"""What a homeowner should know of the house, in the homeowner's words. Pure.

Each caution that may reach a quote has its words here, made from what the visit found; the crew
reads the same caution in the trade's words. Local codes and licensed people go before all of them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.quotes.content import QuoteSection
from estimates.domain.quotes.plain_words import (
    STRIPS,
    called,
    called_all,
    in_letters,
    listed,
    opened,
    plain_words,
)
from jobs.domain.figures import length
from jobs.domain.openings.stairs import (
    RISER_DIFFERENCE_IN,
    RISER_MOST_IN,
    TREAD_LEAST_IN,
    Flight,
    difference_in,
    is_narrow,
    is_steep,
    is_uneven,
    risers_after,
)
from jobs.domain.openings.treatments import VERTICAL_IN
from jobs.domain.site.facts import Caution, LevelChange, VisitFacts, oldest_presumed_year

LOCAL_CODES = QuoteSection(
    title="Local codes",
    text="Where local codes or people licensed for the work say otherwise, they decide.",
)
INSPECTOR = "a qualified inspector has cleared it in writing"


@dataclass(frozen=True, kw_only=True, slots=True)
class House:
    """What the visit found, how lengths are told, and whether the homeowner hangs the doors."""

    facts: VisitFacts
    system: str = "imperial"
    doors_by_homeowner: bool = False

    def size(self, inches: Decimal) -> str:
        """Return a length with its units in letters."""
        return in_letters(length(inches, self.system))


def house_cautions(cautions: Iterable[Caution], house: House) -> tuple[QuoteSection, ...]:
    """Return those of a house's cautions that a quote shows; last what goes before them."""
    said = [_said(caution, house) for caution in cautions if "quote" in caution.shown_on]
    return (*said, LOCAL_CODES) if said else ()


def _said(caution: Caution, house: House) -> QuoteSection:
    words = WORDS.get(caution.code)
    if words is None:
        return QuoteSection(title=plain_words(caution.title), text=plain_words(caution.text))
    title, tell = words
    return QuoteSection(title=title, text=tell(house))


def _asbestos(house: House) -> str:
    year = oldest_presumed_year(house.facts)
    old = "Nobody knows how old it is" if year is None else f"It may be from {year}"
    if house.facts.tear_out or house.facts.grinding:
        return f"{old}, so it may hold asbestos. We don't touch it until {INSPECTOR}."
    return f"{old}, so it may hold asbestos. It stays: we don't sand, scrape or break it."


def _hidden_floor(_house: House) -> str:
    return (
        "An older floor may lie there and hold asbestos. If one shows, we stop, tell you the same "
        f"day, and go on once {INSPECTOR}."
    )


def _lead(house: House) -> str:
    year = house.facts.year_built
    built = "Nobody knows when your house was built" if year is None else f"Built in {year}"
    return (
        f"{built}, so its paint may hold lead. You get the pamphlet first; then a certified firm "
        "takes the painted wood off with the rooms closed off, or a test shows that there is none."
    )


def _moisture(house: House) -> str:
    where = listed(
        dict.fromkeys(one.where for one in house.facts.readings if one.over and one.where)
    )
    there = f" ({where})" if where else ""
    return (
        f"What lies beneath is too wet for your new floor now{there}. Nothing is laid until it has "
        "dried or is sealed as the floor's maker accepts, and has been measured again."
    )


def _levels(house: House) -> str:
    steps = [one for one in house.facts.level_changes if one.rise_in > VERTICAL_IN]
    said = [*dict.fromkeys(_step(one) for one in steps), "Mind the step."]
    if house.facts.accessible_route:
        said.append("Somebody there uses a wheelchair or a walker: local codes say how it slopes.")
    return " ".join(said)


def _step(change: LevelChange) -> str:
    room = called(_room_of(change.where))
    beyond = change.beyond or "the floor beyond"
    stands = in_letters(change.said) or f"{change.rise_in} in apart"
    strip = STRIPS.get(change.strip, ("", ""))[0]
    joined = f"; {strip} joins the two" if strip else ""
    return f"Where {room} ends, {beyond} stands {stands}{joined}."


def _doors(house: House) -> str:
    rooms: dict[str, list[str]] = defaultdict(list)
    for door in house.facts.tight_doors:
        rooms[in_letters(door.trim)].append(_room_of(door.where))
    return " ".join(
        _trimmed(trim, names, by_homeowner=house.doors_by_homeowner)
        for trim, names in rooms.items()
    )


def _trimmed(trim: str, names: list[str], *, by_homeowner: bool) -> str:
    doors, clears = ("door", "it clears") if len(names) == 1 else ("doors", "they clear")
    where = called_all(dict.fromkeys(names))
    so = f"off the bottom of the {doors} of {where}, so that {clears} the new floor"
    return f"You take {trim} {so}." if by_homeowner else f"{trim} comes {so}."


def _appliances(house: House) -> str:
    where = called_all(dict.fromkeys(one.where for one in house.facts.trapped_appliances))
    return (
        f"The new floor of {where} would close in what stands under the counter: it could not be "
        "pulled out again. We agree with you first whether it is moved and the floor laid beneath "
        "it, or the counter is raised."
    )


def _flights(house: House, of: Callable[[Flight], bool], by: Callable[[Flight], Decimal]) -> str:
    return listed(
        f"{flight.name}, {house.size(by(flight))}" for flight in house.facts.stairs if of(flight)
    )


def _uneven(house: House) -> str:
    return (
        "With the new floor the highest step is higher than the lowest: "
        f"{_flights(house, is_uneven, difference_in)}. {opened(house.size(RISER_DIFFERENCE_IN))} "
        "is the most. It is put right before the stairs are covered."
    )


def _steep(house: House) -> str:
    said = _flights(house, is_steep, lambda flight: max(risers_after(flight)))
    return f"The highest step with the new floor: {said}. {house.size(RISER_MOST_IN)} is the most."


def _narrow(house: House) -> str:
    said = _flights(house, is_narrow, lambda flight: flight.tread_in or Decimal(0))
    return f"The depth of a step: {said}. {house.size(TREAD_LEAST_IN)} is the least."


def _room_of(where: str) -> str:
    """Return the room of a place that names a wall of it."""
    return where.split(", wall ")[0]


def _plain(text: str) -> Callable[[House], str]:
    return lambda _house: text


WORDS: Mapping[str, tuple[str, Callable[[House], str]]] = {
    "asbestos": ("The old floor", _asbestos),
    "hidden-floor": ("Under the old floor", _hidden_floor),
    "old-adhesive": (
        "Old glue",
        _plain(
            "Black glue of an old floor may hold asbestos. We look first; if it is there, we stop, "
            f"tell you the same day, and go on once {INSPECTOR}."
        ),
    ),
    "lead": ("Old paint", _lead),
    "moisture": ("A wet floor", _moisture),
    "heated-floor": (
        "Heated floor",
        _plain(
            "We put no nail or screw into it. You turn it down before the work and up again after "
            "it, as the maker of the new floor says."
        ),
    ),
    "silica": (
        "Dust",
        _plain(
            "Cut or ground concrete, stone and tile make dust that harms the lungs. We work wet or "
            "with a dust collector; please stay out of the room meanwhile."
        ),
    ),
    "fire-door": (
        "A door that closes by itself or holds back fire",
        _plain("We don't trim it. If it doesn't close over the new floor, we ask you first."),
    ),
    "gas": (
        "Gas",
        _plain(
            "A licensed person, not we, takes the gas appliance off, puts it on again and tests it "
            "for leaks."
        ),
    ),
    "toilet": (
        "Toilet",
        _plain("It stands higher on the new floor, so the joint of its drain may need a new part."),
    ),
    "level-change": ("A step between two floors", _levels),
    "door-clearance": ("A door is trimmed", _doors),
    "appliance-trapped": ("An appliance under the counter", _appliances),
    "risers": ("Uneven stairs", _uneven),
    "riser-height": ("A high step of the stairs", _steep),
    "tread-depth": ("A narrow step of the stairs", _narrow),
}
"""The words of each caution by its code: a title, and what is told of this house."""
