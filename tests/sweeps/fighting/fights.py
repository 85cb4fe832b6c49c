"""Ten rooms whose rules can't all be kept, and more drawn from a seed; what is made of them.

+----+    a hall of 60 in whose end pieces are to be 29 in or longer and whose joints are to stand
|    |    16 in apart: every joint would stand within an inch and a half of the middle
+----+
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random
from typing import Any

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.material import rules_to_json
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request, request_to_json
from tests import rooms

Json = dict[str, Any]
EFFORT = 30  # iterations
LOCKING = {"min_joint_offset": 2.0, "min_end_piece": 3.0}  # inches
_GIVEN_UP = ("min_end_piece", "min_joint_offset", "min_row_width", "wall_error", "balance")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fought:
    """A room with fighting rules: its plan, and the plan once what was told is given up."""

    name: str
    plan: Plan
    relaxed: Plan | None
    faults: tuple[str, ...]

    @property
    def worst(self) -> dict[str, float]:
        """The worst figure of every rule that is broken."""
        worst: dict[str, float] = {}
        for warning in self.plan.warnings:
            worst[warning.rule] = min(warning.value, worst.get(warning.rule, warning.value))
        return worst

    @property
    def unlocked(self) -> list[str]:
        """The rules that are broken by more than a floor can have and lock."""
        return [rule for rule, least in LOCKING.items() if self.worst.get(rule, least) < least]

    @property
    def said_twice(self) -> list[str]:
        """What is warned of more than once at one place."""
        counts = Counter((one.rule, one.where, one.limit) for one in self.plan.warnings)
        return [f"{rule} in {where}" for (rule, where, _), count in counts.items() if count > 1]

    @property
    def stubborn(self) -> list[str]:
        """What the plan still warns of once all that was told is given up.

        A joint that no length gives way for, in a doorway or at a post, is left out.
        """
        if self.relaxed is None:
            return []
        return [f"{w.rule} in {w.where}" for w in self.relaxed.warnings if w.rule in _GIVEN_UP]


def fight(name: str, form: Json) -> Fought:
    """Return what is made of a room."""
    request = read_request(form)
    plan = plan_floor(request)
    faults = tuple(f"{fault.rule} at {fault.where}" for fault in check_plan(request, plan))
    relaxed = plan_floor(given_up(request, plan)) if plan.relax else None
    return Fought(name=name, plan=plan, relaxed=relaxed, faults=faults)


def given_up(request: PlanRequest, plan: Plan) -> PlanRequest:
    """Return a request with all given up that a plan tells of."""
    form = request_to_json(request)
    rules: Json = rules_to_json(request.rules)
    for ease in plan.relax:
        rules[ease.rule] = bool(ease.eased) if ease.rule == "balance" else ease.eased
    return read_request({**form, "rules": rules})


def _room(width: float, across: float, *, zone: Json | None = None, **rules: Any) -> Json:
    """Return the request of a rectangle."""
    outline: list[list[float]] = [[0, 0], [width, 0], [width, across], [0, across]]
    return rooms.request(outline, rules=rules, zone=zone or {}, effort_iterations=EFFORT)


def _ell(**rules: Any) -> Json:
    """Return the request of a room with a corner 52.5 in wide; its wide rows keep such rules."""
    outline: list[list[float]] = [[0, 0], [236.5, 0], [236.5, 60], [53, 60], [53, 120], [0, 120]]
    return rooms.request(outline, rules=rules, effort_iterations=EFFORT)


def ten_rooms() -> dict[str, Json]:
    """Return the ten rooms by name."""
    # No row line passes through both posts.
    rings: list[Any] = [[[4, y], [8, y], [8, y + 2], [4, y + 2]] for y in (20, 30.5)]
    posts: Json = {"holes": [{"outline": ring, "kind": "post"} for ring in rings]}
    return {
        "a hall with long ends": _room(60, 60, min_end_piece=29, min_joint_offset=16),
        "half a board and nearly": _room(60, 40, min_end_piece=24, min_joint_offset=20),
        "all at half a board": _room(120, 60, min_end_piece=24, min_joint_offset=24),
        "and walls that stand off": _room(
            100, 60, min_end_piece=24, min_joint_offset=24, wall_error=1
        ),
        "a strip narrower than a row": _room(100, 2.4),
        "a wall that stands off further": _room(161, 6, wall_error=2),
        "a narrow corner": _ell(min_end_piece=20, min_joint_offset=20),
        "a fixed third": _room(100, 60, stagger="third", min_end_piece=16),
        "a fixed half": _room(100, 60, stagger="half", min_end_piece=16),
        "posts at a wall": _room(150, 60, zone=posts, min_end_piece=12),
    }


def random_rooms(count: int, seed: int) -> Iterator[tuple[str, Json]]:
    """Yield so many rooms drawn by a seed, their rules as hard as the form takes them."""
    chance = Random(seed)
    for number in range(count):
        rules: Json = {
            "min_end_piece": chance.choice([12, 16, 20, 24, 29]),
            "min_joint_offset": chance.choice([12, 16, 20, 24]),
            "wall_error": chance.choice([0, 0, 0.5, 1]),
            "min_row_width": chance.choice([2, 3]),
        }
        width, across = (round(chance.uniform(*span) * 4) / 4 for span in ((52, 190), (20, 90)))
        form = _room(width, across, **rules)
        if chance.random() < 0.4:
            u, v = width * chance.uniform(0.3, 0.7), across * chance.uniform(0.3, 0.7)
            ring: list[list[float]] = [
                [0, 0],
                [width, 0],
                [width, v],
                [u, v],
                [u, across],
                [0, across],
            ]
            form["zone"]["outline"] = ring
        yield f"room {number}", form
