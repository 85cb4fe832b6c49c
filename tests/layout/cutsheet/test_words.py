"""The words of cuts, worked out by hand on one plank of 48 x 7 in, the saw taking 1/8 in.

seen from the low side                 seen from the high side, turned half round
far  7 +------------------+            near 7 +------------------+
       | left       right |                   | right       left |
near 0 +------------------+            far  0 +------------------+
       0                 48                   0                 48
"""

from __future__ import annotations

import pytest

from layout.cutsheet.in_hand import parts_cut
from layout.cutsheet.words import made_words
from layout.values.outline import Point
from layout.values.request import read_request
from layout.values.sheet import AfterCut, PlankCuts, SawCut
from layout.values.units import length_words
from tests.layout.three_rows import request
from tests.rooms import bedroom_mm

WASTE = AfterCut(in_hand="1-1")


def cut(
    kind: str,
    base: str,
    at: float,
    *path: Point,
    goes: str = "inside",
    then: AfterCut = WASTE,
    limits: tuple[float, float] | None = None,
    n: int = 1,
) -> SawCut:
    return SawCut(
        n=n,
        kind=kind,
        measure_from=base,
        at=at,
        path=path,
        goes=goes,
        tool="saw",
        then=then,
        final="measure on site" if limits else "exact",
        limits=limits,
    )


def crosscut(base: str, at: float, goes: str, **more: object) -> SawCut:
    x = at if base == "left end" else 48 - at
    return cut("crosscut", base, at, (x, 0), (x, 7), goes=goes, **more)  # type: ignore[arg-type]


def sentence(*cuts: SawCut, start: str = "low", size: Point = (48, 7), unit: str = "in") -> str:
    """Return the words of the last of a plank's cuts, without what becomes of what goes."""
    text, _, _ = whole(*cuts, start=start, size=size, unit=unit).rpartition(": ")
    return f"{text}."


def whole(*cuts: SawCut, start: str = "low", size: Point = (48, 7), unit: str = "in") -> str:
    plank = PlankCuts(plank=1, size=size, cuts=cuts)
    plan_request = request(lay={"start": start}) if unit == "in" else read_request(bedroom_mm())
    *_, last = parts_cut(plank, plan_request)
    return made_words(last, size=plank.size, request=plan_request, row=1)


SLANT = cut("angle", "left end", 26, (26, 0), (30, 7), goes="right")


@pytest.mark.parametrize(
    ("start", "text"),
    [
        ("low", 'Cut square 20¼" from the left end; the right part goes.'),
        ("high", 'Cut square 20¼" from the right end; the left part goes.'),
    ],
)
def test_a_square_cut_is_told_from_the_end_that_stays(start: str, text: str) -> None:
    assert sentence(crosscut("left end", 20.25, "right"), start=start) == text


def test_where_the_end_that_goes_is_measured_from_the_figure_is_what_goes() -> None:
    text = 'Cut square 4" from the left end; the left part goes.'
    assert sentence(crosscut("left end", 4, "left")) == text


@pytest.mark.parametrize(
    ("start", "text"),
    [
        ("low", 'Rip 2½" from the near edge; the far part goes.'),
        ("high", 'Rip 2½" from the far edge; the near part goes.'),
    ],
)
def test_a_rip_is_told_from_the_edge_that_stays(start: str, text: str) -> None:
    rip = cut("rip", "low side", 2.5, (0, 2.5), (48, 2.5), goes="high")
    assert sentence(rip, start=start) == text


def test_a_slant_is_told_by_two_marks_and_its_rise_over_its_run() -> None:
    assert sentence(SLANT) == (
        'Mark 26" from the left end on the near edge and 30" from the left end on the far edge; '
        'cut along the line, rise 7" over run 4"; the right part goes.'
    )


def test_from_the_high_side_a_slant_turns_round() -> None:
    assert sentence(SLANT, start="high") == (
        'Mark 30" from the right end on the near edge and 26" from the right end on the far '
        'edge; cut along the line, rise 7" over run 4"; the left part goes.'
    )


def test_a_slant_that_would_run_from_corner_to_corner_is_told_a_step_further_in() -> None:
    sliver = cut("angle", "left end", 47.98, (48, 0), (47.98, 7), goes="right")
    figure = length_words(47.9375, "in", on_tape=True)
    assert sentence(sliver).startswith(
        f"Mark the near right corner and {figure} from the left end on the far edge; cut"
    )


def test_a_notch_less_than_half_a_step_deep_is_told_a_step_deep() -> None:
    notch = cut("notch", "left end", 42, (48, 6.98), (42, 6.98), (42, 7))
    figure = length_words(6.9375, "in", on_tape=True)
    assert sentence(notch).startswith(
        f'Notch: mark 42" from the left end and {figure} from the near'
    )


def test_a_slant_too_slight_for_a_tape_has_no_rise_over_run() -> None:
    slight = cut("angle", "left end", 26, (26, 0), (26.02, 7), goes="right")
    assert "; cut along the line; the right part goes." in sentence(slight)


