"""Which parts of a packet of many floors share a sheet: drawings, sticks, notched planks. Pure.

Strips of a floor, last sheet    | rows 24 to 26 |      a stick lies under the last rows of its own
                                 | its own stick |      floor, else where an earlier floor left
                                 | another stick |      room, else where a later one did
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from jobs.domain.formats import Fields

FEW = 2
"""So many floors have a sheet each for drawing and examples; of more, two stand on a sheet."""
_LYING = 183.8  # millimeters of A4, the lower paper, between the margins of a sheet of strips
_HEAD, _STICK_HEAD, _LINE = 9.7, 13.0, 4.4  # over strips; over a stick; a line of words
_HEIGHT = re.compile(r'<svg[^>]*? height="([\d.]+)mm"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A floor where it is printed: ``part`` names it among the sheets that may be printed alone.

    ``sticks`` lie behind its strips, its own or other floors'; ``stick_at`` is the place of the
    floor behind whose strips its own stick lies, 0 behind all of them; ``drawn_by`` the place of
    the floor with the same stick, under whose name it is drawn.
    """

    place: int
    floor: Fields
    sticks: tuple[Printed, ...] = ()
    stick_at: int = 0
    drawn_by: int = 0

    @property
    def part(self) -> str:
        """The name of the floor among the parts of its packet."""
        return f"floor {self.place}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """The order of the parts: drawings of floors, strips, and what lies ``behind`` all strips.

    ``slid``: the floors whose slides stand in one table; none where each has its own.
    """

    drawn: tuple[Printed, ...]
    strips: tuple[Printed, ...]
    behind: tuple[Printed, ...] = ()
    slid: tuple[Fields, ...] = ()
    many: bool = False


def packed(floors: Sequence[Fields], *, apart: bool = False) -> Packing:
    """Return the order in which floors are printed; of few floors each has its own sheets.

    ``apart``: some of the sheets are printed alone, each with what belongs to its floor.
    """
    places = {floor["name"]: place for place, floor in reversed([*enumerate(floors, start=1)])}
    printed = [
        Printed(place=place, floor=floor, drawn_by=places.get(_same_stick(floor), 0))
        for place, floor in enumerate(floors, start=1)
    ]
    if apart or len(floors) <= FEW:
        alone = tuple(_with_its_stick(one) for one in printed)
        return Packing(drawn=alone, strips=alone)
    drawn = sorted(printed, key=lambda one: (not one.floor.get("beside"), _drawn_mm(one)))
    at = _places_of_sticks(printed)
    strips = tuple(
        replace(
            one,
            sticks=tuple(other for other in printed if at[other.place] == one.place),
            stick_at=at[one.place],
        )
        for one in printed
    )
    behind = tuple(one for one in printed if not at[one.place])
    return Packing(
        drawn=tuple(drawn), strips=strips, behind=behind, slid=_in_one_table(floors), many=True
    )


def _in_one_table(floors: Sequence[Fields]) -> tuple[Fields, ...]:
    """Return the floors whose slides are told; none where their columns differ."""
    shown = []
    for floor in floors:
        stick = floor.get("stick") or {}
        slide = stick.get("slide") or {}
        parts = [slide.get(name) for name in ("lines", "far", "fixed")]
        speaks = any([*parts, stick.get("strips"), stick.get("by_hand")])
        if speaks and not floor.get("older") and stick.get("slide_for") != []:
            shown.append(floor)
    columns = {tuple(floor["stick"]["slide"]["by"]) for floor in shown}
    return tuple(shown) if len(columns) == 1 else ()


def _with_its_stick(one: Printed) -> Printed:
    return replace(one, sticks=(one,), stick_at=one.place)


def _same_stick(floor: Fields) -> str:
    """Return the name of the floor under which the stick of this one is drawn; else nothing."""
    return str((floor.get("stick") or {}).get("as", ""))


def _drawn_mm(one: Printed) -> float:
    """Return how tall a floor's drawing is where words stand under it; 0 beside its words."""
    return 0.0 if one.floor.get("beside") else sum(_mm(svg) for svg in one.floor["drawings"])


def _places_of_sticks(printed: Sequence[Printed]) -> dict[int, int]:
    """Return behind the strips of which floor each floor's stick lies; 0 where none has room."""
    room = {one.place: _room_of(one.floor) for one in printed}
    tall = {one.place: _stick_mm(one.floor) for one in printed}
    at: dict[int, int] = {}
    for one in printed:
        if tall[one.place] <= room[one.place]:
            at[one.place] = one.place
            room[one.place] -= tall[one.place]
    for one in sorted(printed, key=lambda one: -tall[one.place]):
        if one.place in at:
            continue
        before = sorted(room, key=lambda place: (place > one.place, abs(place - one.place)))
        at[one.place] = next((place for place in before if tall[one.place] <= room[place]), 0)
        if at[one.place]:
            room[at[one.place]] -= tall[one.place]
    return at


def _room_of(floor: Fields) -> float:
    """Return how many millimeters are free under the last rows of a floor."""
    sheets = (floor.get("strips") or {}).get("sheets") or ()
    if floor.get("older") or not sheets:
        return 0.0
    return _LYING - _HEAD - _mm(sheets[-1]["drawing"])


def _stick_mm(floor: Fields) -> float:
    """Return how tall a floor's stick is with its words."""
    stick = floor.get("stick") or {}
    if floor.get("older") or not stick.get("placings"):
        return 0.0
    words = _LINE * len(stick["scribe"]) + _STICK_HEAD
    if stick.get("as"):
        return words + _LINE
    placings = stick["placings"]
    lines = sum(bool(one.get("marks")) for one in placings)
    return words + _LINE * lines + sum(_mm(one["drawing"]) + 0.4 for one in placings)


def _mm(svg: str) -> float:
    """Return how tall a drawing is on paper."""
    height = _HEIGHT.search(svg)
    return float(height.group(1)) if height else _LYING
