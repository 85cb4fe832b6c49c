"""The story stick on paper: followed as printed, through its placings, and slid."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

import pytest

from jobs.domain.packet.stick import stick_content
from layout.cutsheet.stick import stopping_lines
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.packet_shapes.pages import PlacedWord, shapes_pdf, strokes_of, text_of, words_of
from tests.packet_shapes.planned import far_edges, floor_of, inches, room
from tests.rooms import request

_FIGURE = r"[\d½¼¾⅛⅜⅝⅞⁰¹²³⁴-⁹₀-₉\u2044]+"
_MAKE = re.compile(rf'First mark ({_FIGURE})" from the end, then every ({_FIGURE})"')
_CARRY = re.compile(r"lay the first mark on the far edge of row (\d+); the next mark is row (\d+)")
_ONE = 25.4 / 12  # millimeters of paper for an inch, 1:12


@cache
def paper(name: str, size: str = "letter") -> bytes:
    """Return the sheets of a room's stick."""
    floor = floor_of(name)
    context = {"floor": floor, "packet": {"floors": [floor]}}
    return shapes_pdf(("_print_stick.html", "_print_slides.html"), context, paper=size)


def battens(pdf: bytes, page: int) -> list[tuple[float, float, float, float]]:
    """Return the sticks on a page: boxes 8 in long at 1:12 and 9 mm high, the first at the top."""
    boxes = [
        box
        for box in strokes_of(pdf, page)
        if abs(box[2] - box[0] - 96 * _ONE) < 0.5 and abs(box[3] - box[1] - 9) < 0.5
    ]
    return sorted(boxes, key=lambda box: -box[1])


def rows_on(pdf: bytes, page: int, batten: tuple[float, float, float, float]) -> dict[int, float]:
    """Return each row on a stick and how far its far mark lies from the stick's end, measured."""
    left, bottom, _, top = batten
    marks = sorted(
        (a + c) / 2
        for a, low, c, high in strokes_of(pdf, page)
        if c - a < 1 and abs(high - low - 9) < 0.7 and abs(low - bottom) < 0.7
    )
    rings = [word for word in words_of(pdf) if word.page == page and bottom < word.bottom < top - 1]
    return {
        int(word.text): (next(x for x in marks if x > word.middle) - left) / _ONE for word in rings
    }


def followed(name: str) -> dict[int, float]:
    """Return how far every row lies from the start wall, as a person makes and lays the stick.

    By the text alone: first mark, pitch, and where each next placing is laid down.
    """
    text = text_of(paper(name)).replace('" .', '".')
    made = _MAKE.search(text)
    assert made is not None
    first, every = inches(made[1]), inches(made[2])
    marks = [first]
    while marks[-1] + every <= 96:
        marks.append(marks[-1] + every)
    lines = dict(enumerate(marks, 1))
    for base, row in _CARRY.findall(text):
        assert int(row) == int(base) + 1
        end = lines[int(base)] - marks[0]
        lines |= {int(base) + k: end + mark for k, mark in enumerate(marks)}
    return lines


@pytest.mark.parametrize("name", ["ell", "two_rooms", "island", "column"])
def test_rows_land_on_their_lines_through_every_placing(name: str) -> None:
    lines, true = followed(name), far_edges(name)
    assert len(_CARRY.findall(text_of(paper(name)))) >= 1
    for row in list(true)[:-1]:
        assert lines[row] == pytest.approx(true[row], abs=1 / 32), row


@pytest.mark.parametrize("name", ["ell", "two_rooms", "island"])
@pytest.mark.parametrize("size", ["letter", "a4"])
def test_the_marks_are_drawn_where_their_figures_say(name: str, size: str) -> None:
    pdf, true = paper(name, size), far_edges(name)
    drawn: dict[int, float] = {}
    for page in sorted({word.page for word in words_of(pdf)})[1:]:
        for batten in battens(pdf, page):
            rows = rows_on(pdf, page, batten)
            # The first mark of a later stick lies on the row before its first ring.
            base = min(rows) - 1
            first = next(iter(sorted(drawn.items())), (1, rows.get(1, 0.0)))[1]
            end = true[base] - first if base else 0.0
            drawn |= {row: end + place for row, place in rows.items()}
    assert set(drawn) == set(true)
    for row, place in drawn.items():
        assert place == pytest.approx(true[row], abs=1 / 4), row  # half a millimeter of paper


@pytest.mark.parametrize("name", ["ell", "two_rooms", "island"])
def test_every_row_has_its_figure_from_the_start_wall(name: str) -> None:
    figures = [w for w in words_of(paper(name)) if w.page and 11.9 < w.points < 14.1]
    printed = {inches(w.text) for w in figures if re.fullmatch(_FIGURE, w.text)}
    for row, far in far_edges(name).items():
        assert any(abs(far - figure) <= 1 / 32 for figure in printed), row


def table(name: str) -> dict[str, list[str]]:
    """Return the printed table of slides: the figures of each line, and of its head."""
    lines: dict[str, list[str]] = {}
    words = sorted((w for w in words_of(paper(name)) if w.page), key=lambda w: (w.page, -w.bottom))
    groups: list[list[PlacedWord]] = []
    for word in words:
        if groups and abs(groups[-1][0].bottom - word.bottom) < 1.6:
            groups[-1].append(word)
        else:
            groups.append([word])
    for group in groups:
        text = [word.text for word in sorted(group, key=lambda word: word.left)]
        if "edge" in text and {"rip,", "notch,"} & set(text):
            at = text.index("edge")
            lines[text[0] if text[0] != "row" else f"row {text[1].rstrip(',')}"] = text[at + 1 :]
    return {who.rstrip(","): values for who, values in lines.items()}


