"""Strips read from pages as a person reads them: which piece, which cut, where the rest goes."""

from __future__ import annotations

import re
from collections.abc import Sequence

from layout.values.units import MM_PER_INCH
from tests.packet_pdf.grammar import LABEL, LESS, LIMITS, NAME, REST, RIP_ALL, SOURCE, UNDER, WALL
from tests.packet_pdf.lines import begins_left, in_lines, joined, longest, span_of, within
from tests.packet_pdf.pages import PageLine, PageWord, ReadPage
from tests.packet_pdf.readings import (
    ACROSS,
    CutReading,
    NotReadError,
    PieceReading,
    RestReading,
    notch_reading,
    rip_reading,
    wall_reading,
)

MM = 72 / float(MM_PER_INCH)
TALL, RIPPED = 5.0 * MM, 7.0 * MM  # of a strip, of one whose planks are ripped
_RING, _PIECE, _CUT, _WRITE, _RULE = 0.45, 0.3, 0.9, 0.5, 0.18
_OVER = 4.7 * MM
_LAST = 99  # the number of a cut that is said to be the last


def strips_of(pages: Sequence[ReadPage]) -> list[list[PieceReading]]:
    """Return the rows of all strips on some pages, in the order of laying."""
    rows = []
    for page in pages:
        rings = [line for line in page.lines if line.curved and _is(line, _RING)]
        columns: dict[int, list[PageLine]] = {}
        for ring in rings:
            columns.setdefault(round(ring.bounds[0] / 40), []).append(ring)
        ends = [*sorted(columns)[1:], 10_000]
        for key, end in zip(sorted(columns), ends, strict=False):
            for ring in sorted(columns[key], key=lambda one: one.bounds[1]):
                rows += [_Row(page, ring, end * 40 - 20).pieces()]
    return rows


def _is(line: PageLine, weight: float) -> bool:
    return abs(line.weight / MM - weight) < 0.02


