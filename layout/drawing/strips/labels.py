"""Labels over and under a strip: each where it falls, on further lines where they would meet.

14⅞        ❶ 24⅛              first line: each over its piece
             8-4: 12          second line: named, since it stands off
+------+----------+----+
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from layout.drawing.strips.paper import Token, tokens_width

_APART = 2.0  # millimeters between two labels of a line
_OVER = 1.5  # millimeters that a label may stand out


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLabel:
    """A label: its words, the piece that it belongs to, from where to where that lies.

    ``anchor``: whether it stands at the start, the middle or the end of its piece. ``named``: it
    says itself which piece it belongs to.
    """

    piece: str
    span: tuple[float, float]
    tokens: tuple[Token, ...]
    anchor: str = "middle"
    named: bool = False
    line: int = 0
    x: float = 0.0

    @property
    def wide(self) -> float:
        """How wide it comes out."""
        return tokens_width(self.tokens)

    @property
    def wanted(self) -> float:
        """Where it would begin if nothing stood in its way."""
        low, high = self.span
        return {"start": low, "end": high - self.wide}.get(
            self.anchor, (low + high - self.wide) / 2
        )


def placed(
    labels: Iterable[StripLabel],
    *,
    least: float,
    most: tuple[float, float],
    spans: dict[str, tuple[float, float]],
) -> list[StripLabel]:
    """Return labels with their lines and places between two bounds, none upon another.

    A label that stands off its piece, or nearer to another one that is cut, is named by it;
    ``spans`` are those of the pieces that are cut. ``most`` is the bound of the first line
    and that of all others.
    """
    lines: list[list[StripLabel]] = []
    done: list[StripLabel] = []
    for label in sorted(labels, key=lambda one: (one.wanted, one.span)):
        x = max(least, min(label.wanted, most[0] - label.wide))
        clear = label if label.named or _is_clear(label, x, spans) else _named(label)
        line, x = _free(lines, clear, least, most)
        if line and not clear.named:
            clear = _named(label)
            line, x = _free(lines, clear, least, most)
        clear = replace(clear, line=line, x=x)
        while len(lines) <= line:
            lines.append([])
        lines[line].append(clear)
        done.append(clear)
    return done


def _free(
    lines: Sequence[Sequence[StripLabel]],
    label: StripLabel,
    least: float,
    most: tuple[float, float],
) -> tuple[int, float]:
    """Return the first line where a label has room, and its place there."""
    i = 0
    while True:
        line = lines[i] if i < len(lines) else ()
        bound = most[0] if i == 0 else most[1]
        x = max(least, min(label.wanted, bound - label.wide))
        fits = x + label.wide <= bound + _OVER or (i > 0 and not line)
        if fits and all(
            x >= other.x + other.wide + _APART or other.x >= x + label.wide + _APART
            for other in line
        ):
            return i, x
        i += 1


def _is_clear(label: StripLabel, x: float, spans: dict[str, tuple[float, float]]) -> bool:
    """Whether a label lies over its piece more than over any other one that is cut."""

    def shared(span: tuple[float, float]) -> float:
        return min(span[1], x + label.wide) - max(span[0], x)

    mine = shared(label.span)
    return mine > 0 and all(
        shared(span) <= 0.5 * mine for name, span in spans.items() if name != label.piece
    )


def _named(label: StripLabel) -> StripLabel:
    """Return a label that says which piece it belongs to."""
    name = Token(text=f"{label.piece}:", bold=True, size=label.tokens[-1].size)
    return replace(label, tokens=(name, *label.tokens), named=True)
