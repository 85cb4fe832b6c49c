"""The line under row 1, as it is printed: what is taped first, and what the last row is by it."""

from __future__ import annotations

import re

from tests.packet_pdf.grammar import FIGURE
from tests.packet_pdf.pages import ReadPage
from tests.packet_pdf.strip_reader import length_of
from tests.packet_pdf.strips import MM
from tests.packet_pdf.test_notch_boxes import far_edges, pages

_TAPE = re.compile(
    rf"Tape first: across (?P<plan>{FIGURE}) left mid right "
    rf"less (?P<less>{FIGURE}) = row (?P<row>\d+), (?P<stays>{FIGURE}) "
    rf"(?P<least>{FIGURE}) to (?P<most>{FIGURE}), else slide"
)


def first_strips() -> tuple[ReadPage, str]:
    """The page with the strip of row 1, and its text in single spaces."""
    page = next(page for page in pages() if "Tape first" in page.text)
    return page, " ".join(page.text.split())


def test_the_tape_less_rows_and_gaps_is_the_width_of_the_last_row() -> None:
    _, text = first_strips()
    read = _TAPE.search(text)
    assert read is not None, text
    edges = far_edges()
    last = int(read["row"])
    assert last == max(edges)
    assert length_of(read["plan"]) == 46
    assert length_of(read["less"]) == edges[last - 1] + 1 / 4
    assert length_of(read["stays"]) == edges[last] - edges[last - 1]
    assert (read["least"], read["most"]) == ("2", "7")


def test_there_are_three_boxes_for_the_tape_and_three_for_the_row() -> None:
    page, _ = first_strips()
    tall = 5 * MM
    boxes = [
        line.bounds
        for line in page.lines
        if line.closed
        and abs(line.weight - 0.4 * MM) < 0.05
        and abs(line.bounds[3] - line.bounds[1] - tall) < 0.3
        and line.bounds[2] - line.bounds[0] > 10 * MM
    ]
    assert len(boxes) == 6
    assert len({round(bounds[1]) for bounds in boxes}) == 1


def test_row_one_says_when_the_first_two_rows_are_joined() -> None:
    _, text = first_strips()
    assert (
        "Rows 1 and 2 on the spacers, ends joined, sides open: fill boxes, cut; then join off"
        in text
    )
