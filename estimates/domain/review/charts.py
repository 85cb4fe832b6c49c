"""Charts of reviews as SVG, pure, black on white; the figures stand in the table beside each."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from html import escape

from estimates.domain.review.values import DayReached
from jobs.domain.checks import ZERO
from jobs.domain.figures import money

WIDTH, HEIGHT = 480, 260
LETTER = 17
LEFT, RIGHT, TOP, BOTTOM = 84, 92, 14, 32
BAR, STEP = 20, 58
INK = "currentColor"


def reached_svg(days: Sequence[DayReached]) -> str:
    """Return hours earned, spent and planned until the end of each day as lines."""
    lines = [
        ("earned", "", [day.earned for day in days]),
        ("spent", "9 5", [day.spent for day in days]),
    ]
    if all(day.planned is not None for day in days):
        lines.append(("planned", "2 4", [day.planned or ZERO for day in days]))
    most = max((value for *_, values in lines for value in values), default=ZERO) or Decimal(1)
    drawn = "".join(_line(dash, values, most) for _, dash, values in lines)
    ends = _apart([(name, _y(values[-1], most)) for name, _, values in lines])
    words = "".join(_text(WIDTH - RIGHT + 6, y + 5, name) for name, y in ends)
    base, right = HEIGHT - BOTTOM, WIDTH - RIGHT
    frame = (
        f'<path d="M{LEFT} {TOP}V{base}H{right}" stroke="{INK}" stroke-width="1"/>'
        + _text(LEFT - 6, TOP + 10, f"{most.normalize():f} h", anchor="end")
        + _text(LEFT - 6, base, "0", anchor="end")
        + _text(right, HEIGHT - 8, _day(days[-1].day), anchor="end")
    )
    said = "; ".join(f"{_day(day.day)}: {day.earned} h earned, {day.spent} h spent" for day in days)
    return _svg(HEIGHT, "Hours earned and spent, day by day", said, frame + drawn + words)


def bars_svg(
    bars: Sequence[tuple[str, Decimal]], currency: str, title: str, ident: str = "bars"
) -> str:
    """Return amounts as bars from where nought is; those below it are hatched."""
    low = min([ZERO, *(amount for _, amount in bars)])
    high = max([ZERO, *(amount for _, amount in bars)])
    scale = Decimal(WIDTH - 6) / ((high - low) or 1)
    zero = 3 - low * scale
    drawn = []
    for place, (name, amount) in enumerate(bars):
        top = STEP * place + LETTER + 8
        start, width = zero + min(amount, ZERO) * scale, abs(amount) * scale
        fill = f'fill="url(#{ident}-loss)"' if amount < 0 else 'class="paper" fill="#fff"'
        drawn.append(
            _text(3, top - 8, name)
            + _text(WIDTH - 3, top - 8, money(amount, currency), anchor="end")
            + f'<rect x="{start:.1f}" y="{top}" width="{width:.1f}" '
            f'height="{BAR}" {fill} stroke="{INK}" stroke-width="1.6"/>'
        )
    hatch = (
        f'<defs><pattern id="{ident}-loss" width="7" height="7" patternUnits="userSpaceOnUse">'
        f'<path d="M0 7L7 0" stroke="{INK}" stroke-width="1.2" fill="none"/></pattern></defs>'
    )
    said = "; ".join(f"{name} {money(amount, currency)}" for name, amount in bars)
    return _svg(STEP * len(bars) + 6, title, said, hatch + "".join(drawn))


def _line(dash: str, values: Sequence[Decimal], most: Decimal) -> str:
    points = " ".join(
        f"{LEFT + (WIDTH - LEFT - RIGHT) * place / len(values):.1f},{_y(value, most):.1f}"
        for place, value in enumerate((ZERO, *values))
    )
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    width = 1.8 if dash else 3
    return f'<polyline points="{points}" stroke="{INK}" stroke-width="{width}"{dashed}/>'


def _y(value: Decimal, most: Decimal) -> float:
    return HEIGHT - BOTTOM - (HEIGHT - BOTTOM - TOP) * float(value / most)


def _apart(ends: Sequence[tuple[str, float]]) -> list[tuple[str, float]]:
    """Return the words at the ends of lines so far apart that each can be read."""
    placed: list[tuple[str, float]] = []
    for name, y in sorted(ends, key=lambda end: end[1]):
        placed.append((name, max(y, placed[-1][1] + LETTER + 2) if placed else y))
    return placed


def _day(day: str) -> str:
    _, month, date = day.split("-")
    return f"{int(month)}/{int(date)}"


def _text(x: float, y: float, words: str, *, anchor: str = "start") -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{LETTER}" fill="{INK}" '
        f'text-anchor="{anchor}">{escape(words)}</text>'
    )


def _svg(height: int, title: str, said: str, inside: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
        f' color="#1E2329" fill="none" font-family="Inter, DejaVu Sans, sans-serif">'
        f"<title>{escape(title)}</title><desc>{escape(said)}.</desc>{inside}</svg>"
    )
