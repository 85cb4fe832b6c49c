"""Random floors of every kind, drawn from a seed, as requests in the interchange form.

rectangle   ell      tee        bay       slanted   crooked   turned   suite     divided
+-----+    +--+     +-----+    _/--\\_    +---.     .----+     /\\     +--+ +--+  +--+ +--+
|     |    |  +--+  +-+ +-+   |      |   |    \\    |     |    /  \\    |  +-+  |  |  |-|  |
+-----+    +-----+    +-+     +------+   +-----+   +----'     \\/     +--+ +--+  +--+ +--+
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from typing import Any

from shapely.geometry import Polygon

from layout.values.units import INCH

Json = dict[str, Any]
Ring = list[list[float]]
EFFORT = 8  # iterations of planning: a saw needs a right plan, not a good one

BOARDS = [(48, 7, 10), (36, 5, 12), (47.75, 8.75, 8), (60, 9, 6), (48, 6.5, 10), (72, 7.5, 6)]
MIXED: list[Json] = [
    {"length": 48, "width": 9, "per_carton": 3},
    {"length": 48, "width": 7, "per_carton": 4},
    {"length": 48, "width": 5, "per_carton": 3},
]
# What the saw takes across and along: sawn; scored and ripped by table saw; scored alone.
KERFS = [(0.125, 0.125), (0.125, 0.125), (0.0, 0.125), (0.0, 0.0)]


def _size(chance: Random, least: float, most: float) -> float:
    """Return a length as a tape gives it, to the sixteenth."""
    return round(chance.uniform(least, most) * 16) / 16


def _rectangle(chance: Random) -> Json:
    w, h = _size(chance, 50, 220), _size(chance, 45, 160)
    return {"outline": [[0, 0], [w, 0], [w, h], [0, h]]}


def _ell(chance: Random) -> Json:
    w, h = _size(chance, 110, 220), _size(chance, 80, 160)
    u, v = _size(chance, 40, w - 40), _size(chance, 30, h - 30)
    ring: Ring = [[0, 0], [w, 0], [w, v], [u, v], [u, h], [0, h]]
    return {"outline": ring if chance.random() < 0.5 else [[w - x, h - y] for x, y in ring]}


def _tee(chance: Random) -> Json:
    w, h = _size(chance, 150, 230), _size(chance, 90, 160)
    a, b = _size(chance, 30, w / 2 - 20), _size(chance, w / 2 + 20, w - 30)
    v = _size(chance, 30, h - 30)
    ring: Ring = [[a, 0], [b, 0], [b, v], [w, v], [w, h], [0, h], [0, v], [a, v]]
    return {"outline": ring if chance.random() < 0.5 else [[w - x, h - y] for x, y in ring]}


def _bay(chance: Random) -> Json:
    w, h = _size(chance, 120, 200), _size(chance, 70, 140)
    left, deep = _size(chance, 18, 0.25 * w), _size(chance, 12, 28)
    slant = _size(chance, 8, 0.2 * w)
    ring: Ring = [[0, 0], [w, 0], [w, h], [w - left, h], [w - left - slant, h + deep]]
    ring += [[left + slant, h + deep], [left, h], [0, h]]
    most = h + deep
    return {"outline": ring if chance.random() < 0.6 else [[w - x, most - y] for x, y in ring]}


def _slanted(chance: Random) -> Json:
    w, h = _size(chance, 110, 200), _size(chance, 70, 150)
    u, v = _size(chance, 0.3 * w, 0.9 * w), _size(chance, 0.2 * h, 0.8 * h)
    ring: Ring = [[0, 0], [w, 0], [w, v], [u, h], [0, h]]
    return {"outline": ring if chance.random() < 0.6 else [[w - x, h - y] for x, y in ring]}


def _crooked(chance: Random) -> Json:
    w, h = chance.uniform(90, 200), chance.uniform(70, 150)
    corners: Ring = [[0, 0], [w, 0], [w, h], [0, h]]
    return {"outline": [[x + chance.uniform(-1, 1), y + chance.uniform(-1, 1)] for x, y in corners]}


def _suite(chance: Random, door: float = 30) -> Json:
    """Two rooms joined by a doorway where no joint may fall; one too narrow parts the floor."""
    w, beyond, h = _size(chance, 80, 140), _size(chance, 60, 120), _size(chance, 80, 140)
    low = _size(chance, 20, h - 40)
    high, t, x = min(low + door, h - 2), 4.5, w + 4.5 + beyond
    ring: Ring = [[0, 0], [w, 0], [w, low], [w + t, low], [w + t, 0], [x, 0], [x, h], [w + t, h]]
    ring += [[w + t, high], [w, high], [w, h], [0, h]]
    threshold = [[w, low], [w + t, low], [w + t, high], [w, high]]
    return {"outline": ring, "no_joints": [threshold]}


def _divided(chance: Random) -> Json:
    return _suite(chance, door=0.4)


SHAPES: dict[str, Callable[[Random], Json]] = {
    "rectangle": _rectangle,
    "ell": _ell,
    "tee": _tee,
    "bay": _bay,
    "slanted": _slanted,
    "crooked": _crooked,
    "suite": _suite,
    "divided": _divided,
}


def _with_things(chance: Random, zone: Json) -> str:
    """Put posts, registers and a cabinet into a zone, casings on an edge; return their names."""
    xs, ys = [x for x, _ in zone["outline"]], [y for _, y in zone["outline"]]
    holes: list[Json] = []
    names = []
    for kind, share, least, most in (
        ("post", 0.3, 1.5, 14.0),
        ("register", 0.3, 3.0, 13.0),
        ("cabinet", 0.08, 20.0, 40.0),
    ):
        if chance.random() < share:
            x, y = _size(chance, min(xs), max(xs)), _size(chance, min(ys), max(ys))
            u, v = _size(chance, least, most), _size(chance, least, most / 2 + 1)
            ring: Ring = [[x, y], [x + u, y], [x + u, y + v], [x, y + v]]
            if _fits(ring, zone["outline"], [hole["outline"] for hole in holes]):
                holes.append({"outline": ring, "kind": kind})
                names.append(kind)
    if holes:
        zone["holes"] = holes
    if chance.random() < 0.25:
        edge = chance.randrange(len(zone["outline"]))
        zone["edges"] = {str(edge): {"gap": 0.5, "max_gap": 0.75, "kind": "wall"}}
        names.append("edge")
    if chance.random() < 0.25:
        edge = chance.randrange(len(zone["outline"]))
        zone.setdefault("edges", {})[str(edge)] = {"gap": 0.25, "kind": "casing"}
        names.append("casing")
    return " ".join(names)


def _fits(ring: Ring, outline: Ring, others: Sequence[Ring]) -> bool:
    """Whether a thing stands well inside a zone, off the others."""
    thing = Polygon(ring).buffer(6)
    return bool(
        Polygon(outline).contains(thing)
        and all(not Polygon(other).intersects(thing) for other in others)
    )


def random_floor(chance: Random) -> tuple[str, Json]:
    """Return what a random floor is in a few words, and its request."""
    shape = chance.choice(list(SHAPES))
    zone = SHAPES[shape](chance)
    things = _with_things(chance, zone)
    product, kind = _product(chance)
    start, end = chance.choice(["low", "low", "high"]), chance.choice(["left", "right"])
    direction = chance.choice([0, 0, 0, 0, 90, 90, 90, 30, 45, 117.5, "best"])
    kerf, rip_kerf = chance.choice(KERFS)
    wall_error = chance.choice([0, 0.25])
    metric = "boards" not in product and chance.random() < 0.2
    scale = INCH["mm"] if metric else 1.0
    unit = "mm" if metric else "in"
    request = {
        "format": 2,
        "unit": unit,
        "zone": _scaled(zone, scale),
        "product": _scaled_product(product, scale),
        "rules": {
            "expansion_gap": 0.25 * scale,
            "saw_kerf": kerf * scale,
            "rip_kerf": rip_kerf * scale,
            "min_end_piece": 8 * scale,
            "min_joint_offset": chance.choice([6, 8]) * scale,
            "min_row_width": 2 * scale,
            "wall_error": wall_error * scale,
            "direction_deg": direction,
        },
        "lay": {"start": start, "first_end": end},
        "effort_iterations": EFFORT,
        "seed": chance.randrange(1000),
    }
    words = [
        shape,
        things,
        kind,
        unit,
        start,
        end,
        f"{direction} deg" if direction != "best" else "best direction",
        f"kerf {kerf:g}/{rip_kerf:g}",
    ]
    if chance.random() < 0.15:
        request["prefer"] = "cartons"
        words.append("last carton spent")
    if "boards" not in product and chance.random() < 0.1:
        request["product"]["backward"] = True
        request["lay"]["control_row"] = 3
        request["rules"]["wall_error"] = 0  # refused where rows go both ways
        words.append("control row 3")
    elif wall_error:
        words.append("wall error")
    return ", ".join(word for word in words if word), request


def _product(chance: Random) -> tuple[Json, str]:
    """Return a product and what it is: of one width or several, with shades or none."""
    kind = chance.choice(["plain", "plain", "shades", "mix unknown"])
    if chance.random() < 0.25:
        boards = [dict(board) for board in MIXED]
        if kind == "shades":
            for board in boards:
                board["variants"] = {"A": 1, "B": board["per_carton"] - 1}
        product: Json = {"boards": boards}
        size = "three widths"
    else:
        length, width, count = chance.choice(BOARDS)
        product = {"length": length, "width": width, "per_carton": count}
        if kind == "shades":
            product["variants"] = {"A": count // 2, "B": count - count // 2}
        size = f"{length:g} x {width:g}"
    if kind == "mix unknown":
        product["variants"] = "mixed"
    return product, size if kind == "plain" else f"{size}, {kind}"


def _scaled_product(product: Json, scale: float) -> Json:
    sizes: Json = {key: product[key] * scale for key in ("length", "width") if key in product}
    return {**product, **sizes}


def _scaled(value: Any, scale: float) -> Any:
    """Return data with every number scaled."""
    if isinstance(value, list):
        return [_scaled(inner, scale) for inner in value]
    if isinstance(value, dict):
        return {key: _scaled(inner, scale) for key, inner in value.items()}
    return value if isinstance(value, str) else value * scale
