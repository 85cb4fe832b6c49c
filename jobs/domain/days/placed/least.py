"""The least time that work as placed could take: by its order alone, and with this many people."""

from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.days.critical_path import critical_path
from jobs.domain.days.placed.network import Placed, befores, waited
from jobs.domain.days.placed.pieces import SiteClock, strokes_of
from jobs.domain.schedule.limited import Lasting, limited


@dataclass(frozen=True, kw_only=True, slots=True)
class LeastHours:
    """Hours that could be worked: of the critical path, and the fewest found for this crew."""

    order: Decimal
    crew: Decimal


def least_hours(placed: Placed, clock: SiteClock, people: int) -> LeastHours:
    """Return the least hours of this work, waits counted as they lie on these days.

    Each stroke keeps the people it has; only who is at it is left open.
    """
    strokes = strokes_of(placed.spells, {piece.end for piece in placed.pieces})
    demands: list[Lasting] = []
    of_piece: dict[str, list[str]] = {}
    for stroke in strokes:
        before = [other.key for other in befores(stroke, placed, strokes)]
        before += [wait.key for wait in waited(stroke, placed)]
        lasts = _halves(clock.at(stroke.end) - clock.at(stroke.start))
        takes = (len(stroke.people),)
        after = tuple(dict.fromkeys(before))
        demands.append(Lasting(name=stroke.key, lasts=lasts, after=after, takes=takes))
        of_piece.setdefault(stroke.key.rsplit("/", 2)[0], []).append(stroke.key)
    for wait in placed.waits:
        behind = tuple(key for piece in wait.behind for key in of_piece[piece])
        lasts = _halves(clock.at(wait.ends) - clock.at(wait.begins))
        demands.append(Lasting(name=wait.key, lasts=lasts, after=behind, takes=(0,)))
    alone = {d.name: (Decimal(d.lasts), d.after) for d in demands}
    table = limited(demands, (people,), tries=1)
    return LeastHours(order=critical_path(alone).length / 2, crew=Decimal(table.length) / 2)


def _halves(hours: Decimal) -> int:
    """Return the half hours of a span, the last one counted whole."""
    return int(-(-hours * 2 // 1))
