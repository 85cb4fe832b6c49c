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
