"""Floors begun that can not be: one line on stderr names field, value and what is accepted."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from layout.__main__ import UNUSABLE, main
from tests import rooms

Data = dict[str, Any]

MIXED = [
    {"length": 48, "width": 7, "per_carton": 6},
    {"length": 48, "width": 5, "per_carton": 4},
]


def piece(**changes: object) -> Data:
    """Return the starter of the study's first row: 30 in, the right end of its plank."""
    corners = [[0.25, 0.25], [30.25, 0.25], [30.25, 7.25], [0.25, 7.25]]
    plain = {"id": "1-1", "row": 1, "place": 1, "plank": 1, "size": [48, 7]}
    return {**plain, "outline": corners, "origin": [-17.75, 0.25], **changes}


def beside(x: float, y: float, **changes: object) -> Data:
    """Return a whole plank with its lower-left corner at x, y."""
    corners = [[x, y], [x + 48, y], [x + 48, y + 7], [x, y + 7]]
    plain = piece(id="1-2", place=2, plank=2, outline=corners, origin=[x, y])
    return {**plain, **changes}


def offcut(**changes: object) -> Data:
    """Return what the starter leaves of its plank."""
    plain = {"id": "F1", "plank": 1, "length": 17.5, "width": 7, "at": [0, 0]}
    return {**plain, "keeps": ["left end", "low side", "high side"], **changes}


def short_piece() -> Data:
    """Return 10 in of the left end of the starter's plank, laid at the end of row 2."""
    corners = [[150.75, 7.25], [160.75, 7.25], [160.75, 14.25], [150.75, 14.25]]
    return piece(id="2-4", row=2, outline=corners, origin=[150.75, 7.25])


def refusal(folder: Path, capsys: pytest.CaptureFixture[str], **changes: object) -> str:
    """Return the one line that a changed request ends in."""
    path = folder / "request.json"
    path.write_text(json.dumps({**rooms.study(), "effort_iterations": 1, **changes}))
    assert main(["plan", str(path)]) == UNUSABLE
    captured = capsys.readouterr()
    assert captured.out == ""
    (line,) = captured.err.splitlines()
    return line


@pytest.mark.parametrize(
    ("laid", "message"),
    [
        ([beside(130, 0.25)], "laid[0].outline: piece 1-2 lies outside the zone; accepted: a"),
        ([piece(), beside(28, 0.25)], "laid[1].outline: piece 1-2 overlaps piece 1-1; accepted: p"),
        (
            [piece(), beside(0.25, 60, row=9)],
            "laid[1].origin: piece 1-2 lies 3.25 off the row lines; accepted: a board on the row",
        ),
        (
            [piece(), beside(30.25, 0.25, row=4)],
            "laid[1].row: 4 can't be used; accepted: 1, counted from the start wall",
        ),
        (
            [piece(), beside(30.25, 0.25, plank=1)],
            "laid[1].plank: pieces 1-1 and 1-2 are cut from one part of plank 1; accepted: pieces",
        ),
        (
            [piece(origin=[-27.75, 0.25])],
            "laid[0].origin: piece 1-1 reaches past its plank; accepted: the lower-left corner",
        ),
        ([piece(size=[48, 6])], "laid[0].size: 48 x 6; accepted: 48 x 7"),
        ([piece(rows=1)], "laid[0].rows: unknown field; accepted: cuts, "),
        ([piece(), piece()], 'laid: id "1-1" stands 2 times; accepted: each id once'),
    ],
)
def test_pieces_that_can_not_be_down_are_refused(
    laid: list[Data], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert message in refusal(tmp_path, capsys, laid=laid)


@pytest.mark.parametrize(
    ("offcuts", "message"),
    [
        (
            [offcut(length=25)],
            "on_hand.offcuts[0]: F1 (25 x 7 at 0, 0) overlaps piece 1-1 in plank 1; accepted: no",
        ),
        (
            [offcut(length=9), offcut(id="F2", length=9, at=[8, 0])],
            "on_hand.offcuts[1]: F2 (9 x 7 at 8, 0) overlaps offcut F1 in plank 1; accepted: no",
        ),
        (
            [offcut(plank=8, length=30), offcut(id="F2", plank=8, length=30, at=[18, 0])],
            "on_hand.offcuts[1]: F2 (30 x 7 at 18, 0) overlaps offcut F1 in plank 8; accepted: no",
        ),
        (
            [offcut(plank=8, at=[40, 0])],
            "on_hand.offcuts[0].at: F1 reaches past its plank; accepted: a place within the 48 x 7",
        ),
        ([offcut(length=50)], "on_hand.offcuts[0].length: 50 can't be used; accepted: more than 0"),
        ([offcut(width=8)], "on_hand.offcuts[0].width: 8 can't be used; accepted: more than 0"),
        ([offcut(shelf=2)], "on_hand.offcuts[0].shelf: unknown field; accepted: at, id, keeps"),
    ],
)
def test_more_offcuts_than_were_cut_are_refused(
    offcuts: list[Data], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert message in refusal(tmp_path, capsys, laid=[piece()], on_hand={"offcuts": offcuts})


def test_an_offcut_that_two_pieces_leave_nothing_of_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pieces = [piece(), short_piece()]
    message = refusal(tmp_path, capsys, laid=pieces, on_hand={"offcuts": [offcut()]})
    assert "F1 (17.5 x 7 at 0, 0) overlaps piece 2-4 in plank 1" in message


@pytest.mark.parametrize(
    ("on_hand", "message"),
    [
        ({"planks": -1}, "on_hand.planks: -1 can't be used; accepted: 0 to 100000"),
        ({"planks": "ten"}, "on_hand.planks: 'ten' can't be used; accepted: a number"),
        ({"plank": 3}, "on_hand.plank: unknown field; accepted: offcuts, piles, planks"),
    ],
)
def test_what_is_at_hand_is_counted_in_whole_planks(
    on_hand: Data, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert message in refusal(tmp_path, capsys, on_hand=on_hand)


def test_a_row_left_out_between_rows_of_several_widths_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    laid = [piece(), beside(0.25, 12.25, row=3)]
    message = refusal(tmp_path, capsys, laid=laid, product={"boards": MIXED})
    assert message.startswith(
        "layout: laid[1].origin: piece 1-2 lies 5 off the row lines; accepted:"
    )


def test_a_plank_of_two_sizes_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    corners = [[100, 7.25], [110, 7.25], [110, 12.25], [100, 12.25]]
    narrow = piece(id="2-3", row=2, size=[48, 5], outline=corners, origin=[100, 7.25])
    message = refusal(tmp_path, capsys, laid=[piece(), narrow], product={"boards": MIXED})
    assert (
        "laid[1].plank: pieces 1-1 and 2-3 give plank 1 two sizes; accepted: planks of" in message
    )
