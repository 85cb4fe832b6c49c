"""The openings in a room's walls, measured from either side, and what they must obey."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.core.exceptions import ValidationError

from jobs.domain.lengths import ROUNDING_MM, length_words, mm_from, mm_in
from jobs.domain.rooms.sides import OutlineSide, names_of
from jobs.domain.trim.runs import TrimGap
from jobs.models import Doorway, Room
from layout.values.outline import edges_of


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomOpening:
    """One opening as a wall of a room sees it; ``leads`` names what lies beyond."""

    doorway: Doorway
    wall: int
    offset_mm: Decimal
    leads: str
    field_prefix: str = ""

    @property
    def end_mm(self) -> Decimal:
        """Where the opening ends, from the wall's first corner."""
        return Decimal(self.offset_mm + self.doorway.width_mm)

    def gap(self, unit: str) -> TrimGap:
        """Return the opening as trim sees it."""
        offset, width = mm_in(self.offset_mm, unit), mm_in(self.doorway.width_mm, unit)
        return TrimGap(wall=self.wall, offset=offset, width=width)


def openings_of(room: Room) -> list[RoomOpening]:
    """Return every opening in the walls of a room, also those measured from the room beyond."""
    return openings_by_room([room])[room.pk]


def openings_by_room(rooms: Iterable[Room]) -> dict[int, list[RoomOpening]]:
    """Return the openings of each of these rooms by its pk, in two queries however many rooms."""
    members: dict[int | None, Room] = {room.pk: room for room in rooms}
    openings: dict[int, list[RoomOpening]] = {room.pk: [] for room in members.values()}
    for doorway in Doorway.objects.filter(room__in=list(members)).select_related("beyond"):
        doorway.room = members[doorway.room_id]
        openings[doorway.room.pk].append(near_side(doorway))
    for doorway in Doorway.objects.filter(beyond__in=list(members)).select_related("room"):
        doorway.beyond = members[doorway.beyond_id]
        opening = far_side(doorway)
        if opening is not None:
            openings[doorway.beyond.pk].append(opening)
    return openings


def near_side(doorway: Doorway) -> RoomOpening:
    """Return a doorway as the room sees it in which it was measured."""
    leads = doorway.beyond.name if doorway.beyond else doorway.beyond_floor or "what lies beyond"
    return RoomOpening(doorway=doorway, wall=doorway.wall, offset_mm=doorway.offset_mm, leads=leads)


def far_side(doorway: Doorway) -> RoomOpening | None:
    """Return a doorway as the room beyond sees it, None where its place there is not known."""
    if doorway.beyond is None or doorway.beyond_wall is None or doorway.beyond_offset_mm is None:
        return None
    return RoomOpening(
        doorway=doorway,
        wall=doorway.beyond_wall,
        offset_mm=doorway.beyond_offset_mm,
        leads=doorway.room.name,
        field_prefix="beyond_",
    )


def wall_lengths_mm(room: Room) -> list[Decimal]:
    """Return the length of every wall of a room as drawn."""
    ring = tuple((x, y) for x, y in room.outline)
    return [mm_from(math.dist(a, b), room.job.unit) for a, b in edges_of(ring)] if ring else []


def wall_name(room: Room, wall: int) -> str:
    """Return how the drawing calls a side of a room's outline: "2", or "2a" of a bowed wall."""
    names = names_of([OutlineSide(wall=side["wall"], kind=side["kind"]) for side in room.edges])
    return (names[wall] if wall < len(names) else "") or str(wall + 1)


def refuse_misplaced(doorway: Doorway) -> None:
    """Refuse a doorway that does not fit the walls it stands in.

    Raises ValidationError by field of the doorway's form: wall, offset, width.
    """
    _refuse_in_wall(doorway.room, near_side(doorway))
    beyond = far_side(doorway)
    if doorway.beyond is not None and beyond is not None:
        _refuse_in_wall(doorway.beyond, beyond)


def refuse_lost(room: Room) -> None:
    """Refuse walls in which the room's doorways would no longer stand.

    Raises ValidationError naming the doorway.
    """
    for opening in openings_of(room):
        try:
            _refuse_in_wall(room, opening)
        except ValidationError as bad:
            lost = f"The doorway to {opening.leads} would no longer fit. {' '.join(bad.messages)}"
            raise ValidationError(f"{lost} Move or remove the doorway first.") from None


def _refuse_in_wall(room: Room, opening: RoomOpening) -> None:
    """Refuse an opening past its wall's ends, wider than it, or over another opening."""
    system, prefix, walls = room.job.units, opening.field_prefix, wall_lengths_mm(room)
    if not 0 <= opening.wall < len(walls):
        message = f"{room} has no wall {opening.wall + 1}; accepted: 1 to {len(walls)}."
        raise ValidationError({f"{prefix}wall": message})
    length, number = walls[opening.wall], f"wall {opening.wall + 1} of {room}"
    width, long = (length_words(mm, system) for mm in (opening.doorway.width_mm, length))
    if opening.doorway.width_mm > length + ROUNDING_MM:
        message = f"{width} is wider than {number}; accepted: up to {long}."
        raise ValidationError({"width": message})
    if opening.end_mm > length + ROUNDING_MM:
        most = length_words(length - opening.doorway.width_mm, system)
        end = length_words(opening.end_mm, system)
        message = f"The doorway would end at {end}, {number} is {long}; accepted: up to {most}."
        raise ValidationError({f"{prefix}offset": message})
    for other in openings_of(room):
        if other.doorway.pk != opening.doorway.pk and _overlap(opening, other):
            span = " to ".join(length_words(mm, system) for mm in (other.offset_mm, other.end_mm))
            message = f"It overlaps the doorway to {other.leads}, {span} in {number}"
            raise ValidationError({f"{prefix}offset": f"{message}; accepted: a place clear of it."})


def _overlap(one: RoomOpening, other: RoomOpening) -> bool:
    """Whether two openings share more of one wall than rounding makes."""
    shared = min(one.end_mm, other.end_mm) - max(one.offset_mm, other.offset_mm)
    return one.wall == other.wall and shared > ROUNDING_MM
