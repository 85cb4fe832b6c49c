"""What a reading changes on paper: nothing where the work goes on as it was asked, else a word."""

from __future__ import annotations

import pytest

from jobs.domain.packet.moisture import moisture_changes, moisture_holds
from jobs.domain.site.facts import Caution

OPEN = {"moisture-open": ["No moisture reading yet", "The subfloor is concrete."]}
ROW_ONE = {"moisture-row-one": ["Read the moisture", "Row one is planned for Nov 30."]}
LATER = {"moisture-row-one": ["Read the moisture", "Row one is planned for Dec 7."]}
WET = {"moisture": ["The subfloor is too wet", "Hall: 91 read, 85 allowed."]}
WETTER = {"moisture": ["The subfloor is too wet", "Hall: 91 read; den: 95 read, 85 allowed."]}
BOARDS = {"moisture-boards": ["The boards wait for their moisture", "4 to 12 %"]}
OTHER_BOARDS = {"moisture-boards": ["The boards wait for their moisture", "8 to 16 %"]}
STOPS = "Moisture stops the work: the subfloor is too wet."
ANOTHER = "Moisture was read again, and what stops the work is another: "
Holds = dict[str, list[str]]


@pytest.mark.parametrize(
    ("then", "now", "said"),
    [
        (OPEN, {}, []),
        (ROW_ONE, {}, []),
        (BOARDS, {}, []),
        (ROW_ONE, LATER, []),
        ({}, WET, [STOPS]),
        (OPEN, ROW_ONE | WET, ["Moisture stops the work: read the moisture.", STOPS]),
        (WET, WETTER, [ANOTHER + "the subfloor is too wet."]),
        (WET, WET, []),
        (WET, {}, ["No moisture reading is over its limit any more."]),
        (BOARDS, OTHER_BOARDS, [ANOTHER + "the boards wait for their moisture."]),
        ({}, OPEN, ["Moisture stops the work: no moisture reading yet."]),
    ],
)
def test_only_what_stops_the_work_or_did_is_said(then: Holds, now: Holds, said: list[str]) -> None:
    assert list(moisture_changes(then, now, cleared=False)) == said


def test_a_stop_that_a_person_cleared_is_said_by_the_clearing() -> None:
    assert list(moisture_changes(WET, {}, cleared=True)) == []
    assert list(moisture_changes({}, WET, cleared=True)) == [STOPS]


def test_only_holds_of_moisture_are_kept() -> None:
    holds = {
        code: Caution(code=code, title="T", text="X", source="S", severity="hold", blocks=("lay",))
        for code in ("risers", "moisture", "moisture-boards", "asbestos")
    }
    assert moisture_holds(holds) == {"moisture": ["T", "X"], "moisture-boards": ["T", "X"]}
