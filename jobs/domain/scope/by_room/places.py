"""Where the work of a floor lies: its rooms with their rows, what each row takes, its stair.

Rooms share the hours of a task by what is counted in each, and what is counted for the whole floor
by their area. Rows share the hours of laying by their own length, cuts, notches and pieces that
slide in flat, at the rates that the floor is reckoned with.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.domain.checks import ZERO, require_choice, require_number, require_text
from jobs.domain.quantities import Quantity
from jobs.domain.scope.rates import ProductionRate, find_rate, hours_for
from jobs.domain.tasks import USES, RoomShare, in_shares

ROW_DRIVERS = ("floor_area", "pieces", "crosscuts", "rips", "notches", "trapped")
"""What a row is reckoned by; its figures stand in this order."""

WORDS_OF_USE: Mapping[str, tuple[str, ...]] = {
    "bedroom": ("bed", "bedroom", "nursery", "guest"),
    "kitchen": ("kitchen",),
    "bath": ("bath", "bathroom", "toilet", "powder", "wc"),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomFacts:
    """A room of a floor: its area, what it is used for, the first and last row that lie in it."""

    name: str
    area: Decimal
    use: str = ""
    rows: tuple[int, int] | None = None

    def __post_init__(self) -> None:
        """Refuse a room without a name or area, and a use that is none."""
        require_text("room.name", self.name)
        require_number(f"room {self.name}.area", self.area, above=0)
        require_choice(f"room {self.name}.use", self.use, ("", *USES))


@dataclass(frozen=True, kw_only=True, slots=True)
class FloorFacts:
    """A floor as its days need it. `rows` are figures of each row, in the order of `ROW_DRIVERS`.

    `doorways` say by its name which room a doorway is in; `alternate`: its stair is glued and the
    only one, so that its treads are done in two passes.
    """

    rooms: tuple[RoomFacts, ...] = ()
    rows: tuple[tuple[Decimal, ...], ...] = ()
    doorways: Mapping[str, str] = field(default_factory=dict)
    alternate: bool = False


def use_of(name: str, toilets: int = 0) -> str:
    """Return what a room is used for, by its name and by a toilet in it; empty where that is open.

    Nobody types it: a room with a toilet is a bath, others by the words of their names.
    """
    if toilets:
        return "bath"
    words = "".join(letter if letter.isalpha() else " " for letter in name.casefold()).split()
    for use, names in WORDS_OF_USE.items():
        if any(word.startswith(names) for word in words):
            return use
    return ""


def room_shares(
    hours: Decimal, parts: Sequence[tuple[Quantity, Decimal]], floor: FloorFacts | None
) -> tuple[RoomShare, ...]:
    """Return the hours of a task by room; none where the rooms of the floor are not known.

    `parts` are its quantities with the hours that each takes.
    """
    if floor is None or not floor.rooms or not hours:
        return ()
    rooms = {room.name: ZERO for room in floor.rooms}
    area = sum((room.area for room in floor.rooms), ZERO)
    for entry, taken in parts:
        room = floor.doorways.get(entry.room, entry.room)
        if room in rooms:
            rooms[room] += taken
        else:
            for each in floor.rooms:
                rooms[each.name] += taken * each.area / area
    worked = [room for room in floor.rooms if rooms[room.name]]
    shares = in_shares(hours, [rooms[room.name] for room in worked])
    return tuple(
        RoomShare(room=room.name, hours=share)
        for room, share in zip(worked, shares, strict=True)
        if share
    )


def lay_shares(hours: Decimal, floor: FloorFacts | None) -> tuple[RoomShare, ...]:
    """Return the rooms of a floor with their rows and uses, the hours of laying by area."""
    if floor is None or not all(room.rows for room in floor.rooms):
        return ()
    shares = in_shares(hours, [room.area for room in floor.rooms])
    return tuple(
        RoomShare(room=room.name, hours=share, use=room.use, rows=room.rows)
        for room, share in zip(floor.rooms, shares, strict=True)
    )


def row_hours(
    hours: Decimal, rows: int, floor: FloorFacts | None, rates: Sequence[ProductionRate]
) -> tuple[Decimal, ...]:
    """Return the hours of each row by its own figures; none where these are not known."""
    if floor is None or len(floor.rows) != rows or not hours:
        return ()
    known = [find_rate(rates, "lay", driver, "") for driver in ROW_DRIVERS]
    weights = [
        sum(
            (hours_for(amount, rate) for amount, rate in zip(row, known, strict=True) if rate),
            ZERO,
        )
        for row in floor.rows
    ]
    return in_shares(hours, weights)
