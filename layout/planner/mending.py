"""Taking H-joints and staircases away, and cuts, where planks may be spent on it.

Minimum conflicts (Minton and others, Artificial Intelligence 58, 1992): a row that lies in an
H-joint or a staircase is drawn, one of its runs takes what leaves fewest of them, the cheapest in
planks first; over even ground the search walks on, and now and then uphill.
"""

from __future__ import annotations

from random import Random

from layout.joints.choices import Pick
from layout.planner.polish import Polish

_LOOKED_AT = 24  # picks of a run that are looked at in one step, at most
_LEAST_LOOKED_AT = 6  # on a large floor
_RUNS_LOOKED_AT = 2400  # picks times runs of a floor, about
_TRADES = 6  # trades of picks that are looked at beside them
_FEWER_CUTS = 6  # picks of fewer cuts that are looked at for one run
_UPHILL = 0.1  # how often a step that leaves more is taken
_STEPS_TO_REFRESH = 60  # steps after which new choices are drawn


def mend(polish: Polish, rng: Random, steps: int) -> None:
    """Change picks until no H-joint and no staircase is left, or for so many steps; keep the best.

    Of equal looks the picks that take fewest planks are kept.
    """
    best, kept = _worth(polish), list(polish.picks)
    for step in range(steps):
        if not polish.looks.total:
            break
        if step % _STEPS_TO_REFRESH == 0:
            polish.refresh()
        _step(polish, rng)
        if (worth := _worth(polish)) < best:
            best, kept = worth, list(polish.picks)
    polish.take(kept)


def _worth(polish: Polish) -> tuple[int, int]:
    """Return what picks are compared by: looks, then planks."""
    return polish.looks.total, polish.planks()


def _step(polish: Polish, rng: Random) -> None:
    """Let one run of a row that spoils the looks take what mends most of it."""
    run = rng.choice(polish.runs_of(rng.choice(polish.looks.faulty_rows())))
    looks, faults = polish.looks.total, polish.faults_of([run])
    changes = [(more, {run: pick}) for more, pick in _some(polish, rng, run)]
    changes += [(0.0, trade) for trade in _trades(polish, rng, run)]
    ranked = [
        (polish.looks_with(change), more, rng.random(), place)
        for place, (more, change) in enumerate(changes)
    ]
    for left, _, _, place in sorted(ranked):
        if left > looks and rng.random() > _UPHILL:
            return
        change = changes[place][1]
        before = {changed: polish.picks[changed] for changed in change}
        known = faults if len(change) == 1 else polish.faults_of(change)
        polish.make(change)
        if polish.faults_of(change) <= known and not polish.beyond_allowance():
            return
        polish.make(before)


def _some(polish: Polish, rng: Random, run: int) -> list[tuple[float, Pick]]:
    """Return some of what a run may take but what it has, and how many planks more each costs."""
    options = [option for option in polish.options(run) if option[1] != polish.picks[run]]
    most = max(_LEAST_LOOKED_AT, min(_LOOKED_AT, _RUNS_LOOKED_AT // len(polish.picks)))
    return options if len(options) <= most else rng.sample(options, most)


def _trades(polish: Polish, rng: Random, run: int) -> list[dict[int, Pick]]:
    """Return some trades of picks with runs of the same length."""
    picks = polish.picks
    others = [other for other in polish.alike(run) if picks[other] != picks[run]]
    some = others if len(others) <= _TRADES else rng.sample(others, _TRADES)
    return [{run: picks[other], other: picks[run]} for other in some]


def cut_less(polish: Polish, rng: Random) -> None:
    """Let runs begin or end with whole boards where the looks allow it, cheap ones first."""
    runs = list(range(len(polish.picks)))
    for most in (0.0, 1.0, 2.0):
        rng.shuffle(runs)
        for run in runs:
            ends = polish.cut_ends(polish.picks[run])
            fewer = [
                (polish.cut_ends(pick), more, rng.random(), pick)
                for more, pick in polish.options(run)
                if more <= most and polish.cut_ends(pick) < ends
            ]
            for *_, pick in sorted(fewer)[:_FEWER_CUTS]:
                if polish.looks_with({run: pick}) <= polish.looks.total:
                    polish.make({run: pick})
                    break
    polish.take(polish.picks)
