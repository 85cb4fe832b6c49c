"""Strips on paper: sizes read from the PDF, nothing upon another thing, nothing past the margin."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.packet_pdf.pages import PageLine, PageWord, ReadPage
from tests.packet_pdf.strips import MM, strips_of
from tests.packet_pdf.test_sawn import printed

CASES = [("closet", "letter"), ("hall", "a4"), ("slanted", "letter")]


def strip_pages(name: str, paper: str) -> list[ReadPage]:
    _, _, pages = printed(name, paper)
    kept = [page for page in pages if "never tongue or lip" in page.text]
    assert kept
    return [page for page in kept if page.size[0] > page.size[1]]


def overlaps(one: PageWord, other: PageWord) -> bool:
    """Whether two words stand upon each other: their boxes from base line to capital height."""
    wide = min(one.x1, other.x1) - max(one.x0, other.x0)
    tall = min(one.y + 0.7 * one.size, other.y + 0.7 * other.size) - max(one.y, other.y)
    return wide > 0.8 and tall > 0.8


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_no_word_of_the_floor_is_under_nine_points(name: str, paper: str) -> None:
    _, _, pages = printed(name, paper)
    assert min(word.size for page in pages for word in page.words) >= 8.99


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_a_measure_to_cut_has_fourteen_points_and_a_source_ten(name: str, paper: str) -> None:
    pages = strip_pages(name, paper)
    words = [word for page in pages for word in page.words]
    for row in strips_of(pages):
        for piece in row:
            for cut in piece.cuts:
                if "corner" not in cut.figure:
                    assert any(w.text == cut.figure and w.size > 13.9 for w in words)
            for rest in piece.rests:
                assert any(w.text == rest.long and 9.9 < w.size < 10.1 for w in words)


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_no_word_of_a_strip_stands_upon_another(name: str, paper: str) -> None:
    for page in strip_pages(name, paper):
        upon = [
            (one.text, other.text)
            for one, other in combinations([w for w in page.words if not w.turned], 2)
            if overlaps(one, other)
        ]
        assert upon == []


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_nothing_of_a_strip_is_past_the_margin(name: str, paper: str) -> None:
    for page in strip_pages(name, paper):
        wide, tall = page.size
        for line in page.lines:
            x0, y0, x1, y1 = line.bounds
            assert x0 >= 30
            assert x1 <= wide - 30
            assert y0 >= 50
            assert y1 <= tall - 54  # a clip holds the sheet above


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_rows_go_from_the_start_wall_up(name: str, paper: str) -> None:
    rows = strips_of(strip_pages(name, paper))
    numbers = [row[0].row for row in rows]
    assert numbers == sorted(numbers)


def test_what_is_ripped_off_is_hatched_so_that_it_is_seen() -> None:
    # A ripped plank of 7 in is drawn 7 mm tall: row 1 keeps 4 in, so 3 mm are hatched; of the last
    # row half an inch goes, which is hatched by heavier lines.
    (page,) = strip_pages("hall", "letter")
    waste = [line for line in page.lines if not line.closed and _slants(line)]
    falls = [((line.bounds[3] - line.bounds[1]) / MM, line.weight / MM) for line in waste]
    assert sum(abs(fall - 3) < 0.05 for fall, _ in falls) > 50
    assert sum(abs(fall - 0.5) < 0.05 and weight > 0.29 for fall, weight in falls) > 50


def _slants(line: PageLine) -> bool:
    x0, y0, x1, y1 = line.bounds
    return abs((x1 - x0) - (y1 - y0)) < 0.05 and x1 > x0
