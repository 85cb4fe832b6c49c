"""A packet of format 1 has cuts without numbers, and leftovers that lie on no stack."""

from __future__ import annotations

from jobs.domain.packet.upgrades import numbered_cuts

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
