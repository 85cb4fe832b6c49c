"""Heat bath over the starters of runs, aimed at a number of planks.

The planks of a floor are its pieces less the least count over thresholds (``layout.joints.tally``).
Aimed at so many planks, every threshold whose count falls short costs the square of what lacks. A
run drawn takes each of its choices with the chance that this energy gives it while all others stay
(S. Geman and D. Geman, IEEE Transactions on Pattern Analysis 6, 1984); the temperature falls from
sweep to sweep. Sums from either end make a choice cost no more than a look-up.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from layout.joints.choices import Floats, Site, Terms
from layout.joints.tally import Places

RANGES = ((40.0, 0.4), (400.0, 2.0))  # temperatures that baths fall from and to, in turns
BATH_SWEEPS = 12
CLASH_ENERGY = 60.0  # what two joints too close cost
_EVEN = 320  # evenly spread places for joints
_LINKS = 32  # links of a chain


def temperatures(bath: int) -> Floats:
    """Return the temperatures of the sweeps of a bath, falling."""
    warmest, coldest = RANGES[bath % len(RANGES)]
    steps = np.linspace(0.0, 1.0, BATH_SWEEPS)
    falling: Floats = warmest * (coldest / warmest) ** steps
    return falling


def energies(counts: Floats, over: Floats, starters: Places, rooms: Places) -> Floats:
    """Return the energy of every choice of a run beside what all others count.

    ``over`` is how many planks each choice would leave to be saved: pieces in all less the planks
    aimed at. A choice counts once from its place among ``starters`` on and once below its place
    among ``rooms``.
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


def drawn(energy: Floats, temperature: float, rng: np.random.Generator) -> int:
    """Return a choice drawn by its energy: the lower the likelier, the colder the more so."""
    # Adding noise of this kind and taking the least draws from the exact chances (the Gumbel
    # trick, from memory).
    noise = rng.gumbel(size=len(energy))
    return int(np.argmax(noise - energy / temperature))


def bath_phases(site: Site, terms: Terms) -> Floats:
    """Return places for joints all over a board, and chains from the ends of a run's range.

    A row begun with the leftover of another one is shorter at its start by the remainder and the
    kerf: its starters make a chain.
    """
    run, length = site.run, terms.length
    even = length * np.arange(_EVEN) / _EVEN
    step = run.length % length + terms.kerf + terms.wall_error
    links = step * np.arange(_LINKS)
    ends = (terms.least_end, length, run.length - terms.least_end - terms.wall_error)
    chains = [run.x0 + end + way * links for end in ends for way in (-1, 1)]
    near = max(terms.kerf, terms.tick / 2) * np.arange(_LINKS)
    range_ends = [run.x0 + ends[0] + near, run.x0 + length - near, run.x0 + ends[2] - near]
    return np.concatenate([even, *chains, *range_ends]) % length


def planks_aimed_at(group: int, taken: Sequence[int], target: int) -> int:
    """Return the planks that one group of runs may take for all to come to ``target``."""
    return target - (sum(taken) - taken[group])
