"""Thin fingers of a piece, and cuts that take off less than a quarter inch. Figures by hand."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from jobs.domain.packet.notched import thin_notes
from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.stays import fingers
from tests.bench.thin import count_thin
from tests.packet_shapes.planned import room


def test_an_eighth_of_an_inch_beside_a_notch_is_a_finger() -> None:
    # A plank of 7 by 48 from which 3 by 6 7/8 are cut out at its end: 1/8 by 3 stays there.
    plank = box(0, 0, 48, 7).difference(box(45, 0.125, 48, 7))
    assert [round(finger, 6) for finger in fingers(plank, "in")] == [0.125]


@pytest.mark.parametrize("thick", [0.25, 0.5, 3.0])
def test_a_quarter_inch_or_more_is_none(thick: float) -> None:
    assert fingers(box(0, 0, 48, 7).difference(box(45, thick, 48, 7)), "in") == ()


def test_a_short_nib_and_the_tip_of_an_angle_are_none() -> None:
    nib = box(0, 0, 48, 7).difference(box(47.6, 0.125, 48, 7))  # 1/8 by 4/10
    assert fingers(nib, "in") == ()
    assert fingers(Polygon([(0, 0), (48, 0), (40, 7), (0, 7)]), "in") == ()


def test_millimeters_have_the_same_limit() -> None:
    # 3 mm stay of 178: less than 6.35.
    plank = box(0, 0, 1220, 178).difference(box(1100, 3, 1220, 178))
    assert [round(finger, 6) for finger in fingers(plank, "mm")] == [3.0]


@pytest.mark.parametrize("name", ["ell", "column", "island", "crooked"])
def test_every_thin_trim_is_said_on_its_piece(name: str) -> None:
    count = count_thin(*room(name))
    assert count.trims > 0
    assert count.said >= max(count.trims, count.fingers)


def test_a_trim_names_how_little_it_takes() -> None:
    plan_request, plan = room("ell")
    notes = thin_notes(plan_request, plan, cut_sheet(plan_request, plan))
    (row, (note, *_)) = next(iter(notes.items()))
    assert note.startswith(f"{row}-")
    assert ": The cut across takes off only " in note
    assert note.endswith("; clamp a guide, or plane it.")


def test_a_piece_drawn_apart_has_its_note_there_and_not_under_its_row() -> None:
    plan_request, plan = room("ell")
    sheet = cut_sheet(plan_request, plan)
    every = {piece.id for piece in plan.pieces}
    assert thin_notes(plan_request, plan, sheet, drawn=every) == {}
