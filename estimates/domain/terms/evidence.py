"""What an allowance stands on, in sentences: kept with it, and shown beside what is offered."""

from collections.abc import Sequence
from decimal import Decimal

from estimates.domain.money import to_unit_cost
from estimates.domain.terms.allowances import CostOfOne, LowSpots
from jobs.domain.figures import money, unit_sign

LONGEST_EVIDENCE = 300
_NAMED = 3
_ONE = {"ft": "foot", "lf": "foot", "ft2": unit_sign("ft2")}


def survey_words(spots: LowSpots, rooms: Sequence[str], hours: Decimal) -> str:
    """Return what the depth survey says: bags and hours as a range, and what is counted already.

    `hours` are those of one bag.
    """
    least, most = spots.least, spots.most
    took = f"{_range(least * hours, most * hours)} h"
    words = f"Depth survey of {names(rooms)}: {_range(least, most)} bags, {took}, "
    words += "each depth 1/16 in more or less."
    if spots.counted:
        words += f" The scope counts {spots.counted}; the cap is what lies beyond."
    return words


def without_survey(rooms: Sequence[str]) -> str:
    """Return that nobody measured how low the subfloor of these rooms lies."""
    return f"No depth survey of {names(rooms)} yet." if rooms else "No depth survey yet."


def primer_words(spots: LowSpots, rooms: Sequence[str]) -> str:
    """Return how much of the floor is primed under the leveler."""
    low = spots.low_ft2.quantize(Decimal("0.1"))
    return f"{_plain(low)} ft2 read low in the depth survey of {names(rooms)}."


def base_words(feet: Decimal, rooms: Sequence[str]) -> str:
    """Return how much old base might break."""
    length = _plain(feet.quantize(Decimal("0.1")))
    return f"{length} ft of old base come off and go back in {names(rooms)}."


def cost_words(cost: CostOfOne, currency: str) -> str:
    """Return what one unit costs by its parts: material $38.00, 0.5 h at $48.00 an hour."""
    parts = []
    if cost.bought_by_client:
        parts.append("material bought by the client")
    elif cost.lacking:
        parts.append("no price in the book yet")
    else:
        parts.append(f"material {money(to_unit_cost(cost.material), currency)}")
    if cost.tax:
        parts.append(f"sales tax {money(to_unit_cost(cost.tax), currency)}")
    if cost.hours:
        parts.append(f"{_plain(cost.hours)} h at {money(cost.rate, currency)} an hour")
    return ", ".join(parts)


def per_one(unit: str) -> str:
    """Return one of a unit as a price names it: a bag, an hour, a foot, each."""
    if unit == "each":
        return unit
    word = _ONE.get(unit, unit)
    article = "an" if word.startswith(("a", "e", "i", "o", "u", "hour")) else "a"
    return f"{article} {word}"


def names(rooms: Sequence[str]) -> str:
    """Return a few names of rooms, and how many more there are."""
    listed = ", ".join(rooms[:_NAMED])
    more = len(rooms) - _NAMED
    return f"{listed} and {more} more" if more > 0 else listed


def _range(least: Decimal | int, most: Decimal | int) -> str:
    ends = [_plain(Decimal(end)) for end in (least, most)]
    return ends[0] if ends[0] == ends[1] else " to ".join(ends)


def _plain(number: Decimal) -> str:
    """Return a number with no more places than say something, at most four."""
    return f"{number.quantize(Decimal('0.0001')).normalize():f}"