def test_of_a_line_at_half_a_square_the_left_or_the_right_part_goes() -> None:
    slant = cut("angle", "left end", 26, (26, 7), (33, 0), goes="high")
    assert sentence(slant).endswith('rise 7" over run 7"; the right part goes.')


def test_a_slant_through_a_ripped_part_marks_its_sawn_edge() -> None:
    rip = cut("rip", "low side", 3.5, (0, 3.5), (48, 3.5), goes="high")
    slant = cut("angle", "left end", 26, (26, 0), (28, 3.5), goes="right", n=2)
    assert sentence(rip, slant) == (
        'Mark 26" from the left end on the near edge and 28" from the left end on the far edge; '
        'cut along the line, rise 3½" over run 2"; the right part goes.'
    )


def test_a_mark_on_a_slanted_edge_is_told_from_an_end_and_an_edge() -> None:
    # The first slant leaves the end from (40, 0) to (48, 7); the second meets it at (44, 3.5).
    first = cut("angle", "left end", 40, (40, 0), (48, 7), goes="right")
    second = cut("angle", "left end", 34, (34, 7), (44, 3.5), goes="high", n=2)
    assert sentence(first, second) == (
        'Mark 44" from the left end by 3½" from the near edge and 34" from the left end on the '
        'far edge; cut along the line, rise 3½" over run 10"; the far part goes.'
    )


def test_a_slant_from_a_corner_names_the_corner() -> None:
    slant = cut("angle", "right end", 43, (0.01, 0), (5, 7), goes="left")
    assert sentence(slant) == (
        'Mark the near left corner and 43" from the right end on the far edge; cut along the '
        'line, rise 7" over run 5"; the left part goes.'
    )


NOTCHES: dict[str, tuple[Point, Point, Point]] = {
    "near left": ((0, 2), (6, 2), (6, 0)),
    "near right": ((42, 0), (42, 2), (48, 2)),
    "far right": ((48, 5), (42, 5), (42, 7)),
    "far left": ((6, 7), (6, 5), (0, 5)),
}
FROM = {"near": "far", "far": "near", "left": "right", "right": "left"}


@pytest.mark.parametrize("start", ["low", "high"])
@pytest.mark.parametrize("corner", NOTCHES)
def test_a_notch_is_marked_from_the_end_and_edge_across(corner: str, start: str) -> None:
    # Six along and two across go: 42 and 5 stay.
    seen = corner if start == "low" else " ".join(FROM[word] for word in corner.split())
    edge, end = seen.split()
    base = "right end" if "left" in corner else "left end"
    assert sentence(cut("notch", base, 42, *NOTCHES[corner]), start=start) == (
        f'Notch: mark 42" from the {FROM[end]} end and 5" from the {FROM[edge]} edge, square to '
        f"each other; the {seen} corner goes."
    )


BAY: tuple[Point, ...] = ((10, 0), (10, 2), (14, 2), (14, 0))


@pytest.mark.parametrize(
    ("start", "text"),
    [
        ("low", 'Notch out 10" to 14" from the left end, 2" deep from the near edge.'),
        ("high", 'Notch out 10" to 14" from the right end, 2" deep from the far edge.'),
    ],
)
def test_a_square_notch_in_an_edge_is_told_by_its_place_and_its_depth(
    start: str, text: str
) -> None:
    assert sentence(cut("notch", "left end", 10, *BAY), start=start) == text


def test_a_square_notch_in_an_end_is_told_by_its_place_and_its_depth() -> None:
    bay = cut("notch", "left end", 3, (0, 5), (3, 5), (3, 2), (0, 2))
    text = 'Notch out 2" to 5" from the near edge, 3" deep from the left end.'
    assert sentence(bay) == text


def test_another_notch_in_an_edge_names_its_marks_and_the_edge_it_opens_to() -> None:
    bay = cut("notch", "left end", 10, (10, 0), (12, 2), (14, 0))
    assert sentence(bay) == (
        'Mark 10" from the left end on the near edge, 12" from the left end by 2" from the near '
        'edge and 14" from the left end on the near edge; cut from mark to mark; what lies '
        "between them and the near edge goes."
    )


def test_a_square_notch_in_a_sawn_edge_is_told_by_its_marks() -> None:
    rip = cut("rip", "high side", 5, (0, 2), (48, 2), goes="low")
    bay = cut("notch", "left end", 10, (10, 2), (10, 4), (14, 4), (14, 2), n=2)
    assert sentence(rip, bay) == (
        'Mark 10" from the left end on the near edge, 10" from the left end by 3" from the far '
        'edge, 14" from the left end by 3" from the far edge and 14" from the left end on the '
        "near edge; cut from mark to mark; what lies between them and the near edge goes."
    )


def test_a_notch_that_takes_an_end_names_the_part() -> None:
    # A step across the whole board: what stays lies left of the path, which runs away.
    step = cut("notch", "left end", 20, (20, 0), (20, 3), (24, 3), (24, 7))
    assert sentence(step).endswith("cut from mark to mark; the right part goes.")


