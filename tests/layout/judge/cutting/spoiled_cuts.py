"""Plans spoiled in the cuts that a piece is told: figures, ends, waste, tools, limits."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from layout.values.plan import SIDES, Cut, Piece, Plan
from layout.values.request import PlanRequest
from layout.values.units import INCH
from tests.layout.judge.spoiling import Make, spoilings, with_cut, with_piece_at

_ACROSS = dict(zip(SIDES, (SIDES[1], SIDES[0], SIDES[3], SIDES[2]), strict=True))
ON_SITE = "measure on site"


def _changed(kind: str, change: Callable[[Piece, Cut, float], Iterable[Cut]], **like: Any) -> Make:
    """Return what changes the first cut of a kind, and ``like`` this, by a change in inches."""

    def make(request: PlanRequest, plan: Plan) -> Plan | None:
        def wanted(_: Piece, cut: Cut) -> bool:
            return cut.kind == kind and all(getattr(cut, key) == is_ for key, is_ in like.items())

        return with_cut(plan, wanted, lambda piece, cut: change(piece, cut, INCH[request.unit]))

    return make


def _off(inches: float) -> Callable[[Piece, Cut, float], Iterable[Cut]]:
    """Return what moves a figure by so many inches."""
    return lambda _, cut, inch: [replace(cut, at=cut.at + inches * inch)]


def _none(_piece: Piece, _cut: Cut, _inch: float) -> Iterable[Cut]:
    return []


def _twice(_piece: Piece, cut: Cut, _inch: float) -> Iterable[Cut]:
    return [cut, cut]


def _other_end(_piece: Piece, cut: Cut, _inch: float) -> Iterable[Cut]:
    return [replace(cut, measure_from=_ACROSS[cut.measure_from])]


def _from_what_goes(piece: Piece, cut: Cut, _inch: float) -> Iterable[Cut]:
    whole = piece.size[0] if "end" in cut.measure_from else piece.size[1]
    turned = None if cut.limits is None else (whole - cut.limits[1], whole - cut.limits[0])
    other = replace(cut, measure_from=_ACROSS[cut.measure_from], at=whole - cut.at)
    return [replace(other, limits=turned)]


def _waste_moved(x: float, y: float) -> Callable[[Piece, Cut, float], Iterable[Cut]]:
    """Return what moves the waste of a cut, and leaves its figure."""

    def change(_: Piece, cut: Cut, inch: float) -> Iterable[Cut]:
        waste: Any = cut.detail["waste"]
        moved = [[point[0] + x * inch, point[1] + y * inch] for point in waste]
        return [replace(cut, detail={**cut.detail, "waste": moved})]

    return change


def _waste_and_figure_moved(_piece: Piece, cut: Cut, inch: float) -> Iterable[Cut]:
    (moved,) = _waste_moved(0.5, 0)(_piece, cut, inch)
    way = 1 if cut.measure_from == "left end" else -1
    return [replace(moved, at=cut.at + way * inch / 2)]


def _without_waste(_piece: Piece, cut: Cut, _inch: float) -> Iterable[Cut]:
    return [replace(cut, detail={})]


def _with(**changes: Any) -> Callable[[Piece, Cut, float], Iterable[Cut]]:
    """Return what changes fields of a cut."""
    return lambda _, cut, __: [replace(cut, **changes)]


def _needless(kind: str, measure_from: str) -> Make:
    """Return what adds a cut half way over a whole plank."""

    def make(_: PlanRequest, plan: Plan) -> Plan | None:
        for at, piece in enumerate(plan.pieces):
            if not piece.cuts:
                cut = Cut(kind=kind, measure_from=measure_from, at=min(piece.size) / 2)
                return with_piece_at(plan, at, replace(piece, cuts=(cut,)))
        return None

    return make


def _limits(change: Callable[[Piece, Cut, float], tuple[float, float] | None]) -> Make:
    """Return what changes the limits of the first figure that is measured on site."""
    return _changed(
        "crosscut",
        lambda piece, cut, inch: [replace(cut, limits=change(piece, cut, inch))],
        final=ON_SITE,
    )


def _into_another(_: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with limits as wide as the plank where another piece takes of it."""
    shared = [piece.plank for piece in plan.pieces]

    def wanted(piece: Piece, cut: Cut) -> bool:
        narrower = cut.limits is not None and cut.limits[1] < piece.size[0]
        return cut.final == ON_SITE and narrower and shared.count(piece.plank) > 1

    return with_cut(plan, wanted, lambda piece, cut: [replace(cut, limits=(0.0, piece.size[0]))])


