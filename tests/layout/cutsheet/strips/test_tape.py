"""What is taped across a floor first: the tape less all before the last row is the last row."""

from __future__ import annotations

import pytest

from layout.cutsheet.strips.lines import line_places
from layout.values.request import read_request
from tests.layout.cutsheet.strips.test_walls import eighths, hall_request, room, strips
from tests.rooms import request


def test_the_tape_less_what_lies_before_the_last_row_is_what_stays_of_it() -> None:
    floor = strips(room())
    tape, last = floor.rows[0].tape, floor.rows[-1]
    assert tape is not None
    assert all(row.tape is None for row in floor.rows[1:])
    (rip,) = (wall for wall in last.walls if wall.kind == "rip")
    assert (tape.plan, tape.row, tape.stays, tape.limits) == ("60", last.row, rip.cut, rip.limits)
    before = eighths(floor.rows[-2].far)
    assert eighths(tape.less) == pytest.approx(before + eighths(rip.gap))
    assert eighths(tape.plan) - eighths(tape.less) == pytest.approx(eighths(tape.stays))


def test_a_last_row_that_is_whole_is_taped_too_and_one_row_is_not() -> None:
    ring: list[list[float]] = [[0, 0], [161, 0], [161, 56.5], [0, 56.5]]  # eight rows of 7, gaps
    tape = strips(request(ring)).rows[0].tape
    assert tape is not None
    assert (tape.plan, tape.less, tape.stays) == ("56½", "49½", "7")
    one: list[list[float]] = [[0, 0], [161, 0], [161, 7.5], [0, 7.5]]
    assert strips(request(one)).rows[0].tape is None


def test_a_line_is_named_by_its_wall() -> None:
    wanted = read_request(hall_request())
    (number,) = (n for n, edge in wanted.zone.edges.items() if edge.kind.value == "transition")
    (line,) = line_places(wanted, {number: "wall 2"})
    assert line.words.startswith("The end line in the doorway of wall 2: 2¼ past wall 2 as taped;")
    assert line.short == "End line 2¼ past wall 2 as taped; floor to 2"
