"""The first cuts of a day and the offcuts that it starts from, as the newest packet has them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from jobs.domain.formats import BrokenDocumentError
from jobs.models import Job
from jobs.readers.days import TaskLine
from jobs.readers.stored_packet import stored_packet

FIRST_ROWS = 3
_PIECE = re.compile(r"(\d+)-\d+")
# Any: a floor of a packet is what its document holds, text and lists as printed.
PacketFloor = Mapping[str, Any]


@dataclass(frozen=True, kw_only=True, slots=True)
class FirstRow:
    """One of the first rows of a day: its pieces in a line, each cut piece with what to take."""

    row: int
    begin: str
    line: str
    cuts: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class StartingOffcut:
    """An offcut of an earlier day that a piece of this day is made of."""

    stack: str
    size: str
    piece: str


@dataclass(frozen=True, kw_only=True, slots=True)
class FloorStart:
    """Where a floor goes on this day."""

    zone: str
    rows: tuple[int, int]
    first: tuple[FirstRow, ...]
    offcuts: tuple[StartingOffcut, ...]


def floor_starts(job: Job, lines: Iterable[TaskLine]) -> list[FloorStart]:
    """Return where each floor goes on, for the floors that rows are finished of."""
    floors = {str(floor["name"]): floor for floor in _packet_floors(job)}
    return [
        FloorStart(
            zone=line.zone,
            rows=line.rows,
            first=tuple(_first_rows(floors[line.zone], line.rows)),
            offcuts=tuple(_offcuts(floors[line.zone], line.rows)),
        )
        for line in lines
        if line.rows and line.zone in floors
    ]


def _packet_floors(job: Job) -> list[PacketFloor]:
    packet = job.packets.select_related("document").first()
    if packet is None:
        return []
    try:
        floors: list[PacketFloor] = stored_packet(packet)["floors"]
    except BrokenDocumentError:
        return []
    return floors


def _first_rows(floor: PacketFloor, rows: tuple[int, int]) -> Iterator[FirstRow]:
    last = min(rows[1], rows[0] + FIRST_ROWS - 1)
    for row in floor["rows"]:
        if rows[0] <= int(row["row"]) <= last:
            cuts = tuple(f"{piece['id']}: {piece['take']}" for piece in row["pieces"])
            yield FirstRow(row=int(row["row"]), begin=row["begin"], line=row["line"], cuts=cuts)


def _offcuts(floor: PacketFloor, rows: tuple[int, int]) -> Iterator[StartingOffcut]:
    """Yield the offcuts cut before the first row of the day and used by one of its rows."""
    for entry in floor["rack"]:
        cut, used = _row_of(entry["cut_with"]), _row_of(entry["used_by"])
        if used and rows[0] <= used <= rows[1] and (cut or 0) < rows[0]:
            stack = str(entry["stack"] or "")
            yield StartingOffcut(stack=stack, size=str(entry["size"]), piece=str(entry["used_by"]))


def _row_of(piece: object) -> int | None:
    match = _PIECE.search(str(piece or ""))
    return int(match[1]) if match else None
