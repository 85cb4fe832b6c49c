"""The careful hand method, to measure the planner against.

First row balanced. Run after run from the start wall: begun with the longest leftover that keeps
the rules, trimmed where that is what keeps them, else with a new plank, as long as the rules
allow. Whole boards follow. The last piece comes from the shortest leftover that holds it and has
the end it needs, else from a new plank; what remains of every plank goes back to the rack. A run of
one piece takes the shortest leftover that holds it. Strips and notched pieces take the place of
whole pieces of their length, as they do by hand. Ends and joints are measured on the run's
outermost ends.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from layout.planner.first_rows import rip_choices
from layout.rows.contacts import Contact
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.rows.rows import Floor, floor_of
from layout.rows.runs import Run
from layout.values.material import LayingRules
from layout.values.outline import polygons_of
from layout.values.request import PlanRequest
from layout.values.tolerances import TOUCHING_TOLERANCE

STEPS = 64  # lengths tried when a piece is trimmed until it keeps the rules


@dataclass(slots=True)
class _HandRack:
    """Leftovers that wait: those that keep a right end, those that keep a left end."""

    right: list[float] = field(default_factory=list)
    left: list[float] = field(default_factory=list)
    planks: int = 0

    def single(self, length: float) -> bool:
        """Whether a piece that needs no factory end was taken from the shortest leftover."""
        fits = [
            (n, rack)
            for rack in (self.right, self.left)
            for n in rack
            if n >= length - TOUCHING_TOLERANCE
        ]
        if fits:
            n, rack = min(fits, key=lambda pair: pair[0])
            rack.remove(n)
        return bool(fits)

    def last(self, length: float) -> bool:
        """Whether a last piece was taken from the shortest leftover with a left end."""
        fits = [n for n in self.left if n >= length - TOUCHING_TOLERANCE]
        if fits:
            self.left.remove(min(fits))
        return bool(fits)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hand:
    """What the installer keeps in mind: board, rules, floor, joints laid so far by run."""

    length: float
    rules: LayingRules
    floor: Floor
    joints: dict[int, list[float]]
    below: dict[int, list[Contact]]

    def good(self, index: int, run: Run, starter: float) -> bool:
        """Whether a run begun with ``starter`` keeps ends, offsets and posts."""
        joints = self.joints_of(run, starter)
        last = run.x1 - joints[-1]
        if (
            min(starter, last) < self.rules.min_end_piece - TOUCHING_TOLERANCE
            or last > self.length + TOUCHING_TOLERANCE
        ):
            return False
        if not all(any(u <= joint <= v for joint in joints) for u, v in run.posts):
            return False
        return all(
            abs(mine - theirs) >= self.rules.min_joint_offset - TOUCHING_TOLERANCE
            for contact in self.below.get(index, [])
            for theirs in self.joints[contact.low]
            for mine in joints
        )

    def joints_of(self, run: Run, starter: float) -> list[float]:
        """Return where the joints of a run fall."""
        at, joints = run.x0 + starter, []
        while at < run.x1 - TOUCHING_TOLERANCE:
            joints.append(at)
            at += self.length
        return joints

    def trimmed(self, index: int, run: Run, longest: float) -> float | None:
        """Return the longest first piece up to ``longest`` that keeps the rules."""
        step = self.length / STEPS
        tries = [longest, *(longest - k * step for k in range(1, STEPS))]
        exact = [run.length - self.rules.min_end_piece - k * self.length for k in range(99)]
        exact += [(x - run.x0) % self.length for post in run.posts for x in post]
        tries += [n for n in exact if self.rules.min_end_piece <= n <= longest]
        for starter in sorted(tries, reverse=True):
            if starter >= TOUCHING_TOLERANCE and self.good(index, run, starter):
                return starter
        return None


def planks_by_hand(request: PlanRequest) -> int:
    """Return the planks the hand method takes in the request's direction."""
    frame = Frame(direction_deg=request.rules.direction_deg or 0.0, lay=request.lay)
    ground, rack = Ground.at_gaps(request, frame), _HandRack()
    for part in polygons_of(ground.region):
        floor = floor_of(part, request.product.board, rip_choices(ground, part)[0])
        _lay(request, floor, rack)
    return rack.planks


def _lay(request: PlanRequest, floor: Floor, rack: _HandRack) -> None:
    """Lay one floor, run by run."""
    below: dict[int, list[Contact]] = {}
    for contact in floor.contacts:
        below.setdefault(contact.high, []).append(contact)
    hand = _Hand(
        length=request.product.board.length,
        rules=request.rules,
        floor=floor,
        joints={},
        below=below,
    )
    for index, run in enumerate(floor.runs):
        hand.joints[index] = _lay_run(hand, index, run, rack)


def _lay_run(hand: _Hand, index: int, run: Run, rack: _HandRack) -> list[float]:
    """Lay one run; return its joints."""
    length, kerf = hand.length, hand.rules.saw_kerf
    if run.length <= length + TOUCHING_TOLERANCE:
        if not rack.single(run.length):
            rack.planks += 1
            _keep(rack.right, length - run.length - kerf)
        return []
    starter = _begun(hand, index, run, rack)
    joints = hand.joints_of(run, starter)
    rack.planks += len(joints) - 1
    last = run.x1 - joints[-1]
    if not rack.last(last):
        rack.planks += 1
        _keep(rack.right, length - last - kerf)
    return joints


def _begun(hand: _Hand, index: int, run: Run, rack: _HandRack) -> float:
    """Take the first piece of a run; return its length."""
    falling = sorted(rack.right, reverse=True)
    for leftover in falling:
        if hand.good(index, run, leftover):
            rack.right.remove(leftover)
            return leftover
    for leftover in falling:
        starter = hand.trimmed(index, run, leftover)
        if starter is not None:
            rack.right.remove(leftover)
            return starter
    starter = hand.trimmed(index, run, hand.length) or min(hand.length, run.length / 2)
    rack.planks += 1
    _keep(rack.left, hand.length - starter - hand.rules.saw_kerf)
    return starter


def _keep(rack: list[float], leftover: float) -> None:
    """Put a leftover on the rack."""
    if leftover > TOUCHING_TOLERANCE:
        rack.append(leftover)


def planks_by_ten_percent(area: float, request: PlanRequest) -> int:
    """Return the planks in the cartons that cover ``area`` and a tenth more."""
    product = request.product
    carton = sum(board.length * board.width * board.per_carton for board in product.boards)
    cartons = _up(1.1 * area / carton)
    return cartons * product.per_carton


def _up(value: float) -> int:
    return -int(-value // 1)