def test_slid_by_a_quarter_inch_rows_come_out_as_the_table_says() -> None:
    # Row 7 is cut at 40 1/4, where the wall between the rooms ends: its far edge at 44 1/2 moves
    # to 44 3/4, so 4 1/2 stays. Row 11 at 69 3/4 from 65 1/2: 4 1/4 and then 4.
    # Row 1 from 1/4 to 2 1/2: 2 1/4, then 2 1/2. Row 17 ends at 109 3/4 from 107 1/2.
    by_hand = {
        "row 1": ("2¼", "2½"),
        "7-3": ("4¼", "4½"),
        "11-3": ("4¼", "4"),
        "row 17": ("2¼", "2"),
    }
    printed = table("two_rooms")
    assert set(printed) == set(by_hand)
    for who, (plan, slid) in by_hand.items():
        assert len(printed[who]) == 7
        assert (printed[who][3], printed[who][4]) == (plan, slid), who


@pytest.mark.parametrize("name", ["ell", "two_rooms", "island"])
def test_a_slid_stick_lands_every_row_where_the_walls_stay(name: str) -> None:
    # All marks a quarter inch further, walls where they were: the printed figure is what is left
    # between the moved line and the wall.
    lines = {row: far + 0.25 for row, far in followed(name).items()}
    true, printed = far_edges(name), table(name)
    last = max(true)
    width = 7.0
    for stop in stopping_lines(*room(name)):
        who = f"row {stop.row}" if not stop.pieces else stop.pieces[0]
        if who not in printed or len(printed[who]) != 7:
            continue
        near = lines[stop.row - 1] if stop.row > 1 else lines[1] - width
        far = lines[stop.row] if stop.row != last else near + width
        left = far - stop.at if stop.faces == "near" else stop.at - near
        assert inches(printed[who][4]) == pytest.approx(left, abs=1 / 16), who


def test_a_whole_first_row_that_is_slid_away_from_its_wall_is_no() -> None:
    # Island: row 1 is whole, 1/4 in off the wall; slid by 1/4 it stands 1/2 off.
    slide = floor_of("island")["stick"]["slide"]
    first = next(line for line in slide["lines"] if line["who"] == "row 1")
    assert first["values"][2:5] == ["6¾", "whole", "whole, ¼ more"]
    assert slide["clean"][4] == "no"


def test_a_start_wall_that_is_out_changes_row_one_alone() -> None:
    # The stick lies as planned to far wall and doorways, so row 1 keeps its far edge and loses or
    # gains what its wall stands in or back: 2 1/4, then 2 1/8 and 2; under 2 breaks the rule.
    near = floor_of("two_rooms")["stick"]["slide"]["near"]
    assert (near["who"], near["plan"]) == ("row 1", "2¼")
    narrow = "too narrow: the table"
    assert near["inward"] == [["⅛", "2⅛"], ["¼", "2"], ["⅜", narrow], ["½", narrow]]
    assert near["back"] == [["⅛", "2⅜"], ["¼", "2½"], ["⅜", "2⅝"], ["½", "2¾"]]


def test_a_whole_row_one_whose_wall_stands_back_leaves_it_to_the_last_row() -> None:
    near = floor_of("island")["stick"]["slide"]["near"]
    assert near["plan"] == "whole"
    assert near["inward"][1] == ["¼", "6¾"]
    assert near["back"] == [["", "whole, stick not slid"]]


def test_a_stick_of_one_placing_is_cut_off_at_its_last_mark() -> None:
    # 46 between walls, a quarter off the far one: a stick of 45 3/4 goes down, one of 8 ft doesn't.
    wanted = read_request(request([[0, 0], [100, 0], [100, 46], [0, 46]]))
    make = stick_content(wanted, plan_floor(wanted), 1)["make"]
    assert make.startswith('Straight batten, cut off at 45¾".')


def test_a_row_that_gets_too_narrow_is_no() -> None:
    # Rows 1 and 17 of two rooms keep 2 1/4 in; less than 2 in breaks the rule.
    clean = dict(
        zip(
            floor_of("two_rooms")["stick"]["slide"]["by"],
            floor_of("two_rooms")["stick"]["slide"]["clean"],
            strict=True,
        )
    )
    assert [clean[by] for by in ("+ ¼", "+ ½", "plan")] == ["clean", "no", "plan"]


def test_rows_of_two_widths_have_a_face_for_each_placing() -> None:
    text, true = text_of(paper("mixed")), far_edges("mixed")
    base = int(re.findall(r"lay the end of the stick on the far edge of row (\d+)", text)[0])
    marks = re.findall(rf"row (\d+) ({_FIGURE})[,.]", text[text.index("From the end:") :])
    assert marks[0][0] == str(base + 1)
    for row, figure in marks[:5]:
        from_end = true[int(row)] - true[base]
        assert inches(figure) == pytest.approx(from_end, abs=1 / 32)


def test_rows_of_two_widths_are_not_told_to_be_alike() -> None:
    edges = list(far_edges("mixed").values())
    assert len({round(b - a, 3) for a, b in pairwise(edges[:-1])}) == 2
    assert "then every" not in text_of(paper("mixed"))


@pytest.mark.parametrize("name", ["ell", "mixed", "crooked", "bedroom_mm"])
def test_no_letter_of_the_stick_is_smaller_than_nine_points(name: str) -> None:
    assert min(word.points for word in words_of(paper(name))) >= 8.99