def _angle_as_notch(request: PlanRequest, plan: Plan) -> Plan | None:
    """Return the plan with an angle that is no thin wedge told as a notch."""
    inch = INCH[request.unit]

    def wanted(_: Piece, cut: Cut) -> bool:
        waste: Any = cut.detail.get("waste", ())
        sides = [max(axis) - min(axis) for axis in zip(*waste, strict=True)]
        return cut.kind == "angle" and min(sides) > inch

    return with_cut(plan, wanted, lambda _, cut: [replace(cut, kind="notch", tool="jigsaw")])


CUTS = spoilings(
    ("a crosscut off by 1/4 in", "cuts", _changed("crosscut", _off(0.25), final="exact")),
    ("a last crosscut off by 1/4 in", "cuts", _changed("crosscut", _off(-0.25), final=ON_SITE)),
    ("a crosscut from the wrong end", "cuts", _changed("crosscut", _other_end)),
    ("a crosscut from the end that goes", "cuts", _changed("crosscut", _from_what_goes)),
    ("a crosscut missing", "cuts", _changed("crosscut", _none)),
    ("a crosscut twice", "cuts", _changed("crosscut", _twice)),
    ("a needless crosscut", "cuts", _needless("crosscut", "left end")),
    ("a crosscut from a side", "cuts", _changed("crosscut", _with(measure_from="low side"))),
    ("a rip off by 1/4 in", "cuts", _changed("rip", _off(0.25))),
    ("a rip from the wrong side", "cuts", _changed("rip", _other_end)),
    ("a rip missing", "cuts", _changed("rip", _none)),
    ("a rip twice", "cuts", _changed("rip", _twice)),
    ("a needless rip", "cuts", _needless("rip", "low side")),
    ("a rip told as a crosscut", "cuts", _changed("rip", _with(kind="crosscut"))),
    ("a notch off by 1/2 in", "cuts", _changed("notch", _off(0.5))),
    ("a notch moved along by 1/2 in", "cuts", _changed("notch", _waste_and_figure_moved)),
    ("a notch moved across by 1/2 in", "cuts", _changed("notch", _waste_moved(0, 0.5))),
    ("a notch missing", "cuts", _changed("notch", _none)),
    ("a notch twice", "cuts", _changed("notch", _twice)),
    ("a notch without its waste", "cuts", _changed("notch", _without_waste)),
    ("a notch told as a rip", "cuts", _changed("notch", _with(kind="rip"))),
    ("an angle moved by 1/2 in", "cuts", _changed("angle", _waste_moved(0.5, 0))),
    ("an angle off by 1/2 in", "cuts", _changed("angle", _off(0.5))),
    ("an angle missing", "cuts", _changed("angle", _none)),
    ("an angle from the wrong end", "cuts", _changed("angle", _other_end)),
    ("an angle told as a notch", "cuts", _angle_as_notch),
    ("a hole missing", "cuts", _changed("hole", _none)),
    ("a hole moved by 1/2 in", "cuts", _changed("hole", _waste_moved(0, 0.5))),
    ("a hole off by 1/2 in", "cuts", _changed("hole", _off(0.5))),
    ("a cut of no kind", "cuts", _changed("crosscut", _with(kind="dado"))),
    ("a crosscut for the jigsaw", "tool", _changed("crosscut", _with(tool="jigsaw"))),
    ("a crosscut scored in what is sawn", "tool", _changed("crosscut", _with(tool="score"))),
    ("a rip for the jigsaw", "tool", _changed("rip", _with(tool="jigsaw"))),
    ("a notch for the saw", "tool", _changed("notch", _with(tool="saw"))),
    (
        "limits below the figure",
        "limits",
        _limits(lambda _, cut, inch: (0.0, cut.at - inch / 2)),
    ),
    (
        "limits above the figure",
        "limits",
        _limits(lambda piece, cut, inch: (cut.at + inch / 4, piece.size[0])),
    ),
    (
        "limits past the plank",
        "limits",
        _limits(lambda piece, cut, inch: (cut.at - inch / 4, piece.size[0] + inch)),
    ),
    ("limits below nothing", "limits", _limits(lambda piece, _, inch: (-inch, piece.size[0]))),
    ("limits into another piece", "limits", _into_another),
    ("limits missing", "limits", _limits(lambda *_: None)),
    (
        "a last crosscut told exact",
        "limits",
        _changed("crosscut", _with(final="exact", limits=None), final=ON_SITE),
    ),
    (
        "a starter measured on site",
        "limits",
        _changed("crosscut", _with(final=ON_SITE, limits=(0.0, 40.0)), final="exact"),
    ),
    ("a way to measure that is none", "limits", _changed("crosscut", _with(final="by eye"))),
)
