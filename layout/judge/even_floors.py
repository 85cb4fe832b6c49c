"""Finding a floor that keeps balance and every other rule, as far as that is plain to see.

Rows are laid out again at a balanced first rip. If no strip of them is a sliver, and joints can be
found run by run that keep ends, offsets and doorways, such a floor stands: every piece may then
come from a plank of its own. Where none is found nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from shapely.affinity import scale
from shapely.geometry import Polygon, box

from layout.judge.balance import balanced_lines
from layout.judge.strips import stretches, thin_between
from layout.judge.view import View
from layout.values.material import Stagger
from layout.values.outline import edges_of, polygons_of, region_to_frame
from layout.values.tolerances import COUNT_TOLERANCE, TOUCHING_TOLERANCE

_MOST_STEPS = 20_000  # runs tried at one first rip
_MOST_LINES = 12  # first rips tried

Joints = tuple[float, ...]


@dataclass(frozen=True, eq=False, kw_only=True)
class _EvenRun:
    """A run of a row laid out again: its row, its extent, the joints that it may have."""

    row: int
    left: float
    right: float
    choices: tuple[Joints, ...]


def clean_floor_stands(view: View) -> bool:
    """Whether a balanced floor is found that breaks no rule.

    Not looked for where the region falls apart, where rows that are down or several widths fix the
    row lines, where walls may be met loosely, and where the steps of joints are fixed.
    """
    parts, request = polygons_of(view.region), view.request
    one_width = len(request.product.boards) == 1
    loose = any(edge.max_gap is not None for edge in request.zone.edges.values())
    free = one_width and not request.laid and not loose
    if not free or len(parts) != 1 or request.rules.stagger is not Stagger.FREE:
        return False
    lines = balanced_lines(view, parts[0])[:_MOST_LINES]
    return any(_stands(view, parts[0], line) for line in lines)


def _stands(view: View, part: Polygon, line: float) -> bool:
    """Whether rows with a line at some height keep every rule with some joints."""
    runs = _runs(view, part, line)
    return runs is not None and _joined(runs, view.request.rules.min_joint_offset)


def _runs(view: View, part: Polygon, line: float) -> list[_EvenRun] | None:
    """Return the runs of rows with a line at some height; None where one breaks a rule."""
    width = view.request.product.board.width
    left, low, right, high = part.bounds
    first = line - ceil((line - low) / width - COUNT_TOLERANCE) * width
    count = ceil((high - first) / width - COUNT_TOLERANCE)
    last = count - 1 if view.from_low else 0
    runs = []
    for row in range(count):
        y0, y1 = first + row * width, first + (row + 1) * width
        for shape in polygons_of(part.intersection(box(left - 1, y0, right + 1, y1))):
            if row == last and _drifts(view, shape, (y0, y1), alone=count == 1):
                return None
            choices = () if _breaks(view, shape) else tuple(_choices(view, shape, y0, y1))
            if not choices:
                return None
            runs.append(
                _EvenRun(row=row, left=shape.bounds[0], right=shape.bounds[2], choices=choices)
            )
    return runs


def _drifts(view: View, shape: Polygon, sides: tuple[float, float], *, alone: bool) -> bool:
    """Whether a run of the last row has no room for a wall that stands off.

    A row ``alone`` lies between two walls, neither of which makes it a strip.
    """
    rules = view.request.rules
    _, low, _, high = shape.bounds
    spare = sides[1] - high if view.from_low else low - sides[0]
    narrow = not alone and high - low - rules.wall_error < rules.min_row_width
    return rules.wall_error > 0 and (narrow or spare < rules.wall_error)


def _breaks(view: View, shape: Polygon) -> bool:
    """Whether a run has a sliver, or encloses anything."""
    if shape.interiors:
        return True
    least = view.request.rules.min_row_width
    edges = [(*a, *b) for a, b in edges_of(list(shape.exterior.coords)[:-1])]
    return any(True for _ in stretches(list(thin_between(edges, least)), least, view))


def _choices(view: View, shape: Polygon, y0: float, y1: float) -> Iterator[Joints]:
    """Yield the joints that a run may have, from where rows begin."""
    rules, length = view.request.rules, view.request.product.board.length
    flip = 1.0 if view.from_left else -1.0
    x0, _, x1, _ = scale(shape, flip, 1.0, origin=(0, 0)).bounds
    across, off = x1 - x0, rules.wall_error
    if across + off <= length:
        yield ()
    doors = [
        door.bounds
        for ring in view.request.zone.no_joints
        for door in polygons_of(
            region_to_frame(Polygon(ring), view.plan.direction_deg).intersection(
                box(*shape.bounds[:1], y0, shape.bounds[2], y1)
            )
        )
    ]
    step = max(rules.min_joint_offset / 4, length / 64)
    for i in range(floor((length - rules.min_end_piece) / step) + 1):
        starter = length - i * step
        count = ceil((across - starter + off) / length - COUNT_TOLERANCE)
        joints = [starter + k * length for k in range(count)]
        if not joints or not rules.min_end_piece <= across - joints[-1] - off:
            continue
        places = tuple(sorted(flip * (x0 + joint) for joint in joints))
        if not any(door[0] <= x <= door[2] for door in doors for x in places):
            yield places


def _joined(runs: Sequence[_EvenRun], least: float) -> bool:
    """Whether every run can have joints that stand apart from those of runs that touch it."""
    beside = [
        [
            j
            for j in range(i)
            if run.row - runs[j].row == 1
            and min(run.right, runs[j].right) > max(run.left, runs[j].left)
        ]
        for i, run in enumerate(runs)
    ]
    taken: list[Joints] = []
    todo = [iter(runs[0].choices)] if runs else []
    for _ in range(_MOST_STEPS):
        if len(taken) == len(runs):
            return True
        i = len(taken)
        joints = next(
            (each for each in todo[-1] if all(_apart(each, taken[j], least) for j in beside[i])),
            None,
        )
        if joints is not None:
            taken.append(joints)
            if len(taken) < len(runs):
                todo.append(iter(runs[len(taken)].choices))
        else:
            todo.pop()
            if not taken:
                return False
            taken.pop()
    return False


def _apart(one: Joints, two: Joints, least: float) -> bool:
    """Whether no joint of a run stands closer than the rule to one of another."""
    return all(abs(a - b) >= least + TOUCHING_TOLERANCE for a in one for b in two)
