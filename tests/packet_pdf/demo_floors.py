"""The floors of the demo's jobs as they are planned, with little effort: `manage.py demo`.

Read off the demo's own books; `tests.house.test_demo` holds them against those.
"""

from __future__ import annotations

from tests.rooms import Request

_IN = {
    "expansion_gap": 0.25,
    "min_end_piece": 8.0,
    "min_joint_offset": 8.0,
    "min_row_width": 2.0,
    "rip_kerf": 0.125,
    "saw_kerf": 0.0,
    "stagger": "free",
    "wall_error": 0.25,
}
_OAK = {
    "backward": True,
    "length": 48.0,
    "lock": "angle-angle",
    "per_carton": 10,
    "width": 7.0,
}


def living_room() -> Request:
    """The living room with its bay."""
    return {
        "effort_iterations": 60,
        "format": 2,
        "lay": {"start": "low"},
        "prefer": "cartons",
        "product": dict(_OAK),
        "rules": {**_IN, "direction_deg": 0.0},
        "seed": 0,
        "spares": 3,
        "unit": "in",
        "zone": {
            "edges": {
                "0": {"kind": "transition"},
                "1": {"kind": "casing"},
                "11": {"kind": "casing"},
            },
            "holes": [],
            "no_joints": [],
            "outline": [
                [134.0, -2.25],
                [98.0, -2.25],
                [98.0, 0.0],
                [0.0, 0.0],
                [-0.000898, 132.0],
                [39.99883, 132.0],
                [62.000843, 158.002983],
                [124.000422, 158.002983],
                [146.002435, 132.0],
                [186.002163, 132.0],
                [186.001265, 0.0],
                [134.0, 0.0],
            ],
        },
    }


def upstairs() -> Request:
    """Study and landing, in millimeters, of three shades."""
    return {
        "effort_iterations": 60,
        "format": 2,
        "lay": {"start": "low"},
        "prefer": "cartons",
        "product": {
            "length": 1285.0,
            "lock": "angle-angle",
            "per_carton": 8,
            "variants": {"A": 3, "B": 3, "C": 2},
            "width": 192.0,
        },
        "rules": {
            "direction_deg": 0.0,
            "expansion_gap": 8.0,
            "min_end_piece": 300.0,
            "min_joint_offset": 300.0,
            "min_row_width": 60.0,
            "saw_kerf": 3.0,
            "stagger": "free",
            "wall_error": 6.0,
        },
        "seed": 0,
        "spares": 3,
        "unit": "mm",
        "zone": {
            "edges": {"13": {"kind": "casing"}, "7": {"kind": "casing"}},
            "holes": [],
            "no_joints": [[[4380.0, 1120.0], [4380.0, 1940.0], [4495.0, 1940.0], [4495.0, 1120.0]]],
            "outline": [
                [4495.0, 1940.0],
                [4495.0, 2250.0],
                [5295.0, 2250.0],
                [5295.0, 3100.0],
                [6395.0, 3100.0],
                [6395.0, 650.0],
                [4495.0, 650.0],
                [4495.0, 1120.0],
                [4380.0, 1120.0],
                [4380.0, 0.0],
                [0.0, 0.0],
                [0.0, 3215.0],
                [4380.0, 3215.0],
                [4380.0, 1940.0],
            ],
        },
    }


def bedroom_and_hall() -> Request:
    """Bedroom and hall in one floor."""
    return {
        "effort_iterations": 60,
        "format": 2,
        "lay": {"start": "low"},
        "prefer": "cartons",
        "product": dict(_OAK),
        "rules": {**_IN, "direction_deg": 90.0},
        "seed": 0,
        "spares": 3,
        "unit": "in",
        "zone": {
            "edges": {
                "0": {"kind": "casing"},
                "1": {"kind": "transition"},
                "13": {"kind": "casing"},
                "2": {"kind": "casing"},
                "7": {"kind": "casing"},
            },
            "holes": [],
            "no_joints": [[[224.0, 30.0], [224.0, 62.0], [228.5, 62.0], [228.5, 30.0]]],
            "outline": [
                [239.5, 102.0],
                [239.5, 104.25],
                [269.5, 104.25],
                [269.5, 102.0],
                [274.5, 102.0],
                [274.5, -152.0],
                [228.5, -152.0],
                [228.5, 30.0],
                [224.0, 30.0],
                [224.0, 0.0],
                [0.0, 0.0],
                [0.0, 184.5],
                [224.0, 184.5],
                [224.0, 62.0],
                [228.5, 62.0],
                [228.5, 102.0],
            ],
        },
    }


def sunroom() -> Request:
    """The sunroom with its slider."""
    return {
        "effort_iterations": 60,
        "format": 2,
        "lay": {"start": "low"},
        "prefer": "cartons",
        "product": dict(_OAK),
        "rules": {**_IN, "direction_deg": 0.0},
        "seed": 0,
        "spares": 3,
        "unit": "in",
        "zone": {
            "edges": {
                "0": {"kind": "transition"},
                "1": {"kind": "casing"},
                "7": {"kind": "casing"},
            },
            "holes": [],
            "no_joints": [],
            "outline": [
                [111.0, -2.25],
                [51.0, -2.25],
                [51.0, 0.0],
                [0.0, 0.0],
                [0.0, 127.0],
                [157.5, 127.0],
                [157.5, 0.0],
                [111.0, 0.0],
            ],
        },
    }


FLOORS = {
    "demo bedroom and hall": bedroom_and_hall,
    "demo living room": living_room,
    "demo upstairs": upstairs,
    "demo sunroom": sunroom,
}
