"""The words of a row's strip: figures over and under it, where pieces come from, where rests go."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from layout.cutsheet.strips.values import StripCut, StripMark, StripPiece, StripRest, StripRow
from layout.drawing.strips.labels import StripLabel
from layout.drawing.strips.paper import FIGURE, Token, tokens_width
from layout.values.tolerances import TOUCHING_TOLERANCE

_SIDE_ANCHOR = {"left": "start", "right": "end"}


def figures_over(row: StripRow, spans: dict[str, tuple[float, float]]) -> Iterator[StripLabel]:
    """Yield the figures that stand over the strip."""
    if row.rip_all is not None and row.rip_all.far is not None:
        low = min(span[0] for span in spans.values())
        high = max(span[1] for span in spans.values())
        words = f"rip {'each' if row.rip_last else 'all'} {_rip_words(row.rip_all.far)}"
        words += f", not {' and '.join(row.but)}" if row.but else ""
        words += ", last" if row.rip_last else ""
        number = _number_of_all(row)
        discs = [Token(text=str(number), size=FIGURE, form="disc")] if number else []
        tokens = (*discs, Token(text=words, size=FIGURE, bold=True))
        yield StripLabel(piece="", span=(low, high), tokens=tokens, named=True)
    for piece in row.pieces:
        ends = [cut for cut in piece.cuts if cut.kind in ("end", "slant", "wall")]
        for cut in piece.cuts:
            if cut.far is None or (cut.kind == "rip" and _is_of_row(row, cut)):
                continue
            text = _text_of(cut, cut.far, alone=len(ends) == 1 and not piece.notched)
            yield _figure(piece, cut, text, spans)


def figures_under(row: StripRow, spans: dict[str, tuple[float, float]]) -> Iterator[StripLabel]:
    """Yield the figures of slants on the near edge."""
    for piece in row.pieces:
        ends = [cut for cut in piece.cuts if cut.kind in ("end", "slant", "wall")]
        for cut in piece.cuts:
            if cut.near is not None:
                text = _text_of(cut, cut.near, alone=len(ends) == 1 and not piece.notched)
                yield _figure(piece, cut, text, spans)


def _figure(
    piece: StripPiece, cut: StripCut, text: str, spans: dict[str, tuple[float, float]]
) -> StripLabel:
    """Return a figure as a label over its piece, at the end that is cut."""
    number = [Token(text=str(cut.n), size=FIGURE, form="disc")] if cut.n else []
    return StripLabel(
        piece=piece.id,
        span=spans[piece.id],
        tokens=(*number, Token(text=text, size=FIGURE, bold=True)),
        anchor=_SIDE_ANCHOR.get(cut.side, "middle"),
    )


def _text_of(cut: StripCut, mark: StripMark, *, alone: bool) -> str:
    """Return the words of a figure; ``alone``: no other end of the piece is cut, nor notched."""
    if cut.kind == "rip":
        return f"rip {_rip_words(mark)}"
    if mark.figure.endswith("corner"):
        return mark.figure
    if mark.stays and not alone:
        return f"{mark.figure} from {mark.end}"
    return f"{mark.figure}{mark.off}"


def _rip_words(mark: StripMark) -> str:
    """Return what a rip measures, from which edge."""
    stays = f"to {mark.figure} from the {mark.end} edge"
    return stays if mark.stays else f"{mark.figure} off the {mark.end} edge"


def _number_of_all(row: StripRow) -> int | None:
    """Return the number of a rip of all the row, None where it has none or several."""
    cuts = [cut for piece in row.pieces for cut in piece.cuts if _is_of_row(row, cut)]
    numbers = {cut.n for cut in cuts if cut.n}
    return numbers.pop() if len(numbers) == 1 else None


def _is_of_row(row: StripRow, cut: StripCut) -> bool:
    return cut.kind == "rip" and row.rip_all is not None and cut.far == row.rip_all.far


def sources_under(
    row: StripRow,
    spans: dict[str, tuple[float, float]],
    most: float,
    named: Sequence[str] = (),
) -> Iterator[StripLabel]:
    """Yield where each cut piece comes from and where its rests go, none wider than ``most``.

    Those ``named`` have their label in any case: no name stands in them.
    """
    for piece in row.pieces:
        if piece.whole or piece.down or not (piece.id in named or _needs_source(row, piece)):
            continue
        lines: list[list[Token]] = [[*_source(piece)]]
        for rest in piece.rests:
            words = [*_rest(rest)]
            if tokens_width([*lines[-1], *words]) > most:
                lines.append([Token(text=piece.id, bold=True)])
            lines[-1] += words
        middle = sum(spans[piece.id]) / 2
        low, high = min(s[0] for s in spans.values()), max(s[1] for s in spans.values())
        share = (middle - low) / max(high - low, TOUCHING_TOLERANCE)
        anchor = "start" if share < 1 / 3 else "end" if share > 2 / 3 else "middle"
        for tokens in lines:
            yield StripLabel(
                piece=piece.id,
                span=spans[piece.id],
                tokens=tuple(tokens),
                anchor=anchor,
                named=True,
            )


def _needs_source(row: StripRow, piece: StripPiece) -> bool:
    """Whether more is to be said of a piece than that it is new and ripped like its row."""
    only_row = all(cut.kind == "rip" and _is_of_row(row, cut) for cut in piece.cuts)
    plain = piece.source == "new" and not piece.rests and not piece.kind
    return not (only_row and plain and piece.cuts)


def _source(piece: StripPiece) -> Iterator[Token]:
    """Yield what a piece is cut from."""
    name = Token(text=piece.id, bold=True)
    if piece.source == "stack":
        yield Token(text=piece.stack or "", form="box", bold=True)
        yield name
    else:
        yield name
        words = {"new": "new", "hand": "in hand", "here": "on hand"}[piece.source]
        yield Token(text=f"{words} {piece.kind}".strip())
    if piece.notched:
        yield Token(text="notched")


def _rest(rest: StripRest) -> Iterator[Token]:
    """Yield where the part that is cut off goes."""
    if rest.n is not None:
        yield Token(text=str(rest.n), form="disc")
    if rest.stack:
        yield Token(text=f"leaves {rest.size} to")
        yield Token(text=rest.stack, form="box", bold=True)
    else:
        yield Token(text=f"leaves {rest.size} for")
    yield Token(text=rest.name, bold=True)


def inside(row: StripRow) -> Iterator[tuple[Sequence[StripPiece], tuple[Token, ...]]]:
    """Yield what stands in the strip: pieces together, and their words."""
    run: list[StripPiece] = []
    for piece in row.pieces:
        alike = run and run[-1].kind == piece.kind and run[-1].down == piece.down
        if run and not (piece.whole and alike):
            yield run, (_whole(run),)
            run = []
        if piece.whole or piece.down:
            run.append(piece)
            continue
        each = _number_of_all(row) is None and not row.rip_last
        rips = [cut.n for cut in piece.cuts if each and cut.n and _is_of_row(row, cut)]
        discs = tuple(Token(text=str(n), form="disc") for n in rips)
        yield [piece], (*discs, Token(text=piece.id, bold=True))
    if run:
        yield run, (_whole(run),)


def _whole(run: Sequence[StripPiece]) -> Token:
    """Return the words of whole planks side by side, of what is down."""
    if run[0].down:
        return Token(text="down")
    return Token(text=f"{len(run)} whole {run[0].kind}".strip())
