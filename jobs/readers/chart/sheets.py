"""The chart of days on paper: as many days a sheet as keep their lettering at full size.

Lettering is drawn 12 px high, which is 9 pt; nothing on paper is smaller. A sheet is Letter or A4
across, less half an inch all around and what its head and key take.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from jobs.domain.days.placed.reasons import day_words
from jobs.models import WorkDay
from jobs.readers.chart.drawn import DaysChart, draw_days
from jobs.readers.chart.placed import PlacedJob

MOST_WIDE, MOST_HIGH = 960, 600
PAPER_ROW = 18


@dataclass(frozen=True, kw_only=True, slots=True)
class ChartSheet:
    """One sheet: the drawing of some days, what it is called in the page, and which days."""

    name: str
    words: str
    chart: DaysChart


def chart_sheets(job: PlacedJob, days: Sequence[WorkDay]) -> list[ChartSheet]:
    """Return the fewest sheets on which these days fit, as many days on each as on the others."""
    for count in range(1, len(days) + 1):
        parts = _parts(days, count)
        charts = [draw_days(_of_days(job, part), part, PAPER_ROW) for part in parts]
        if count == len(days) or all(_fits(chart) for chart in charts):
            return [
                _sheet(part, chart, len(days)) for part, chart in zip(parts, charts, strict=True)
            ]
    return []


def _parts(days: Sequence[WorkDay], count: int) -> list[Sequence[WorkDay]]:
    """Return the days in so many parts, none longer than another by more than one."""
    ends = [len(days) * number // count for number in range(count + 1)]
    return [days[ends[number] : ends[number + 1]] for number in range(count)]


def _fits(chart: DaysChart) -> bool:
    return chart.wide <= MOST_WIDE and chart.high <= MOST_HIGH


def _sheet(days: Sequence[WorkDay], chart: DaysChart, count: int) -> ChartSheet:
    first, last = days[0], days[-1]
    if len(days) == 1:
        words = f"day {first.number} of {count}, {day_words(first.date)}"
    else:
        numbers = f"days {first.number} to {last.number} of {count}"
        words = f"{numbers}, {day_words(first.date)} to {day_words(last.date)}"
    return ChartSheet(name=f"chart-sheet-{first.number}", words=words, chart=chart)


def _of_days(job: PlacedJob, days: Sequence[WorkDay]) -> PlacedJob:
    """Return what of a job lies on these days; waits that reach into them too."""
    dates = {day.date for day in days}
    first, last = min(dates), max(dates)
    placed = job.placed
    waits = [one for one in placed.waits if one.begins[0] <= last and one.ends[0] >= first]
    return replace(
        job,
        placed=replace(
            placed,
            spells=[one for one in placed.spells if one.day in dates],
            pieces=[one for one in placed.pieces if one.day in dates],
            waits=waits,
        ),
        standings=tuple(one for one in job.standings if one.piece.day in dates),
        gates=tuple(one for one in job.gates if one.moment[0] in dates),
    )