def test_where_only_a_corner_stays_the_words_say_so() -> None:
    corner = cut("notch", "left end", 20, (20, 0), (20, 3), (0, 3))
    assert sentence(corner).endswith(
        "cut from mark to mark; only the near left corner stays, the rest goes."
    )


@pytest.mark.parametrize(
    ("start", "text"),
    [
        ("low", 'Cut out 10" to 14" from the left end, 2" to 4" from the near edge.'),
        ("high", 'Cut out 10" to 14" from the right end, 3" to 5" from the near edge.'),
    ],
)
def test_a_box_inside_is_told_by_its_four_sides(start: str, text: str) -> None:
    ring = ((10.0, 2.0), (10.0, 4.0), (14.0, 4.0), (14.0, 2.0), (10.0, 2.0))
    assert sentence(cut("hole", "left end", 10, *ring), start=start) == text


def test_another_hole_is_told_by_its_marks() -> None:
    ring = ((10.0, 2.0), (12.0, 4.0), (14.0, 2.0), (10.0, 2.0))
    assert sentence(cut("hole", "left end", 10, *ring)) == (
        'Cut out inside the marks 10" from the left end by 2" from the near edge, 12" from the '
        'left end by 4" from the near edge and 14" from the left end by 2" from the near edge.'
    )


def test_what_is_measured_on_site_names_its_limits() -> None:
    on_site = crosscut("left end", 20.25, "right", limits=(19.75, 20.75))
    assert sentence(on_site) == (
        'Measure on site, between 19¾" and 20¾"; as drawn, cut square 20¼" from the left end; '
        "the right part goes."
    )


def test_a_slant_on_site_limits_the_nearer_mark() -> None:
    slant = cut("angle", "left end", 26, (26, 0), (30, 7), goes="right", limits=(25.5, 26.5))
    assert sentence(slant).startswith(
        'Measure on site, the nearer mark between 25½" and 26½"; as drawn, mark 26" from'
    )


def test_limits_are_rounded_inward() -> None:
    on_site = crosscut("left end", 20, "right", limits=(19.6, 20.4))
    assert sentence(on_site).startswith('Measure on site, between 19⅝" and 20⅜";')


def test_a_piece_across_a_whole_run_is_told_its_most_alone() -> None:
    on_site = crosscut("left end", 45.5, "right", limits=(0, 48))
    assert sentence(on_site).startswith('Measure on site, at most 48"; as drawn, cut square 45½"')


def test_limits_that_leave_no_choice_are_left_out() -> None:
    on_site = crosscut("left end", 8.03, "right", limits=(8.03, 8.03))
    assert sentence(on_site).startswith(
        'Measure on site; as drawn, cut square 8" from the left end'
    )


def test_a_cut_that_takes_less_than_half_a_step_is_told_a_step_further_in() -> None:
    # A board of 7 1/16 ripped to 7.04 would be told as 7 1/16, which takes nothing.
    rip = cut("rip", "low side", 7.04, (0, 7.04), (48, 7.04), goes="high")
    text = 'Rip 7" from the near edge; the far part goes.'
    assert sentence(rip, size=(48, 7.0625)) == text


def test_millimeters_are_told_whole() -> None:
    across = cut("crosscut", "left end", 514.4, (514.4, 0), (514.4, 178), goes="right")
    assert sentence(across, size=(1219, 178), unit="mm") == (
        "Cut square 514 mm from the left end; the right part goes."
    )


@pytest.mark.parametrize(
    ("then", "text"),
    [
        (AfterCut(in_hand="1-1"), "waste."),
        (AfterCut(in_hand="1-1", waste=False), "kept as a leftover."),
        (
            AfterCut(in_hand="1-1", aside=("1-2",), waste=False),
            "keep in hand for 1-2.",
        ),
        (
            AfterCut(in_hand="1-1", aside=("3-5", "4-7", "5-1"), stack="E", waste=False),
            "stack E for 3-5, 4-7 and 5-1.",
        ),
    ],
)
def test_what_becomes_of_the_part_that_goes_is_said_after_the_cut(
    then: AfterCut, text: str
) -> None:
    assert whole(crosscut("left end", 20, "right", then=then)).endswith(f" part goes: {text}")


def test_a_part_taken_up_again_is_measured_from_what_it_still_has() -> None:
    # 1-1 takes the left end; its leftover keeps the right end, and is notched from there.
    first = crosscut(
        "left end", 20, "right", then=AfterCut(in_hand="1-1", aside=("2-1",), waste=False)
    )
    corner = cut(
        "notch", "right end", 8, (48, 5), (40, 5), (40, 7), then=AfterCut(in_hand="2-1"), n=2
    )
    assert sentence(first, corner) == (
        'Notch: mark 8" from the right end and 5" from the near edge, square to each other; '
        "the far right corner goes."
    )
