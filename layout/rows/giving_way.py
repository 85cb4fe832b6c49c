"""Where the balance rule gives way, and which strips of rows break another one.

Balance is the weakest rule: where every first rip that keeps it breaks another rule that some
first rip keeps, it gives way, and the plan says so.
"""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import Polygon

from layout.rows.ground import Ground
from layout.rows.rows import Row
from layout.rows.slivers import slivers
from layout.rows.strips import wanted_strip
from layout.values.plan import RuleWarning
from layout.values.request import PlanRequest
from layout.values.tolerances import TOUCHING_TOLERANCE, WARNING_TOLERANCE


def balance_holds_sway(request: PlanRequest) -> bool:
    """Whether a floor of this request has first rips that the balance rule wants.

    It has none where widths are mixed, where a ``max_gap`` may move a stopping line, and where
    rows that are down have fixed the first rip.
    """
    fixed = all(edge.max_gap is None for edge in request.zone.edges.values())
    one_width = len(request.product.boards) == 1
    return request.rules.balance and fixed and one_width and not request.laid


def balance_warning(ground: Ground, part: Polygon, rip: float) -> RuleWarning | None:
    """Return the word that a first rip of a part of the region lets the balance rule go.

    None where it keeps the rule, as far as can be measured.
    """
    request = ground.request
    strip = wanted_strip(part, request.product.board.width, ground.least_run, rip, ground.near)
    lost = abs(strip.wanted - strip.width) if strip.plain else strip.wanted - strip.width
    if not balance_holds_sway(request) or lost <= (1 if strip.plain else 2) * ground.near:
        return None
    have, want = f"{strip.width:.4g} {request.unit}", f"{strip.wanted:.4g} {request.unit}"
    what = "first row" if strip.plain else "narrowest strip"
    return RuleWarning(
        rule="balance",
        where="row 1",
        value=round(strip.width, 4),
        limit=round(strip.wanted, 4),
        text=f"The {what} is {have} wide where an even floor has {want}: "
        "there another rule would be broken.",
    )


def keeps_balance(ground: Ground, part: Polygon, rip: float) -> bool:
    """Whether a first rip of a part of the region is one that the balance rule leaves."""
    strip = wanted_strip(part, ground.request.product.board.width, ground.least_run, rip)
    lost = abs(strip.wanted - strip.width) if strip.plain else strip.wanted - strip.width
    return not balance_holds_sway(ground.request) or lost <= 2 * TOUCHING_TOLERANCE


def broken_strips(ground: Ground, rows: Sequence[Row], *, last: bool = True) -> int:
    """Return how many strips break a rule by where row lines lie, whatever their joints.

    Slivers, and strips of the ``last`` row that have no room for ``wall_error``.
    """
    rules, least = ground.request.rules, ground.least_run
    runs = [run for row in rows for run in row.runs if not run.full]
    thin = sum(len(slivers(run.shape, rules.min_row_width, least)) for run in runs)
    if rules.wall_error <= 0 or not last or not rows:
        return thin
    drifting = 0
    for run in rows[-1].runs:
        _, low, _, high = run.shape.bounds
        narrow = high - low - rules.wall_error < rules.min_row_width - WARNING_TOLERANCE
        drifting += bool(narrow and len(rows) > 1)
        drifting += bool(run.y1 - high < rules.wall_error - WARNING_TOLERANCE)
    return thin + drifting
