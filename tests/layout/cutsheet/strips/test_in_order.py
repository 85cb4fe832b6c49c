"""What lies in a row, from the end where it begins: two rows of 184 in by hand, planks of 48 by 7.

Row 9 is 3 x 48 = 144 and a last piece of 40. Row 10 is 29 3/4 (18 1/4 of its plank are left),
144, and a last piece of 184 - 144 - 29 3/4 = 10 1/4.
"""

from __future__ import annotations

from dataclasses import replace

from shapely.geometry import Polygon, box

from layout.cutsheet.strips.in_order import (
    RowStretch,
    in_order,
    width_words,
    with_wall_figures,
)
from layout.cutsheet.strips.values import (
    StripCut,
    StripMark,
    StripPiece,
    StripRest,
    StripRow,
    WallPiece,
)

PLANK = (48.0, 7.0)


def whole(name: str, begins: float) -> StripPiece:
    return StripPiece(
        id=name,
        begins=begins,
        size=PLANK,
        shape=box(0, 0, *PLANK),
        gone=Polygon(),
        whole=True,
        down=False,
    )


def last(name: str, begins: float, long: float) -> StripPiece:
    """A piece that keeps its left end and is cut to the wall at its right."""
    return replace(
        whole(name, begins),
        shape=box(0, 0, long, PLANK[1]),
        whole=False,
        cuts=(StripCut(kind="wall", side="right"),),
    )


def to_wall(name: str, to_wall: str, cut: str, limits: str) -> WallPiece:
    return WallPiece(
        id=name, n=None, stop="wall", to_wall=to_wall, gap="¼", cut=cut, limits=limits, over=""
    )


NINE = StripRow(
    row=9,
    far="60¼",
    begin="left",
    pieces=(whole("9-1", 0), whole("9-2", 48), whole("9-3", 96), last("9-4", 144, 40)),
    walls=(to_wall("9-4", "40¼", "40", "8 to 48"),),
)
FIRST = replace(
    whole("10-1", -18.25),
    shape=box(18.25, 0, *PLANK),
    whole=False,
    cuts=(StripCut(kind="end", side="left", far=StripMark(figure="29¾", end="right", stays=True)),),
    rests=(StripRest(name="13-5", size="18¼", stack="A"),),
)
TEN = StripRow(
    row=10,
    far="67¼",
    begin="left",
    pieces=(
        FIRST,
        whole("10-2", 29.75),
        whole("10-3", 77.75),
        whole("10-4", 125.75),
        replace(last("10-5", 173.75, 10.25), source="stack", stack="A"),
    ),
    walls=(to_wall("10-5", "10½", "10¼", "8 to 11¾"),),
)


def lines(row: StripRow) -> list[str]:
    return [f"{one.piece} {one.size} {one.words}".strip() for one in in_order(row, "in")]


def test_whole_planks_are_counted_where_they_lie_before_the_last_piece() -> None:
    assert in_order(NINE, "in") == (
        RowStretch(piece="", size="", words="3 whole planks"),
        RowStretch(
            piece="9-4",
            size="40",
            words="from a new plank; tape it: 40¼ to the wall, less ¼; 8 to 48 will do",
        ),
    )


def test_every_cut_piece_has_its_length_its_source_and_where_its_rest_goes() -> None:
    assert lines(TEN) == [
        "10-1 29¾ from a new plank; leaves 18¼ to stack A for 13-5",
        "3 whole planks",
        "10-5 10¼ from stack A; tape it: 10½ to the wall, less ¼; 8 to 11¾ will do",
    ]


def test_a_row_that_begins_at_the_right_is_told_from_there() -> None:
    assert [one.piece for one in in_order(replace(TEN, begin="right"), "in")] == [
        "10-5",
        "",
        "10-1",
    ]


def test_whole_planks_on_both_sides_of_a_cut_piece_are_counted_apart() -> None:
    between = replace(last("5-2", 48, 20), source="hand", cuts=())
    row = replace(
        NINE, pieces=(whole("5-1", 0), between, whole("5-3", 68), whole("5-4", 116)), walls=()
    )
    assert lines(row) == [
        "1 whole plank",
        "5-2 20 from what is in hand",
        "2 whole planks",
    ]


def test_a_whole_plank_at_the_wall_is_taped_too() -> None:
    expected = replace(to_wall("8-2", "48¼", "48", "8 to 48"), kind="expect")
    row = replace(NINE, pieces=(whole("8-1", 0), whole("8-2", 48)), walls=(expected,))
    assert lines(row) == ["2 whole planks; tape it: 48¼ to the wall, less ¼; 8 to 48 will do"]


def test_a_ripped_piece_has_its_width_and_a_last_row_how_it_is_taken() -> None:
    mark = StripMark(figure="4⅜", end="near")
    ripped = replace(
        whole("40-1", 0),
        shape=box(0, 0, 48, 4.375),
        whole=False,
        cuts=(StripCut(kind="rip", side="far", far=mark),),
    )
    wide = replace(to_wall("row 40", "4⅝", "4⅜", "2 to 7"), kind="rip")
    row = replace(NINE, pieces=(ripped,), walls=(wide,))
    assert lines(row) == ["40-1 48 × 4⅜ from a new plank"]
    assert width_words(row) == (
        "Before ripping, tape to the wall left, middle and right, less ¼: 4⅜ as drawn, 2 to 7"
    )
    assert width_words(TEN) == ""


def test_a_slanted_end_has_its_longest_length() -> None:
    # From 40 on the near edge to 36 on the far edge.
    slant = replace(
        last("7-1", 0, 40),
        shape=Polygon([(0, 0), (40, 0), (36, 7), (0, 7)]),
        cuts=(StripCut(kind="slant", side="right"),),
    )
    row = replace(NINE, pieces=(slant,), walls=())
    assert lines(row) == ["7-1 40 at most from a new plank; cut at a slant"]


def test_without_boxes_the_last_piece_has_its_figure_over_it() -> None:
    shown = with_wall_figures(TEN)
    assert shown.walls == ()
    (cut,) = shown.pieces[-1].cuts
    assert cut.far == StripMark(figure="10¼", end="left")
    assert shown.pieces[:-1] == TEN.pieces[:-1]
