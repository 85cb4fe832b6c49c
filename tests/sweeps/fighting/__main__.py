"""Rooms whose rules fight, planned, judged, and planned again with what was told given up.

python -m tests.sweeps.fighting                   the ten rooms and forty drawn from a seed
python -m tests.sweeps.fighting --count 200 --seed 3
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from tests.sweeps.fighting.fights import Fought, fight, random_rooms, ten_rooms


def line_of(fought: Fought) -> str:
    """Return one line: planks, what is broken and by how much, what is wrong."""
    relax = ", ".join(f"{e.rule} {e.limit:g} -> {e.eased:g}" for e in fought.plan.relax)
    wrong = [
        *(f"JUDGED {fault}" for fault in fought.faults[:2]),
        *(f"UNLOCKED {rule}" for rule in fought.unlocked),
        *(f"TWICE {place}" for place in fought.said_twice[:2]),
        *(f"STUBBORN {place}" for place in fought.stubborn[:2]),
    ]
    counted = f"{fought.plan.totals.planks:>4} planks {len(fought.plan.warnings):>3} warnings"
    return f"{fought.name:<32}{counted}  {relax}  {'; '.join(wrong)}"


def main(arguments: Sequence[str]) -> int:
    """Print every room, then how many broke what; return 0 where nothing is wrong."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.fighting")
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args(arguments)
    results: list[Fought] = []
    for name, form in [*ten_rooms().items(), *random_rooms(chosen.count, chosen.seed)]:
        results.append(fight(name, form))
        sys.stdout.write(f"{line_of(results[-1])}\n")
        sys.stdout.flush()
    broken = [one for one in results if one.plan.warnings]
    counts = {
        "refused by the judge": [one for one in results if one.faults],
        "don't lock": [one for one in results if one.unlocked],
        "say a thing twice": [one for one in results if one.said_twice],
        "not clean once relaxed": [one for one in results if one.stubborn],
    }
    sys.stdout.write(f"\n{len(results)} rooms, {len(broken)} of them break a rule\n")
    for text, wrong in counts.items():
        sys.stdout.write(f"{text}: {len(wrong)}\n")
    return 1 if any(counts.values()) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
