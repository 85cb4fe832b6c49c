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

from estimates.domain.review.values import Review
from jobs.domain.checks import ZERO
from jobs.domain.figures import money

WIDTH = 480
ROW = 58
LETTER, BAR = 17, 20
EDGE = 3


@dataclass(frozen=True, kw_only=True, slots=True)
class BridgeBar:
    """One bar: its words, where it begins and ends in money, and whether it is a sum."""

    text: str
    start: Decimal
    end: Decimal
    total: bool

    @property
    def amount(self) -> Decimal:
        """The sum itself, or by how much the bar moves it."""
        return self.end if self.total else self.end - self.start


ACTUAL, SO_FAR = "Actual profit", "Profit so far"
"""The last bar, of a closed job and of one that is still open."""


def bars_of(review: Review, ends: str = ACTUAL) -> tuple[BridgeBar, ...]:
    """Return the bars: quoted profit, every part of the bridge, the profit that it ends with."""
    bars = [BridgeBar(text="Quoted profit", start=ZERO, end=review.quoted.profit, total=True)]
    at = review.quoted.profit
    for part in review.bridge:
        amount = part.amount or ZERO
        bars.append(BridgeBar(text=part.text, start=at, end=at + amount, total=False))
        at += amount
    bars.append(BridgeBar(text=ends, start=ZERO, end=review.real.profit, total=True))
    return tuple(bars)


def bridge_svg(review: Review, currency: str, ident: str = "bridge", *, ends: str = ACTUAL) -> str:
    """Return the bridge as SVG; `ident` begins the ids inside it."""
    bars = bars_of(review, ends)
    place = _scale(bars)
    height = ROW * len(bars) + 2 * EDGE
    drawn = "".join(
        _bar(bar, place, row=row, currency=currency, ident=ident) for row, bar in enumerate(bars)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
        f' color="#1E2329" fill="none" font-family="Inter, DejaVu Sans, sans-serif">'
        f"<title>From the quoted profit to the actual profit</title>"
        f"<desc>{escape(_sentence(bars, currency))}</desc>{_hatch(ident)}{drawn}</svg>"
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


def _scale(bars: Sequence[BridgeBar]) -> _Scale:
    marks = [ZERO, *(bar.start for bar in bars), *(bar.end for bar in bars)]
    least, most = min(marks), max(marks)
    return _Scale(least, most if most > least else least + 1)


def _bar(bar: BridgeBar, place: _Scale, *, row: int, currency: str, ident: str) -> str:
    """Return one bar with its words above it and a line where nought is."""
    left, right = sorted((place(bar.start), place(bar.end)))
    top = EDGE + ROW * row + LETTER + 8
    lost = not bar.total and bar.amount < 0
    fill = f'fill="url(#{ident}-loss)"' if lost else 'class="paper" fill="#fff"'
    kind, weight = ("hole", 2.4) if bar.total else ("row", 1.6)
    box = f'x="{left}" y="{top}" width="{round(right - left, 1)}" height="{BAR}"'
    zero_line = f"M{place(ZERO)} {top}v{BAR}"
    return (
        f"{_letter(bar, top - 8, _signed(bar, currency))}<rect {box} {fill}/>"
        f'<rect class="{kind}" {box} stroke="currentColor" stroke-width="{weight}"/>'
        f'<path class="joint" d="{zero_line}" stroke="currentColor" stroke-width="0.9"/>'
    )


def _letter(bar: BridgeBar, y: int, figure: str) -> str:
    weight = "600" if bar.total else "400"
    style = f'y="{y}" font-size="{LETTER}" font-weight="{weight}" fill="currentColor"'
    return (
        f'<text x="{EDGE}" {style}>{escape(bar.text)}</text>'
        f'<text x="{WIDTH - EDGE}" {style} text-anchor="end">{escape(figure)}</text>'
    )


def _signed(bar: BridgeBar, currency: str) -> str:
    plus = "+" if not bar.total and bar.amount > 0 else ""
    return plus + money(bar.amount, currency)


def _sentence(bars: Sequence[BridgeBar], currency: str) -> str:
    return "; ".join(f"{bar.text} {_signed(bar, currency)}" for bar in bars) + "."
