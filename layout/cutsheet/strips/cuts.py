"""A cut in figures as a strip shows it, read off the view that its words are made from."""

from __future__ import annotations

from layout.cutsheet.cut_view import ACROSS, CutView
from layout.cutsheet.set_out import CutMarks, SetMark
from layout.cutsheet.strips.values import StripCut, StripMark
from layout.values.units import length_words


def bare_words(value: float, unit: str) -> str:
    """Return a length as a tape shows it, without its unit."""
    return length_words(value, unit, on_tape=True).removesuffix('"').removesuffix(" mm")


def strip_cut(view: CutView, n: int | None, *, exact: bool = False) -> StripCut:
    """Return a cut as a strip shows it; one that a strip can't tell is shaped.

    ``exact``: by its figure, though it is measured on site.
    """
    kind = view.cut.kind
    if kind == "crosscut":
        if view.cut.final != "exact" and not exact:
            return StripCut(kind="wall", side=view.name(view.cut.goes), n=n, path=view.path)
        return _straight(view, n, "end")
    if kind == "rip":
        return _straight(view, n, "rip")
    slant = _slant(view, n) if kind == "angle" else None
    return slant or StripCut(kind="shaped", side="", n=n, path=view.path)


def _straight(view: CutView, n: int | None, kind: str) -> StripCut:
    """Return a square cut or a rip by its figure."""
    base, side = view.name(view.cut.measure_from), view.name(view.cut.goes)
    figure = bare_words(view.straight_figure, view.unit)
    mark = StripMark(figure=figure, end=base, stays=base != side)
    return StripCut(kind=kind, side=side, n=n, far=mark, path=view.path)


def _slant(view: CutView, n: int | None) -> StripCut | None:
    """Return a slanted cut from the near to the far edge, None where it runs otherwise."""
    side = view.side_gone
    marks = {_edge(mark): _strip_mark(view, mark, side) for mark in CutMarks(view).line()}
    far, near = marks.get("far"), marks.get("near")
    if side not in ("left", "right") or far is None or near is None:
        return None
    return StripCut(kind="slant", side=side, n=n, far=far, near=near, path=view.path)


def _edge(mark: SetMark) -> str:
    """Return the edge on which a mark is set, "" where it lies elsewhere."""
    for edge in ("near", "far"):
        if mark.text.endswith(f" on the {edge} edge") or mark.text.startswith(f"the {edge} "):
            return edge
    return ""


def _strip_mark(view: CutView, mark: SetMark, side: str) -> StripMark:
    """Return a mark as a strip shows it: its figure, or the corner."""
    if not mark.figures:
        end = next(end for end in ("left", "right") if f" {end} corner" in mark.text)
        return StripMark(figure=f"{end} corner", end=end)
    end, at = mark.figures[0]
    return StripMark(
        figure=bare_words(view.along(at, end), view.unit), end=end, stays=end == ACROSS[side]
    )
