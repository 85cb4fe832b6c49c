"""The sticks of base and shoe: from the cut list where runs are known, else by length and a part.

A run is known where its wall was measured; then its sticks are those that the cut list buys, each
stock length a line of its own. Rooms told by length alone get the customary allowance.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from decimal import Decimal

from jobs.domain.checks import ONE, ZERO
from jobs.domain.lengths import MM_PER_IN
from jobs.domain.quantities import PLANNED, Quantity, quantity
from jobs.domain.scope.inputs import JobTake, RoomTake, TrimTake
from jobs.domain.scope.rules import TakeoffRules, in_ft, in_percent, up
from jobs.domain.trim.stock import Cuts, TrimLength, cut_trim, sticks_words

_STOCK = {"base": "base_stock", "shoe": "shoe_stock"}
Group = tuple[str, str]


def trim_stock(job: JobTake, rules: TakeoffRules) -> list[Quantity]:
    """Return the sticks of base and shoe by material and length, and their caulk."""
    runs: dict[Group, list[TrimLength]] = defaultdict(list)
    lengths: dict[Group, Decimal] = defaultdict(Decimal)
    for room in job.rooms:
        for kind in ("base", "shoe"):
            for take in new_trim(room, kind):
                cut = replace(take.cut, name=f"{room.name}, {take.cut.name}")
                runs[kind, take.material or material_of(room)].append(cut)
            if not any(take.kind == kind for take in room.trim):
                lengths[kind, material_of(room)] += _length_alone(room, kind)
    sticks = [
        stick for group, cuts in runs.items() for stick in _cut_sticks(group, tuple(cuts), job)
    ]
    sticks += [_sticks(group, run, rules) for group, run in lengths.items() if run]
    new = sum((cut.length_in for cuts in runs.values() for cut in cuts), ZERO)
    new += sum(lengths.values(), ZERO)
    tubes = up(new / rules.bead_per_tube_in)
    caulked = f"{in_ft(new)} ft of new base and shoe, {in_ft(rules.bead_per_tube_in)} ft to a tube"
    return [*sticks, quantity("caulk", tubes, caulked)]


def material_of(room: RoomTake) -> str:
    """Return what new trim of a room is made of: no wood where it gets wet."""
    return "wood" if room.kind == "dry" else "moisture-proof"


def new_trim(room: RoomTake, kind: str) -> list[TrimTake]:
    """Return the runs of a room that are bought new."""
    of_room = room.base_treatment if kind == "base" else room.shoe_treatment
    return [
        take for take in room.trim if take.kind == kind and (take.action or of_room) == "replace"
    ]


def _length_alone(room: RoomTake, kind: str) -> Decimal:
    """Return the length of new trim of a room whose runs are not known."""
    if kind == "base":
        return room.base_run_in if room.base_treatment == "replace" else ZERO
    run = room.base_run_in if room.shoe_run_in is None else room.shoe_run_in
    return run if room.shoe_treatment == "replace" else ZERO


def _cut_sticks(group: Group, runs: tuple[TrimLength, ...], job: JobTake) -> list[Quantity]:
    kind, material = group
    cuts = cut_trim(kind, runs, job.trim_stock_in)
    basis = _basis(runs, cuts)
    counted = cuts.count()
    return [
        quantity(
            _STOCK[kind],
            count,
            basis,
            source=PLANNED,
            item=f"{material}, {stock_words(length)}",
        )
        for length, count in counted
    ]


def _basis(runs: tuple[TrimLength, ...], cuts: Cuts) -> str:
    """Return how the sticks were got: runs, sticks of each length, what is proven."""
    length = in_ft(sum((run.length_in for run in runs), ZERO))
    sticks = sticks_words([(stock_words(stock), count) for stock, count in cuts.count()])
    proof = "fewer feet can't do it" if cuts.proven else f"{in_ft(cuts.least_in)} ft at the least"
    word = "run" if len(runs) == 1 else "runs"
    return f"cut list: {length} ft in {len(runs)} {word} from {sticks}; {proof}"


def stock_words(length_in: Decimal) -> str:
    """Return a stock length as it is asked for: `12 ft`, or `2.4 m` where it is a metric one."""
    millimeters = length_in * MM_PER_IN
    if abs(millimeters - round(millimeters / 50) * 50) < Decimal("0.1"):
        return f"{(millimeters / 1000).quantize(Decimal('0.01')).normalize():f} m"
    return f"{(length_in / 12).quantize(Decimal('0.01')).normalize():f} ft"


def _sticks(group: Group, run: Decimal, rules: TakeoffRules) -> Quantity:
    kind, material = group
    stick = rules.base_stick_in if kind == "base" else rules.shoe_stick_in
    amount = up(run * (ONE + rules.trim_allowance) / stick)
    allowed = f" and {in_percent(rules.trim_allowance)} for cuts" if rules.trim_allowance else ""
    basis = f"{in_ft(run)} ft{allowed}, {in_ft(stick)} ft sticks, rounded up"
    return quantity(_STOCK[kind], amount, basis, item=material)
