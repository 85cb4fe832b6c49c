"""Days of a job as bars, as SVG: a line a task, a column a day, and the row each day stops at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.drawing.pictures.frame import FIGURE_MM, SHEET_MM
from layout.drawing.true_size import FINE, THICK, TrueSize

_LEFT, _TOP, _LINE, _BAR = 30.0, 8.0, 8.0, 4.4


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskBar:
    """A task on a day: its line, the day from 0, from and to which hour of that day."""

    task: str
    day: int
    begins: float
    ends: float


def draw_days(bars: Sequence[TaskBar], stops: Sequence[str], *, hours: float, title: str) -> str:
    """Return the bars; ``stops`` are the words under each day, ``hours`` how long a day is."""
    tasks = list(dict.fromkeys(bar.task for bar in bars))
    wide = (SHEET_MM - _LEFT - 2) / len(stops)
    low = _TOP + _LINE * len(tasks)
    sheet = TrueSize(SHEET_MM, low + 10, name="days")
    for day, words in enumerate(stops):
        x = _LEFT + day * wide
        sheet.line([(x, 2), (x, low + 8)], name="day", weight=FINE)
        sheet.words((x + 1.5, 4), f"Day {day + 1}", size=FIGURE_MM, name="day-name")
        sheet.words((x + 1.5, low + 5), words, size=FIGURE_MM, name="stop", bold=True)
    for place, task in enumerate(tasks):
        middle = _TOP + _LINE * (place + 0.5)
        sheet.words((1, middle), task, size=FIGURE_MM, name="task")
        for bar in bars:
            if bar.task == task:
                left, right = (
                    _LEFT + (bar.day + at / hours) * wide for at in (bar.begins, bar.ends)
                )
                high, deep = middle - _BAR / 2, middle + _BAR / 2
                box = [(left, deep), (right, deep), (right, high), (left, high), (left, deep)]
                sheet.line(box, name="bar", weight=THICK)
    return sheet.svg(title, "; ".join(f"day {n}: {w}" for n, w in enumerate(stops, 1)))
