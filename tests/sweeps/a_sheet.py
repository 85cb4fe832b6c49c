"""Two planks with their sheet, written by hand: five cuts of three pieces, and one with a slant.

plank 1                                       plank 2
+----------+---+  +--------------+  7         +---------------/ - - - - - +
|          |     |notch|   3-1   |            |    +--+      /            |
|   1-3    |     +-----+         |            |    +--+     /  left over  |
|          |     +---------------+ 2.5        |   2-2      /              |
|          |         |    5-1    |            |           /               |
+----------+---------+-----------+  0         +----------/- - - - - - - - +
0        20.25  24    30        48            0         26    30          48
"""

from __future__ import annotations

from typing import Any

Json = dict[str, Any]
KERF = 0.125


def a_request(**lay: str) -> Json:
    """Return a request that says what sawing needs of it."""
    rules = {"saw_kerf": KERF, "min_end_piece": 8, "min_row_width": 2}
    return {"format": 2, "unit": "in", "rules": rules, "lay": lay}


def _piece(name: str, plank: int, *ring: tuple[float, float], **more: Any) -> Json:
    return {
        "id": name,
        "row": int(name[0]),
        "plank": plank,
        "size": [48, 7],
        "outline": ring,
        "origin": [0, 0],
        **more,
    }


def a_plan() -> Json:
    """Return a plan that says what sawing needs of it."""
    hole = [(10.0, 2.0), (14.0, 2.0), (14.0, 4.0), (10.0, 4.0)]
    return {
        "format": 2,
        "unit": "in",
        "direction_deg": 0,
        "pieces": [
            _piece("1-3", 1, (0, 0), (20.25, 0), (20.25, 7), (0, 7)),
            _piece("2-2", 2, (0, 0), (26, 0), (30, 7), (0, 7), holes=[hole]),
            _piece("3-1", 1, (24, 2.5), (48, 2.5), (48, 7), (30, 7), (30, 5), (24, 5)),
            _piece("5-1", 1, (30, 0), (48, 0), (48, 2.375), (30, 2.375)),
        ],
        "offcuts": [
            {
                "id": "F1",
                "plank": 1,
                "outline": [(20.375, 0), (48, 0), (48, 7), (20.375, 7)],
                "keeps": ["right end", "low side", "high side"],
                "used_by": "3-1",
                "stack": "A",
            },
            {
                "id": "F2",
                "plank": 1,
                "outline": [(24, 0), (48, 0), (48, 2.375), (24, 2.375)],
                "keeps": ["right end", "low side"],
                "used_by": "5-1",
                "stack": "B",
            },
            {
                "id": "F3",
                "plank": 2,
                "outline": [(26.144, 0), (48, 0), (48, 7), (30.144, 7)],
                "keeps": ["right end", "low side", "high side"],
                "used_by": None,
                "stack": None,
            },
        ],
    }


def _cut(number: int, kind: str, measured: tuple[str, float], path: Any, **more: Any) -> Json:
    side, at = measured
    tool = "jigsaw" if kind in ("notch", "hole") else "saw"
    cut = {"n": number, "kind": kind, "measure_from": side, "at": at, "path": path, "tool": tool}
    return {**cut, "final": "exact", **more}


def _then(name: str, *aside: str, stack: str | None = None, waste: bool = False) -> Json:
    return {"in_hand": name, "aside": list(aside), "stack": stack, "waste": waste}


def a_sheet() -> Json:
    """Return the sheet of the plan, its words for a floor that is laid from the low side."""
    first = [
        _cut(
            1,
            "crosscut",
            ("left end", 20.25),
            [[20.25, 0], [20.25, 7]],
            goes="right",
            final="measure on site",
            limits=[19.5, 20.5],
            then=_then("1-3", "3-1", "5-1", stack="A"),
            text='Measure on site, between 19½" and 20½"; as drawn, cut square 20¼" from the left '
            "end; the right part goes: stack A for 3-1 and 5-1.",
        ),
        _cut(
            2,
            "crosscut",
            ("right end", 24),
            [[24, 0], [24, 7]],
            goes="left",
            then=_then("3-1", waste=True),
            text='Cut square 24" from the right end; the left part goes: waste.',
        ),
        _cut(
            3,
            "rip",
            ("high side", 4.5),
            [[24, 2.5], [48, 2.5]],
            goes="low",
            then=_then("3-1", "5-1", stack="B"),
            text='Rip 4½" from the far edge; the near part goes: stack B for 5-1.',
        ),
        _cut(
            4,
            "notch",
            ("right end", 18),
            [[24, 5], [30, 5], [30, 7]],
            goes="inside",
            then=_then("3-1", waste=True),
            text='Notch: mark 18" from the right end and 2" from the far edge, square to each '
            "other; the far left corner goes: waste.",
        ),
        _cut(
            5,
            "crosscut",
            ("right end", 18),
            [[30, 0], [30, 2.375]],
            goes="left",
            then=_then("5-1", waste=True),
            text='Cut square 18" from the right end; the left part goes: waste.',
        ),
    ]
    second = [
        _cut(
            1,
            "angle",
            ("left end", 26),
            [[26, 0], [30, 7]],
            goes="right",
            then=_then("2-2"),
            text='Mark 26" from the left end on the near edge and 30" from the left end on the '
            'far edge; cut along the line, rise 7" over run 4"; the right part goes: '
            "kept as a leftover.",
        ),
        _cut(
            2,
            "hole",
            ("left end", 10),
            [[10, 2], [14, 2], [14, 4], [10, 4], [10, 2]],
            goes="inside",
            then=_then("2-2", waste=True),
            text='Cut out 10" to 14" from the left end, 2" to 4" from the near edge: waste.',
        ),
    ]
    planks = [
        {"plank": 1, "size": [48, 7], "cuts": first},
        {"plank": 2, "size": [48, 7], "cuts": second},
    ]
    return {"format": 2, "unit": "in", "planks": planks}
