"""One cut of the sheet in words, for a person who kneels on the laid floor and faces the next row.

The board lies face up before them as it will lie on the floor; where rows are laid from the high
side (``lay.behind(row)``), that is the sheet turned half round.

        far edge                  rows go this way
    +----------------+                  ^
    | left     right |                  |
    +----------------+                person
        near edge

A text is a cut and, behind a colon, what becomes of the part that goes: ``CUT: KEPT.``

    CUT      cut square F from the END end; the SIDE part goes                            crosscut
             rip F from the EDGE edge; the SIDE part goes                                 rip
             mark MARK and MARK; cut along the line, rise F over run F;
                 the SIDE part goes                                                       angle
             mark MARK and MARK; cut along the line; the SIDE part goes    no rise or run to tell
             notch: mark F from the END end and F from the EDGE edge, square to each
                 other; the CORNER corner goes                                            notch
             notch out F to F from the END end, F deep from the EDGE edge                 notch
             notch out F to F from the EDGE edge, F deep from the END end                 notch
             mark MARKS; cut from mark to mark; GOES                                      notch
             cut out F to F from the END end, F to F from the EDGE edge                   hole
             cut out inside the marks MARKS                                               hole
    on site  measure on site, between F and F; as drawn, CUT                   crosscut and rip
             measure on site, the nearer mark between F and F; as drawn, CUT              angle
             measure on site, at most F; as drawn, CUT                    limits from nothing on
             measure on site; as drawn, CUT                         limits that leave no choice
    MARK     F from the END end on the EDGE edge      on the part's own edge at that place
             F from the EDGE edge on the END end      on the part's own end at that place
             F from the END end by F from the EDGE edge
             the CORNER corner                        of the part in hand
    MARKS    MARK, MARK and MARK                      two or more, the last after "and"
    GOES     the CORNER corner goes                   the part that has that corner
             the SIDE part goes                       the part that lies furthest that way
             only the CORNER corner stays, the rest goes
             what lies between them and the EDGE edge goes     (or the END end)
             what lies between them and the EDGE edge stays, the rest goes
             what holds the mark F from the END end by F from the EDGE edge goes
    KEPT     waste | kept as a leftover | keep in hand for PIECES | stack LETTER for PIECES
    END      left | right        EDGE  near | far        SIDE  left | right | near | far
    CORNER   near left | near right | far left | far right
    PIECES   3-5 | 3-5 and 4-7 | 3-5, 4-7 and 5-1
    F        in the plan's unit, as a tape shows it: 20", 20¼", 514 mm; sixteenths in small figures

A sentence begins with a capital letter. Ends and edges that F is measured from are those of the
board as it came, still there when the cut is made; no mark is set on an end, an edge or a corner
that an earlier cut found on site, since it may lie elsewhere than drawn. Where F starts at the side
that goes, F is what goes, saw cut included: ``Cut square 4" from the left end; the left part
goes.`` A cut line is the edge of what stays; the blade runs on the side that goes. A straight cut
goes through all of the part in hand, a notch only from mark to mark.

Every F is rounded by itself, from ``at`` for square cuts and rips, from a point of ``path`` for
marks, to the nearest 1/16 in or 1 mm (half up), so that no edge is off by more than half a step,
with two exceptions: a cut that would then take nothing of the part in hand is told up to a step
further in, and limits are rounded inward, but hold the figure as told. Rise is the difference of
the marks as told across the board, run that along it.
"""

from __future__ import annotations

from fractions import Fraction

from shapely.geometry import Polygon

from layout.cutsheet.cut_view import CutView
from layout.cutsheet.in_hand import PartCut
from layout.cutsheet.set_out import CutMarks, GonePart, is_level, listed
from layout.values.material import Side
from layout.values.request import PlanRequest
from layout.values.sheet import AfterCut
from layout.values.tolerances import BOX_TOLERANCE, LENGTH_TOLERANCE


def made_words(made: PartCut, *, size: tuple[float, float], request: PlanRequest, row: int) -> str:
    """Return the words of a cut whose part in hand is known."""
    view = view_of(made, size=size, request=request, row=row)
    sentence = _on_site(view, _cut(view))
    return f"{sentence[:1].upper()}{sentence[1:]}: {kept_words(made.cut.then)}."


def view_of(made: PartCut, *, size: tuple[float, float], request: PlanRequest, row: int) -> CutView:
    """Return a cut as the person of a row sees it."""
    turned = request.lay.behind(row) is Side.HIGH
    return CutView(made=made, size=size, unit=request.unit, turned=turned)


