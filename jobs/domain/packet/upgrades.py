"""The way of a stored packet from an old format to the newest. Pure."""

from __future__ import annotations

from jobs.domain.formats import Fields


def numbered_cuts(fields: Fields) -> Fields:
    """Return a packet of format 1 with numbered cuts, leftovers on no stack, nothing sorted."""
    floors = [
        {
            **floor,
            "rows": [
                {**row, "new": "", "pieces": [_numbered_piece(piece) for piece in row["pieces"]]}
                for row in floor["rows"]
            ],
            "rack": [{**entry, "stack": None} for entry in floor["rack"]],
            "piles": [],
            "sort": "",
        }
        for floor in fields["floors"]
    ]
    loads = [{**load, "piles": "", "sort": ""} for load in fields["loads"]]
    return {**fields, "floors": floors, "loads": loads}


def _numbered_piece(piece: Fields) -> Fields:
    steps = [{**step, "n": n} for n, step in enumerate(piece["steps"], start=1)]
    return {**piece, "steps": steps, "lies": ""}


_OLDER = ("rows", "rack", "row_lines", "shaped", "stick", "templates", "joining", "card", "gap")
"""What a floor of format 2 says in words of its own, which are printed as they were."""


def by_strips(fields: Fields) -> Fields:
    """Return a packet of format 2 as one of format 3: the words of its floors stay what they were.

    Each floor keeps them under ``older``; nothing of it is drawn as strips.
    """
    care = fields.get("joining_care", "")
    floors = [_with_older_words(floor, care) for floor in fields["floors"]]
    kept = {name: value for name, value in fields.items() if name != "joining_care"}
    return {**kept, "floors": floors}


def _with_older_words(floor: Fields, care: str) -> Fields:
    older = {name: floor[name] for name in _OLDER if name in floor} | {"joining_care": care}
    rest = {name: value for name, value in floor.items() if name not in _OLDER}
    return {
        **rest,
        "strips": [],
        "offcuts": [],
        "stick": {},
        "notched": [],
        "templates": [],
        "joining": {},
        "older": older,
    }
