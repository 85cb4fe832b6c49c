"""Rules of joints that can't all be kept: which give way, and by how little.

    row 3   |--------------|--29.5--|      no joint stands 29 in from either wall of a 60 in hall
    row 2   |--22--|----------------|      and 16 in from its neighbor's: end pieces of 21.75 in
    row 1   |--------------|--22--|        are asked for instead, and the joints stay apart

What a floor needs to lock is never given up for anything else. Then joints stay apart before end
pieces stay long: end pieces give way first, by the least that mends the floor, and offsets only
where end pieces alone can't. Runs that keep the rules keep them; a run in trouble and those that
touch it are eased, all runs only where that mends nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from random import Random

from layout.planner.ranking import LOCKING_END, LOCKING_OFFSET
from layout.planner.trials import Trial, with_sites
from layout.solver import Stop

_SWEEPS = 4  # more sweeps for what still breaks a rule, before it counts as broken


def eased(trial: Trial, rng: Random, stop: Stop) -> Trial | None:
    """Return the trial with rules of joints eased least; None where that mends nothing."""
    best, every = trial, range(len(trial.sites))
    for runs in (_in_trouble(trial), every):
        mended = _Easing(trial=trial, runs=frozenset(runs), rng=rng, stop=stop).least()
        if mended is not None and mended.joints_broken < best.joints_broken:
            best = mended
        if not best.joints_broken or stop():
            break
    return None if best is trial else best


def _in_trouble(trial: Trial) -> Collection[int]:
    """Return the runs whose joints break a rule, and those that touch them."""
    search = trial.search
    if not search.fixed:
        search.settle()
    broken = {run for run in range(len(trial.sites)) if search.faults_of(run)}
    beside = {
        run
        for contact in trial.floor.contacts
        for run in (contact.low, contact.high)
        if broken & {contact.low, contact.high}
    }
    return broken | beside


@dataclass(frozen=True, eq=False, kw_only=True)
class _Easing:
    """The runs of a trial that may be eased, and when the work ends."""

    trial: Trial
    runs: frozenset[int]
    rng: Random
    stop: Stop

    def least(self) -> Trial | None:
        """Return the trial eased least of those that mend most, None where none mends any."""
        terms, unit = self.trial.search.terms, self.trial.ground.request.unit
        end = min(terms.least_end, LOCKING_END[unit])
        offset = min(terms.least_offset, LOCKING_OFFSET[unit])
        best = self._at(end, terms.least_offset)
        if best.joints_broken and not self.stop():
            closer = self._at(end, offset)
            if closer.joints_broken < best.joints_broken:
                best = self._nearest(
                    closer, (offset, terms.least_offset), lambda kept: self._at(end, kept)
                )
        if best.joints_broken >= self.trial.joints_broken:
            return None
        near = min(site.eased.least_offset for site in best.sites if site.eased)
        return self._nearest(best, (end, terms.least_end), lambda kept: self._at(kept, near))

    def _nearest(
        self, best: Trial, span: tuple[float, float], make: Callable[[float], Trial]
    ) -> Trial:
        """Return the trial that keeps most between a limit that mends and the rule itself."""
        (low, high), tick, broken = span, self.trial.search.terms.tick, best.joints_broken
        while high - low > tick and not self.stop():
            middle = low + max(1, round((high - low) / tick / 2)) * tick
            if middle >= high:
                break
            tried = make(middle)
            if tried.joints_broken <= broken:
                low, best = middle, tried
            else:
                high = middle
        return best

    def _at(self, end: float, offset: float) -> Trial:
        """Return the trial with the runs eased to a shortest end piece and a least offset."""
        terms = replace(self.trial.search.terms, least_end=end, least_offset=offset)
        sites = [
            replace(site, eased=terms) if run in self.runs else site
            for run, site in enumerate(self.trial.sites)
        ]
        tried = with_sites(self.trial, sites, self.rng)
        if tried.joints_broken:
            tried.search.improve(_SWEEPS, self.stop)
        return tried
