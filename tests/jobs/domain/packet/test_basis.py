"""What has changed since a packet was issued, in sentences that a crew can act on."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from jobs.domain.packet.basis import changes_since, pages_changed

THEN: dict[str, Any] = {
    "scope": {"number": 1, "sha256": "a"},
    "floors": {"Den": {"plan": 2, "sha256": "d"}},
    "days": {
        "1": {"date": "2026-11-27", "crew": "North", "work": "x"},
        "2": {"date": "2026-11-30", "crew": "North", "work": "y"},
    },
    "job": ["Den"],
    "site": "s",
    "facts": "f",
    "moisture": {"moisture-row-one": ["Read the moisture", "Row one is planned for Nov 30."]},
    "cleared": [],
}


def after(**changes: Any) -> dict[str, Any]:
    """The same basis with these keys otherwise."""
    return deepcopy(THEN) | changes


MOVED = {**THEN["days"], "2": {"date": "2026-12-01", "crew": "North", "work": "y"}}


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (after(), []),
        (
            after(scope={"number": 2, "sha256": "b"}),
            ["Scope 2 is agreed on now, not scope 1."],
        ),
        (
            after(floors={"Den": {"plan": 3, "sha256": "e"}}),
            ["Den is laid by plan 3 now, not by plan 2."],
        ),
        (
            after(floors={"Den": {"plan": 0, "sha256": "e"}}),
            ["Den is laid by another plan."],
        ),
        (after(floors={}), ["Den is gone."]),
        (after(days=MOVED), ["Day 2 is on Tue, Dec 1 now, not on Mon, Nov 30."]),
        (after(days={"1": THEN["days"]["1"]}), ["Day 2 is gone."]),
        (
            after(days={**THEN["days"], "3": THEN["days"]["2"]}),
            ["Day 3 is new."],
        ),
        (
            after(days={**THEN["days"], "1": {**THEN["days"]["1"], "crew": "South"}}),
            ["Day 1 is South's now, not North's."],
        ),
        (
            after(days={**THEN["days"], "1": {**THEN["days"]["1"], "work": "z"}}),
            ["Day 1 has other work, rows or hours."],
        ),
        (after(cleared=["asbestos"]), ["A hold was cleared."]),
        (after(facts="t"), ["What is known of the site changed."]),
        (after(site="a reading more"), []),
        (after(moisture={}), []),
    ],
)
def test_each_change_is_said_once(now: dict[str, Any], said: list[str]) -> None:
    assert changes_since(THEN, now) == said


def test_of_what_is_not_known_nothing_is_said() -> None:
    assert changes_since({}, THEN) == []
    assert changes_since(THEN, {}) == []


def test_a_packet_that_knew_no_work_of_its_days_is_not_outdated_by_it() -> None:
    older = after(days={"1": {"date": "2026-11-27", "crew": "North"}, "2": THEN["days"]["2"]})
    assert changes_since(older, THEN) == []


def test_a_packet_that_took_readings_for_facts_is_held_against_these() -> None:
    older = {key: THEN[key] for key in THEN if key not in ("facts", "moisture")}
    assert changes_since(older, after(facts="t")) == []
    assert changes_since(older, after(site="t")) == ["What is known of the site changed."]


CONTENT: dict[str, Any] = {
    "floors": [{"name": "Den", "plan": 1}, {"name": "Hall", "plan": 1}],
    "days": [{"number": 1, "clock": "8 h"}, {"number": 2, "clock": "6 h"}],
    "phases": [],
    "cautions": [],
    "edges": {},
}


def test_only_sheets_that_differ_are_printed_again_and_always_the_cover() -> None:
    now = deepcopy(CONTENT)
    now["floors"][1]["plan"] = 2
    now["days"][1]["clock"] = "7 h"
    assert pages_changed(CONTENT, CONTENT) == ["cover"]
    assert pages_changed(CONTENT, now) == ["cover", "floor 2", "day 2"]


def test_another_load_and_another_doorway_have_their_sheets() -> None:
    now = CONTENT | {"phases": [{"phase": "The floor"}], "edges": {"openings": []}}
    assert pages_changed(CONTENT, now) == ["cover", "load", "edges"]
