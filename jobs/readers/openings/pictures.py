"""Pictures of what a room's edges carry: a doorway's cross-section, a stair, trim on its walls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from jobs.domain.lengths import MM_PER_IN, length_words
from jobs.domain.openings.stairs import risers_after
from jobs.models import Doorway, Room, StairFlight, TrimRun
from jobs.readers.openings.doorways import stands_words, step_of
from jobs.readers.openings.openings import near_side, wall_name
from jobs.readers.openings.stairs import TREAD_IN, flight_of
from layout.drawing.pictures.levels import LevelSection, draw_levels
from layout.drawing.pictures.stair import SectionStep, draw_stair
from layout.drawing.pictures.trim_runs import DrawnRun, draw_runs

_NO_STRIP = frozenset({"carry through", "none"})
_MOST_LETTERS = 24

Spans = Mapping[tuple[int, int], tuple[float, float]]


def doorway_picture(doorway: Doorway) -> str:
    """Return both floors of a doorway as they will stand, with the strip between them."""
    beyond = near_side(doorway).leads
    strip = "" if doorway.treatment in _NO_STRIP else str(doorway.treatment)
    return draw_levels(
        LevelSection(
            rise=float(step_of(doorway)),
            here=_short(doorway.room.name),
            beyond=_short(beyond),
            stands=stands_words(doorway),
            strip=strip,
        ),
        title=f"Cross-section to {_short(beyond)}",
    )


def stair_picture(row: StairFlight) -> str:
    """Return a flight as a section; empty where no riser is measured."""
    flight, system = flight_of(row), row.job.units
    pairs = zip(flight.risers_in, risers_after(flight), strict=True)
    steps = [
        SectionStep(
            now=float(now), after=float(after), words=length_words(after * MM_PER_IN, system)
        )
        for now, after in pairs
    ]
    if not steps:
        return ""
    return draw_stair(
        steps,
        run=float(TREAD_IN if flight.tread_in is None else flight.tread_in),
        lifted=float(flight.below_up_in),
        title=f"Section of {_short(row.name)}",
    )


def runs_picture(room: Room, runs: Iterable[TrimRun], spans: Spans) -> str:
    """Return a room with its runs by the names of their walls; base and shoe of one wall are one.

    What follows no wall or is left out is not drawn.
    """
    ring = tuple((float(x), float(y)) for x, y in room.outline)
    if not ring:
        return ""
    along = {
        (run.wall, run.place): run
        for run in runs
        if (run.wall, run.place) in spans and not run.left_out
    }
    drawn = [
        DrawnRun(
            name=wall_name(room, wall) + (f", piece {place + 1}" if place else ""),
            wall=wall,
            begins=spans[wall, place][0],
            ends=spans[wall, place][1],
            words=length_words(run.length_mm, room.job.units),
        )
        for (wall, place), run in along.items()
    ]
    return draw_runs(ring, drawn, title=f"Trim of {_short(room.name)}")


def _short(words: str) -> str:
    return words if len(words) <= _MOST_LETTERS else f"{words[: _MOST_LETTERS - 1]}…"