def figures_of(view: CutView) -> tuple[tuple[str, float], ...]:
    """Return what the words of a cut measure: from which end or edge, to which place."""
    del view.figures[:]
    _cut(view)
    return tuple(dict.fromkeys(view.figures))


def kept_words(then: AfterCut) -> str:
    """Return what becomes of the part that goes."""
    if then.aside:
        where = f"stack {then.stack}" if then.stack else "keep in hand"
        return f"{where} for {listed(then.aside)}"
    return "waste" if then.waste else "kept as a leftover"


def _cut(view: CutView) -> str:
    """Return the sentence of a cut, without its capital and its full stop."""
    cut = view.cut
    match cut.kind:
        case "crosscut" | "rip":
            base = view.name(cut.measure_from)
            axis = 0 if cut.kind == "crosscut" else 1
            view.figures.append((base, view.path[0][axis]))
            figure = view.words(view.straight_figure)
            how = f"cut square {figure} from the {base} end"
            if cut.kind == "rip":
                how = f"rip {figure} from the {base} edge"
            return f"{how}; the {view.name(cut.goes)} part goes"
        case "angle":
            return _angle(view)
        case "notch" if cut.path[0] != cut.path[-1]:
            return _notch(view)
        case _:
            return _hole(view)


def _on_site(view: CutView, sentence: str) -> str:
    """Return the sentence of a cut with its limits, where its figure is found on site."""
    cut = view.cut
    if cut.final == "exact":
        return sentence
    least, most = _limits(view)
    nearer = "the nearer mark " if cut.kind == "angle" else ""
    range_words = f"between {view.words(least)} and {view.words(most)}"
    if least <= 0:
        range_words = f"at most {view.words(most)}"
    within = f", {nearer}{range_words}" if least < most else ""
    return f"measure on site{within}; as drawn, {sentence}"


def _limits(view: CutView) -> tuple[float, float]:
    """Return the limits of a cut as a tape shows them: inward, but never past the figure told."""
    cut = view.cut
    straight = cut.kind in {"crosscut", "rip"}
    figure = view.straight_figure if straight else view.figure(cut.at)
    if cut.limits is None:
        return figure, figure
    least, most = (Fraction(limit).limit_denominator(1_000_000) for limit in cut.limits)
    step = Fraction(view.step)
    return min(figure, float(-(-least // step) * step)), max(figure, float(most // step * step))


def _angle(view: CutView) -> str:
    """Return the sentence of a slanted cut."""
    marks = CutMarks(view)
    one, other = marks.line()
    run, rise = (abs(a - b) for a, b in zip(one.at, other.at, strict=True))
    slope = f", rise {view.words(rise)} over run {view.words(run)}" if rise and run else ""
    text = f"mark {one.text} and {other.text}; cut along the line{slope}"
    return f"{text}; the {view.side_gone} part goes"


def _hole(view: CutView) -> str:
    """Return the sentence of a cut-out inside."""
    marks, ring = CutMarks(view), Polygon(view.path)
    x0, y0, x1, y1 = ring.bounds
    if ring.area < (x1 - x0) * (y1 - y0) - BOX_TOLERANCE:
        return f"cut out inside the marks {listed([marks.set(p) for p in view.path])}"
    view.figures.extend((marks.end, x) for x in (x0, x1))
    view.figures.extend((marks.edge, y) for y in (y0, y1))
    along = sorted(view.along(x, marks.end) for x in (x0, x1))
    across = sorted(view.across(y, marks.edge) for y in (y0, y1))
    return (
        f"cut out {view.words(along[0])} to {view.words(along[1])} from the {marks.end} end, "
        f"{view.words(across[0])} to {view.words(across[1])} from the {marks.edge} edge"
    )


def _notch(view: CutView) -> str:
    """Return the sentence of a notch."""
    goes = GonePart(view)
    path, corner = view.path, goes.corner
    marks = CutMarks(view, corner=corner)
    if corner and len(path) == 3 and is_level(path, LENGTH_TOLERANCE[view.unit]):
        along, across = marks.corner_of_notch(path[1], corner)
        return (
            f"notch: mark {along} and {across}, square to each other; "
            f"the {' '.join(corner)} corner goes"
        )
    if goes.bay:
        return marks.bay(goes.bay)
    points = listed([marks.set(point) for point in path])
    return f"mark {points}; cut from mark to mark; {goes.words(marks)}"
