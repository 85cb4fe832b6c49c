"""The notched planks of a floor as a packet keeps them, and the pieces that slide in flat. Pure."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence

from jobs.domain.formats import Fields
from jobs.domain.packet.sliding.joining import ways_content
from jobs.domain.packet.words.ends import PieceEnd
from layout.cutsheet.cut_view import CutView
from layout.cutsheet.numbers import cut_numbers
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.seen_piece import SeenPiece, seen_piece
from layout.cutsheet.set_out import CutMarks
from layout.cutsheet.stays import fingers, sawn_edge, thin_trims
from layout.cutsheet.strips.cuts import strip_cut
from layout.drawing.casing_template import draw_casing_template, traced_pieces
from layout.drawing.notched import draw_details, draw_notched, too_many
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.tolerances import TOUCHING_TOLERANCE
from layout.values.units import TAPE_STEP, length_words

SHAPED = frozenset({"notch", "angle", "hole"})
_WORDS = {
    "crosscut": "cut across",
    "rip": "rip",
    "angle": "cut at an angle",
    "notch": "notch",
    "hole": "cut out",
}


def notched_content(
    request: PlanRequest,
    plan: Plan,
    sheet: CutSheet,
    place: int,
    ends: Mapping[str, PieceEnd] | None = None,
) -> Fields:
    """Return ``pieces``, each a notched plank in its drawing, and ``ways``, what slides in flat.

    ``ends``: of pieces at the end of a row, what is done there.
    """
    rows = RowsOfSheet(request, plan, sheet)
    shaped = {
        cut.then.in_hand for plank in sheet.planks for cut in plank.cuts if cut.kind in SHAPED
    }
    numbers = cut_numbers(plan, sheet)
    at_end = ends or {}
    pieces = [
        _piece(
            rows,
            piece,
            seen,
            [numbers.get((piece.id, v.cut.n), 0) for v in seen.views],
            at_end.get(piece.id),
        )
        for piece in plan.pieces
        if piece.id in shaped and (seen := seen_piece(request, plan, sheet, piece.id)) is not None
    ]
    return {"pieces": pieces, "ways": ways_content(request, plan)}


def thin_notes(
    request: PlanRequest, plan: Plan, sheet: CutSheet, *, drawn: Collection[str] = ()
) -> dict[int, tuple[str, ...]]:
    """Return by row what a tool barely does on its pieces, without those ``drawn`` elsewhere."""
    cut = {one.then.in_hand for plank in sheet.planks for one in plank.cuts}
    notes: dict[int, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for piece in plan.pieces:
        if piece.id not in cut or piece.id in drawn:
            continue
        seen = seen_piece(request, plan, sheet, piece.id)
        for words in thin_words(seen) if seen else ():
            notes[piece.row][words].append(piece.id)
    return {
        row: tuple(f"{', '.join(names)}: {words}" for words, names in of_row.items())
        for row, of_row in notes.items()
    }


def _piece(
    rows: RowsOfSheet,
    piece: Piece,
    seen: SeenPiece,
    numbers: Sequence[int],
    end: PieceEnd | None,
) -> Fields:
    """Return one notched plank, its cuts by the numbers of its strip; 0 has none."""
    traced = too_many(seen)
    return {
        "id": piece.id,
        "row": piece.row,
        "source": _source(rows, piece),
        "cuts": [
            {"n": n, "words": _cut_words(seen, view)}
            for n, view in zip(numbers, seen.views, strict=True)
        ],
        "site": [site for view in seen.views if (site := _on_site(view)) is not None],
        "end": end.words if end else "",
        "traced": traced,
        "notes": list(thin_words(seen)),
        "drawing": draw_notched(seen, numbers, (end.side, end.line) if end else None),
        "details": list(draw_details(seen)),
    }


def _cut_words(seen: SeenPiece, view: CutView) -> str:
    """Return what a cut is, with its marks where neither strip nor drawing shows them."""
    words = f"{_WORDS[view.cut.kind]}, {view.cut.tool}"
    if view.cut.kind != "angle" or not sawn_edge(seen, view).is_empty:
        return words
    if strip_cut(view, None).kind != "shaped":
        return words
    one, other = (mark.text for mark in CutMarks(view).line())
    return f"{words}: mark {one} and {other}; the {view.side_gone} part goes"


def _source(rows: RowsOfSheet, piece: Piece) -> Fields:
    """Return what a piece is cut from: a stack's letter, or words."""
    offcut = rows.offcut_of.get(piece.id)
    if offcut is not None and offcut.stack:
        return {"stack": offcut.stack, "words": ""}
    if offcut is not None:
        return {"stack": "", "words": "in hand"}
    begun = next(one.cuts[0].then.in_hand for one in rows.sheet.planks if one.plank == piece.plank)
    return {"stack": "", "words": "new plank" if begun == piece.id else "in hand"}


def _on_site(view: CutView) -> Fields | None:
    """Return what is expected of a cut that is found on site, with its limits; else None."""
    cut = view.cut
    if cut.final == "exact" or cut.kind not in ("crosscut", "rip"):
        return None
    least, most = cut.limits or (cut.at, cut.at)
    step, figure = TAPE_STEP[view.unit], view.straight_figure
    low = min(figure, math.ceil(least / step - TOUCHING_TOLERANCE) * step)
    high = max(figure, math.floor(most / step + TOUCHING_TOLERANCE) * step)
    side = view.name(cut.measure_from)
    return {
        "from": f"{side} {'end' if cut.kind == 'crosscut' else 'edge'}",
        "expect": length_words(figure, view.unit, on_tape=True),
        "low": length_words(low, view.unit, on_tape=True),
        "high": length_words(high, view.unit, on_tape=True),
    }


def thin_words(seen: SeenPiece) -> Iterator[str]:
    """Yield what a tool barely does on a piece: slivers, and trims under a quarter inch."""
    unit = seen.views[0].unit
    for thin in dict.fromkeys(round(finger, 4) for finger in fingers(seen.shape, unit)):
        words = length_words(max(thin, TAPE_STEP[unit]), unit, on_tape=True)
        yield f"A sliver {words} wide breaks off; cut it off square where trim or casing covers it."
    for kind, thin in thin_trims(seen):
        words = length_words(max(thin, TAPE_STEP[unit]), unit, on_tape=True)
        yield f"The {_WORDS[kind]} takes off only {words}; clamp a guide, or plane it."


def templates_content(request: PlanRequest, plan: Plan, sheet: CutSheet) -> list[Fields]:
    """Return the sheets at true size of every piece that is traced; square ones have figures."""
    return [
        {"id": name, "sheets": list(draw_casing_template(request, plan, sheet, name))}
        for name in traced_pieces(request, plan, sheet)
    ]
