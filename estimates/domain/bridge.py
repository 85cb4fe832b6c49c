"""The bridge from the quoted profit to the real one, as a drawing: pure, black on white.

One bar a step, each beginning where the last one ended. What is quoted and what came of it are
outlined thick; what was lost is hatched, what was gained is plain. Figures stand at every bar, so
nothing depends on color.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from html import escape

from estimates.domain.review_values import Review
from jobs.domain.checks import ZERO
from jobs.domain.figures import money

WIDTH = 480
ROW = 58
LETTER, BAR = 17, 20
EDGE = 3


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One bar: its words, where it begins and ends in money, and whether it is a sum."""

    text: str
    start: Decimal
    end: Decimal
    total: bool

    @property
    def amount(self) -> Decimal:
        """The sum itself, or by how much the bar moves it."""
        return self.end if self.total else self.end - self.start


def steps_of(review: Review) -> tuple[Step, ...]:
    """Return the bars: profit quoted, every part of the bridge, profit made."""
    steps = [Step(text="Profit quoted", start=ZERO, end=review.quoted.profit, total=True)]
    at = review.quoted.profit
    for part in review.bridge:
        amount = part.amount or ZERO
        steps.append(Step(text=part.text, start=at, end=at + amount, total=False))
        at += amount
    steps.append(Step(text="Profit made", start=ZERO, end=review.real.profit, total=True))
    return tuple(steps)


def bridge_svg(review: Review, currency: str, ident: str = "bridge") -> str:
    """Return the bridge as SVG; `ident` begins the ids inside it."""
    steps = steps_of(review)
    place = _scale(steps)
    height = ROW * len(steps) + 2 * EDGE
    bars = "".join(
        _bar(step, place, row=row, currency=currency, ident=ident) for row, step in enumerate(steps)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
        f' color="#1E2329" fill="none" font-family="Inter, DejaVu Sans, sans-serif">'
        f"<title>From the profit quoted to the profit made</title>"
        f"<desc>{escape(_sentence(steps, currency))}</desc>{_hatch(ident)}{bars}</svg>"
    )


def _hatch(ident: str) -> str:
    return (
        f'<defs><pattern id="{ident}-loss" width="7" height="7" patternUnits="userSpaceOnUse">'
        '<path d="M0 7L7 0" stroke="currentColor" stroke-width="1.2" fill="none"/>'
        "</pattern></defs>"
    )


class _Scale:
    """Money to units of the drawing, from the left edge to the right."""

    def __init__(self, least: Decimal, most: Decimal) -> None:
        self._least = least
        self._per = (WIDTH - 2 * EDGE) / float(most - least)

    def __call__(self, amount: Decimal) -> float:
        return round(EDGE + float(amount - self._least) * self._per, 1)


def _scale(steps: Sequence[Step]) -> _Scale:
    marks = [ZERO, *(step.start for step in steps), *(step.end for step in steps)]
    least, most = min(marks), max(marks)
    return _Scale(least, most if most > least else least + 1)


def _bar(step: Step, place: _Scale, *, row: int, currency: str, ident: str) -> str:
    """Return one bar with its words above it and a line where nought is."""
    left, right = sorted((place(step.start), place(step.end)))
    top = EDGE + ROW * row + LETTER + 8
    lost = not step.total and step.amount < 0
    fill = f'fill="url(#{ident}-loss)"' if lost else 'class="paper" fill="#fff"'
    drawn, weight = ("hole", 2.4) if step.total else ("row", 1.6)
    box = f'x="{left}" y="{top}" width="{round(right - left, 1)}" height="{BAR}"'
    zero_line = f"M{place(ZERO)} {top}v{BAR}"
    return (
        f"{_letter(step, top - 8, _signed(step, currency))}<rect {box} {fill}/>"
        f'<rect class="{drawn}" {box} stroke="currentColor" stroke-width="{weight}"/>'
        f'<path class="joint" d="{zero_line}" stroke="currentColor" stroke-width="0.9"/>'
    )


def _letter(step: Step, y: int, figure: str) -> str:
    weight = "600" if step.total else "400"
    style = f'y="{y}" font-size="{LETTER}" font-weight="{weight}" fill="currentColor"'
    return (
        f'<text x="{EDGE}" {style}>{escape(step.text)}</text>'
        f'<text x="{WIDTH - EDGE}" {style} text-anchor="end">{escape(figure)}</text>'
    )


def _signed(step: Step, currency: str) -> str:
    plus = "+" if not step.total and step.amount > 0 else ""
    return plus + money(step.amount, currency)


def _sentence(steps: Sequence[Step], currency: str) -> str:
    return "; ".join(f"{step.text} {_signed(step, currency)}" for step in steps) + "."
