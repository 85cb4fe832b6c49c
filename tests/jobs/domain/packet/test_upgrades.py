"""A packet of format 1 has cuts without numbers, and leftovers that lie on no stack.

One of format 2 tells its floors row by row; those words are kept as they were.
"""

from __future__ import annotations

from jobs.domain.packet.upgrades import by_strips, numbered_cuts

STEP = {"text": 'Cut square 24" from the left end; the right part goes.', "tool": "saw"}
PIECE = {"id": "1-1", "take": "Take a new board.", "steps": [STEP, STEP], "leaves": ["F1"]}
FLOOR = {"rows": [{"row": 1, "pieces": [PIECE]}], "rack": [{"label": "F1", "used_by": "3-1"}]}


def test_its_cuts_are_numbered_piece_by_piece() -> None:
    (floor,) = numbered_cuts({"floors": [FLOOR], "loads": []})["floors"]
    (piece,) = floor["rows"][0]["pieces"]
    assert [step["n"] for step in piece["steps"]] == [1, 2]
    assert piece["lies"] == ""


def test_its_leftovers_lie_on_no_stack() -> None:
    (floor,) = numbered_cuts({"floors": [FLOOR], "loads": []})["floors"]
    assert floor["rack"] == [{"label": "F1", "used_by": "3-1", "stack": None}]


def test_its_cartons_are_sorted_into_no_piles() -> None:
    packet = numbered_cuts({"floors": [FLOOR], "loads": [{"said": "6 cartons"}]})
    assert packet["loads"] == [{"said": "6 cartons", "piles": "", "sort": ""}]
    (floor,) = packet["floors"]
    assert (floor["piles"], floor["sort"], floor["rows"][0]["new"]) == ([], "", "")


def test_a_floor_told_row_by_row_keeps_its_words() -> None:
    floor = {**FLOOR, "name": "Den", "card": ["Tilt 25"], "joining": "Tap.", "gap": '1/4"'}
    packet = by_strips({"floors": [floor], "joining_care": "Strike the core edge only."})
    (upgraded,) = packet["floors"]
    assert upgraded["older"] == {
        "rows": FLOOR["rows"],
        "rack": FLOOR["rack"],
        "card": ["Tilt 25"],
        "joining": "Tap.",
        "gap": '1/4"',
        "joining_care": "Strike the core edge only.",
    }
    assert (upgraded["name"], upgraded["strips"], upgraded["joining"]) == ("Den", [], {})
    assert "rows" not in upgraded
    assert "joining_care" not in packet
