"""Heat baths over chains of starters, aimed at a number of planks.

A row begun with what another leaves is shorter at its start by the remainder of that row and the
kerf: from the longest starter on the starters of such rows make a *chain*,

    s, s - (r + k), s - 2 (r + k), ...

and only a whole chain is begun with one plank more than it would take by area. So the places of
these chains alone are looked at, all runs at once. The planks of a floor are its pieces less the
least count over thresholds (``layout.joints.tally``): aimed at so many planks, a threshold whose
count falls short costs the square of what it lacks. A run drawn takes each of its choices with the
chance that this energy gives it while all others stay (S. Geman and D. Geman, IEEE Transactions on
Pattern Analysis 6, 1984); the temperature falls from sweep to sweep.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from random import Random

import numpy as np

from layout.joints.choices import (
    AtHand,
    Bools,
    Floats,
    Pick,
    Site,
    Terms,
    choices_of,
    clashes,
    terms_between,
)
from layout.joints.tally import Places, tally_of
from layout.rows.rows import Floor
from layout.values.tolerances import PLACE_TOLERANCE

_BATHS = 60  # of which one takes some hundredths of a second
_LINKS = 64  # places of chains that a run is offered, about
_WARMEST, _COLDEST = 10.0, 0.2  # temperatures that a bath falls from and to
_SWEEPS = 24
_LAST = (0.05, 0.05)  # of the sweeps after a bath
_CLASH_ENERGY = 60.0  # what two joints too close cost


def makes_chains(sites: Sequence[Site]) -> bool:
    """Whether all rows are of one length and square at both ends, as their rules were asked for.

    Of rows of several lengths chains are too many to be looked at.
    """
    plain = all(site.run.rectangular and site.eased is None and not site.tied for site in sites)
    return plain and len({round(site.run.length, 3) for site in sites}) == 1


def fewer_planks(
    bath: ChainBath, target: int, planks: int, stop: Callable[[], bool]
) -> list[Pick] | None:
    """Return picks of fewer than so many planks, ``target`` if that is met; None where none are."""
    best: list[Pick] | None = None
    for _ in range(_BATHS):
        if planks <= target or stop():
            break
        drawn = bath.bathe(target, stop)
        if drawn is not None and drawn[0] < planks:
            planks, best = drawn
    return best


class ChainBath:
    """The runs of a floor of one board width, each with places of chains to choose from."""

    def __init__(self, floor: Floor, sites: Sequence[Site], terms: Terms, chance: Random) -> None:
        self._rng = np.random.default_rng(chance.getrandbits(32))
        self._choices = [choices_of(site, terms, chain_phases(site, terms)) for site in sites]
        self._tally = tally_of([c.starter for c in self._choices], AtHand(), terms)
        self._starters = [self._tally.starts(c.starter) for c in self._choices]
        self._rooms = [self._tally.reaches(terms.rooms(c.ender)) for c in self._choices]
        self._chosen = [-1] * len(sites)
        self._beside: list[list[tuple[int, Bools]]] = [[] for _ in sites]
        for contact in floor.contacts:
            low, high = contact.low, contact.high
            kept = terms_between(sites[low], sites[high], terms)
            table = clashes(self._choices[low], self._choices[high], contact, kept)
            self._beside[low].append((high, np.ascontiguousarray(table.T)))
            self._beside[high].append((low, table))
        for run, choices in enumerate(self._choices):
            self._choose(run, int(self._rng.integers(len(choices))))

    def bathe(self, target: int, stop: Callable[[], bool]) -> tuple[int, list[Pick]] | None:
        """Return the planks of one bath and its picks; None where joints clash or it is stopped."""
        order = np.arange(len(self._choices))
        falling = _WARMEST * (_COLDEST / _WARMEST) ** np.linspace(0.0, 1.0, _SWEEPS)
        for temperature in (*falling.tolist(), *_LAST):
            if stop():
                return None
            self._rng.shuffle(order)
            for run in order.tolist():
                self._choose(run, -1)
                self._choose(run, self._drawn(run, target, temperature))
        if self._clash():
            return None
        planks = round(self._pieces() - self._tally.reuses())
        return planks, [c.pick(i) for c, i in zip(self._choices, self._chosen, strict=True)]

    def _clash(self) -> bool:
        """Whether joints of some runs that touch are too close."""
        return any(
            table[self._chosen[other], self._chosen[run]]
            for run, beside in enumerate(self._beside)
            for other, table in beside
        )

    def _pieces(self) -> float:
        """Return the pieces of all runs that have chosen."""
        pairs = zip(self._choices, self._chosen, strict=True)
        return sum(float(c.pieces[i]) for c, i in pairs if i >= 0)

    def _drawn(self, run: int, target: int, temperature: float) -> int:
        """Return a choice of a run drawn beside what all others have chosen."""
        over = self._pieces() + self._choices[run].pieces - target
        energy = energies(self._tally.counts, over, self._starters[run], self._rooms[run])
        for other, table in self._beside[run]:
            energy = energy + _CLASH_ENERGY * table[self._chosen[other]]
        # Adding noise of this kind and taking the most draws from the exact chances (the Gumbel
        # trick, from memory).
        noise = self._rng.gumbel(size=len(energy))
        return int(np.argmax(noise - energy / temperature))

    def _choose(self, run: int, choice: int) -> None:
        """Give a run a choice, or none (-1)."""
        before, self._chosen[run] = self._chosen[run], choice
        for at, times in ((before, -1), (choice, 1)):
            if at >= 0:
                self._tally.add_starter(int(self._starters[run][at]), times)
                self._tally.add_room(int(self._rooms[run][at]), times)


def chain_phases(site: Site, terms: Terms) -> Floats:
    """Return the phases of joints on chains from the shortest and the longest ends of a run."""
    run, length = site.run, terms.length
    step = (run.length + terms.kerf + terms.wall_error) % length
    far = run.length - terms.least_end - terms.wall_error
    places: dict[int, float] = {}
    queue = deque([far % length, terms.least_end % length, 0.0, run.length % length])
    while queue and len(places) < _LINKS:
        place = queue.popleft()
        if (key := round(place / PLACE_TOLERANCE)) not in places:
            places[key] = place
            queue += ((place - step) % length, (place + step) % length)
    phases: Floats = (run.x0 + np.array(list(places.values()))) % length
    return phases


def energies(counts: Floats, over: Floats, starters: Places, rooms: Places) -> Floats:
    """Return the energy of every choice of a run beside what all others count.

    ``over`` is how many planks each choice would leave to be saved: pieces in all less the planks
    aimed at. A choice counts once from its place among ``starters`` on and once below its place
    among ``rooms``; sums from the left end make it cost no more than a look-up.
    """
    energy = np.empty(len(starters))
    inner, outer = np.minimum(starters, rooms), np.maximum(starters, rooms)
    for level in np.unique(over):
        lacks = [np.maximum(0.0, level - counts - more) ** 2 for more in (0.0, 1.0, 2.0)]
        none, once, twice = (np.concatenate([[0.0], np.cumsum(lack)]) for lack in lacks)
        which = over == level
        low, high = inner[which], outer[which]
        between = np.where(
            rooms[which] > starters[which], twice[high] - twice[low], none[high] - none[low]
        )
        energy[which] = once[low] + between + once[-1] - once[high]
    return energy