class _Row:
    """One row on a page, from its ring to the right."""

    def __init__(self, page: ReadPage, ring: PageLine, end: float) -> None:
        self.page = page
        x0, y0, x1, y1 = ring.bounds
        self.left, self.end = x1, end
        middle = (y0 + y1) / 2
        self.bottom, self.top = middle - TALL / 2, middle + TALL / 2
        rules = [line.bounds for line in page.lines if _is(line, _RULE) and self._is_rule(line)]
        self.low = max(b[1] for b in rules if b[1] < self.bottom)
        self.high = min(b[1] for b in rules if b[1] > self.top)
        more = (RIPPED - TALL) / 2
        spans = [line.bounds for line in self._lines(_PIECE, more) if line.closed]
        if any(b[1] < self.bottom - 1 or b[3] > self.top + 1 for b in spans):
            self.bottom, self.top = self.bottom - more, self.top + more
        number = [w for w in page.words if x0 < (w.x0 + w.x1) / 2 < x1 and y0 < w.y < y1]
        self.number = int("".join(w.text for w in number))

    def _is_rule(self, line: PageLine) -> bool:
        x0, y0, x1, y1 = line.bounds
        level = abs(y1 - y0) < 0.1 and x1 - x0 > 90 * MM
        return level and abs(x0 - self.left) < 30 and x1 < self.end + 20

    def fail(self, why: str) -> NotReadError:
        """Return what can't be read."""
        return NotReadError(f"page {self.page.number}, row {self.number}: {why}")

    def _lines(self, weight: float, more: float = 0.0) -> list[PageLine]:
        low, high = self.bottom - more - 1, self.top + more + 1
        here = within(self.page.lines, (self.left, low, self.end, high))
        return [line for line in here if _is(line, weight) and not line.curved]

    def pieces(self) -> list[PieceReading]:
        """Return the pieces of the row, each with what is read of it."""
        spans = sorted(
            (line.bounds[0], line.bounds[2]) for line in self._lines(_PIECE) if line.closed
        )
        if not spans:
            raise self.fail("no strip")
        order = spans if self._begins_left() else spans[::-1]
        self.read = [
            PieceReading(name=f"{self.number}-{place}", row=self.number, span=span)
            for place, span in enumerate(order, start=1)
        ]
        self.by_name = {piece.name: piece for piece in self.read}
        self._check_names()
        self._sources()
        self._walls()
        self._labels()
        for piece in self.read:
            piece.cuts.sort(key=lambda cut: cut.n or 0)
        return self.read

    def _begins_left(self) -> bool:
        """Whether the row begins at the left, by the words of the page."""
        here = [w for w in self.page.words if self.low < w.y < self.high]
        beside = [w.text for w in here if self.left - 10 < w.x0 < self.left + 60]
        return begins_left(beside, self.page.text)

    def _check_names(self) -> None:
        """Refuse a name in the strip that is not the one which its place says."""
        for word in self._words(self.bottom, self.top):
            middle = (word.x0 + word.x1) / 2
            inside = middle < max(high for _, high in (piece.span for piece in self.read))
            if re.fullmatch(NAME, word.text) and word.size > 9.5 and inside:
                at = next((p for p in self.read if p.span[0] < middle < p.span[1]), None)
                if at is None or at.name != word.text:
                    raise self.fail(f"{word.text} stands in {at.name if at else 'no piece'}")

    def _words(self, low: float, high: float) -> list[PageWord]:
        return [w for w in self.page.words if low <= w.y < high and self.left < w.x0 < self.end]

    @property
    def _wall_x(self) -> float:
        """Where the boxes to write in begin."""
        boxes = [
            line.bounds
            for line in self.page.lines
            if _is(line, _WRITE) and self.low < line.bounds[1] < self.high
        ]
        mine = [b[0] for b in boxes if self.left < b[0] < self.end]
        ends = max(piece.span[1] for piece in self.read)
        beside = [w for w in self._words(self.low, self.high) if w.x0 > ends and w.size < 13]
        said = [line for line in in_lines(beside) if not any(word.boxed for word in line)]
        heads = [line[0].x0 for line in said if line[0].text in ("to", "row", "mark")]
        return min([*mine, *heads]) if mine else self.end

    def _sources(self) -> None:
        """Read where pieces come from and where their rests go."""
        below = self._words(self.low, self.bottom)
        words = [w for w in below if 9.5 < w.size < 13 or w.white]
        if self._wall_x - self.left >= 60 * MM:
            words = [w for w in words if w.x0 < self._wall_x - 1]
        for line in in_lines(words):
            text, _ = joined(line)
            done = 0
            for read in SOURCE.finditer(text):
                if text[done : read.start()].strip():
                    break
                done = read.end()
                self._source(read)

    def _source(self, read: re.Match[str]) -> None:
        name = read["stacked"] or read["name"] or read["again"]
        piece = self.by_name.get(name)
        if piece is None:
            raise self.fail(f"{name} is no piece of the row")
        if read["stacked"]:
            piece.source, piece.stack = "stack", read["stack"]
        elif read["what"]:
            piece.source = read["what"]
        piece.notched |= bool(read["notched"])
        for rest in REST.finditer(read["rests"]):
            piece.rests.append(
                RestReading(
                    name=rest["name"],
                    stack=rest["stack"],
                    long=rest["long"],
                    wide=rest["wide"],
                    n=int(rest["n"]) if rest["n"] else None,
                )
            )

    def _walls(self) -> None:
        """Read the boxes of last pieces."""
        x = self._wall_x
        if x >= self.end:
            return
        beside = [w for w in self._words(self.low, self.high) if w.x0 > x - 1]
        narrow = x - self.left < 60 * MM
        if narrow:
            beside = [w for w in beside if w.y < self.top + _OVER or w.y < self.bottom]
        small = [w for w in self._words(self.low, self.high) if w.size < 9.5 and not w.white]
        if not narrow:
            small = [w for w in beside if w.size < 11 and not w.white]
        heads = [read for line in in_lines(beside) for read in WALL.finditer(joined(line)[0])]
        less = [read for line in in_lines(beside) for read in LESS.finditer(joined(line)[0])]
        limits = [read for line in in_lines(small) for read in LIMITS.finditer(joined(line)[0])]
        notches = [head for head in heads if head["notch"]]
        if not len(heads) == len(less) == len(limits) + len(notches) > 0:
            raise self.fail(f"{len(heads)} heads, {len(less)} gaps, {len(limits)} limits")
        left = iter(limits)
        for head, gap in zip(heads, less, strict=True):
            if bool(head["notch"]) != bool(gap["base"]):
                raise self.fail(f"{head[0]!r} has {gap[0]!r} beneath it")
            if head["notch"]:
                self._notch(head, gap)
            else:
                self._wall(head, gap["gap"], next(left))
        name = ""
        for line in in_lines(small):
            text = joined(line)[0]
            name = bounds["name"] if (bounds := LIMITS.search(text)) else name
            if under := UNDER.search(text):
                wall = self.by_name[name].wall
                assert wall is not None
                wall.under = under["under"]

    def _wall(self, head: re.Match[str], gap: str, limit: re.Match[str]) -> None:
        """Read one box: what it measures, and the cut where that is made by it."""
        wall = wall_reading(head, gap, limit)
        if head["what"] == "rip":
            if limit["name"] != f"row {self.number}":
                raise self.fail(f"{limit['name']} is not this row")
            self.width = wall
            return
        piece = self.by_name.get(limit["name"])
        if piece is None:
            raise self.fail(f"{limit['name']} is no piece of the row")
        piece.wall = wall
        if head["what"] == "cut":
            piece.cuts.append(CutReading(kind="wall", n=wall.n, figure=wall.cut))

    def _notch(self, head: re.Match[str], gap: re.Match[str]) -> None:
        """Read a box of a notch: what stays, and from where."""
        piece = self.by_name.get(head["notch"])
        if piece is None:
            raise self.fail(f"{head['notch']} is no piece of the row")
        piece.notch_walls.append(notch_reading(head, gap))

    def _labels(self) -> None:
        """Read the figures over the strip and, for slants, right under it."""
        wall = self._wall_x
        narrow = wall - self.left < 60 * MM
        over = [
            w
            for w in self._words(self.top, self.high)
            if (w.size > 13 or w.white) and (w.x0 < wall - 1 or (narrow and w.y > self.top + _OVER))
        ]
        below = self._words(self.low, self.bottom)
        heads = [line for line in in_lines(below) if WALL.search(joined(line)[0])]
        boxed = {id(word) for line in heads for word in line if word.x0 > wall - 1}
        under = [w for w in below if (w.size > 13 or w.white) and (narrow or w.x0 < wall - 1)]
        under = [w for w in under if id(w) not in boxed]
        for line in in_lines(over):
            self._line_of_labels(line, near=False)
        for line in in_lines(under):
            if any(w.size > 13 for w in line):
                self._line_of_labels(line, near=True)
        for piece in self.read:
            self._place_sides(piece)

    def _line_of_labels(self, words: Sequence[PageWord], *, near: bool) -> None:
        text, starts = joined(words)
        done = 0
        while done < len(text):
            if text[done] == " ":
                done += 1
                continue
            read = RIP_ALL.match(text, done)
            if read is not None:
                self._rip_all(read)
            else:
                read = LABEL.match(text, done)
                if read is None:
                    raise self.fail(f"what is {text[done:]!r}?")
                span = span_of(words, starts, read)
                self._label(read, span, near=near)
            done = read.end()

    def _rip_all(self, read: re.Match[str]) -> None:
        but = set(re.findall(NAME, read["but"] or ""))
        number = int(read["n"]) if read["n"] else None
        for piece in self.read:
            if piece.name not in but:
                order = _LAST if read["last"] else number or self._number_inside(piece)
                piece.cuts.append(rip_reading(read, order))

    def _number_inside(self, piece: PieceReading) -> int | None:
        inside = [
            w
            for w in self.page.words
            if w.white
            and self.bottom - 2 < w.y < self.top + 2
            and piece.span[0] - 1 < (w.x0 + w.x1) / 2 < piece.span[1] + 1
        ]
        return int(inside[0].text) if inside else None

    def _label(self, read: re.Match[str], span: tuple[float, float], *, near: bool) -> None:
        piece = self.by_name.get(read["name"]) if read["name"] else self._under(span)
        if piece is None:
            raise self.fail(f"{read[0]!r} belongs to no piece")
        number = int(read["n"]) if read["n"] else None
        if read["edge"]:
            piece.cuts.append(rip_reading(read, number))
            return
        figure = read["figure"] or f"{read['corner']} corner"
        base, side = "", ""
        if read["how"] == "from":
            base, side = read["end"], ACROSS[read["end"]]
        elif read["how"] == "off":
            base = side = read["end"]
        if near:
            slant = [c for c in piece.cuts if c.kind == "end" and c.n == number and not c.near]
            if len(slant) != 1:
                raise self.fail(f"{len(slant)} figures over {piece.name} for {read[0]!r} under it")
            slant[0].kind, slant[0].near, slant[0].near_base = "slant", figure, base
            slant[0].side = slant[0].side or side
            return
        piece.cuts.append(CutReading(kind="end", side=side, n=number, figure=figure, base=base))

    def _under(self, span: tuple[float, float]) -> PieceReading | None:
        """Return the piece with a cut end or edge that a label stands over."""

        def shared(piece: PieceReading) -> float:
            return min(span[1], piece.span[1]) - max(span[0], piece.span[0])

        cut = [piece for piece in self.read if self._cut_lines(piece)]
        best = max(cut, key=shared, default=None)
        return best if best is not None and shared(best) > 0 else None

    def _cut_lines(self, piece: PieceReading) -> list[PageLine]:
        low, high = piece.span
        return [
            line
            for line in self._lines(_CUT)
            if line.bounds[0] > low - 0.4 and line.bounds[2] < high + 0.4 and longest(line) > 1.5
        ]

    def _place_sides(self, piece: PieceReading) -> None:
        """Find for every figure without words which end is cut: the thick one."""
        thick = set()
        for line in self._cut_lines(piece):
            (ax, ay), (bx, by) = line.points[0], line.points[-1]
            if abs(by - ay) > 0.35 * TALL or abs(by - ay) > abs(bx - ax):
                middle = (ax + bx) / 2
                left = middle - piece.span[0] < piece.span[1] - middle
                thick.add("left" if left else "right")
        for cut in piece.cuts:
            if cut.kind == "wall":  # the row ends there
                cut.side = "right" if self._begins_left() else "left"
        known = {cut.side for cut in piece.cuts if cut.kind in ("end", "slant", "wall")}
        for cut in piece.cuts:
            if cut.kind in ("end", "slant", "wall") and not cut.side:
                rest = thick - known
                if len(rest) != 1:
                    raise self.fail(f"which end of {piece.name} is cut? {sorted(rest)}")
                cut.side = rest.pop()
            if cut.kind in ("end", "slant"):
                cut.base = cut.base or ACROSS[cut.side]
                cut.near_base = cut.near_base or ACROSS[cut.side]
