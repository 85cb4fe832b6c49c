"""Plans of a format that is no longer made: shown and drawn for ever, printed or agreed on no more.

What they say of a cut is told as they say it; no saw has tried it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.domain.checks import BadValueError
from jobs.domain.lengths import core_length_words
from layout.values.laid_pieces import laid_pieces
from layout.values.material import Side
from layout.values.plan import Cut, Plan
from layout.values.request import PlanRequest

_SEEN_FROM = {
    Side.LOW: {"low side": "near edge", "high side": "far edge"},
    Side.HIGH: {
        "left end": "right end",
        "right end": "left end",
        "low side": "far edge",
        "high side": "near edge",
    },
}
_KINDS = {"crosscut": "Cut across", "rip": "Rip", "angle": "Cut at an angle", "notch": "Notch"}


class OlderPlanError(BadValueError):
    """A plan made by older rules stands where one by today's is needed. ``floor`` names it."""

    def __init__(self, floor: str) -> None:
        self.floor = floor
        super().__init__(
            field=f"the plan of {floor}",
            value="made by older rules",
            accepted="one by today's rules: plan the floor again, then agree on the change",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class OlderPiece:
    """One cut piece of an older plan: its size and what the plan says of its cuts."""

    id: str
    row: int
    plank: int
    size: str
    cuts: tuple[str, ...]
    variant: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OlderLeftover:
    """One leftover of an older plan: its label, its size, the piece it waits for."""

    label: str
    size: str
    plank: int
    used_by: str


def older_leftovers(plan: Plan) -> tuple[OlderLeftover, ...]:
    """Return the leftovers of an older plan, in the order in which they are cut."""
    return tuple(
        OlderLeftover(
            label=one.id,
            size=_size(one.length, one.width, plan.unit),
            plank=one.plank,
            used_by=one.used_by or "",
        )
        for one in plan.offcuts
    )


def older_pieces(request: PlanRequest, plan: Plan) -> tuple[OlderPiece, ...]:
    """Return every piece of an older plan that was to be laid, in the order of laying."""
    return tuple(_pieces(request, plan))


def _pieces(request: PlanRequest, plan: Plan) -> Iterator[OlderPiece]:
    for laid in laid_pieces(plan, request.laid):
        if laid.before:
            continue
        x0, y0, x1, y1 = laid.bounds
        behind = request.lay.behind(laid.row)
        yield OlderPiece(
            id=laid.piece.id,
            row=laid.row,
            plank=laid.piece.plank,
            size=_size(x1 - x0, y1 - y0, plan.unit),
            cuts=tuple(_cut_words(cut, behind, plan.unit) for cut in laid.piece.cuts),
            variant=laid.piece.variant or "",
        )


def _size(length: float, width: float, unit: str) -> str:
    return f"{core_length_words(length, unit)} by {core_length_words(width, unit)}"


def _cut_words(cut: Cut, behind: Side, unit: str) -> str:
    """Return one cut as somebody sees it who kneels ``behind`` the row and faces it."""
    seen = _SEEN_FROM[behind].get(cut.measure_from, cut.measure_from)
    kind = _KINDS.get(cut.kind, "Cut out")
    words = f"{kind} {core_length_words(cut.at, unit)} from the {seen}"
    if cut.limits is None:
        return f"{words}."
    least, most = (core_length_words(limit, unit) for limit in cut.limits)
    return f"{words}, measured on site: {least} to {most}."
