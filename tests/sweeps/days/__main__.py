"""Lays random jobs onto days and holds them against the rules: `--jobs 200 --seed 12`."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from random import Random

from tests.sweeps.days import made
from tests.sweeps.days.bound import soonest
from tests.sweeps.days.checker import facts_in_words, faults_of
from tests.sweeps.days.held import Laid
from tests.sweeps.days.house import for_the_end
from tests.sweeps.days.laid_days import LaidDays
from tests.sweeps.days.order import Clock, filled


def days_late(laid: Laid) -> int:
    """Return by how many worked days a job ends after the rules and its crew would let it."""
    best, end = max(soonest(laid.facts), filled(laid.facts)), laid.days[-1].date
    clock, late = Clock(laid.facts), 0
    while best < end:
        best += best.resolution
        late += clock.works(best)
    return late


def has_all(laid: Laid) -> bool:
    """Whether something is torn out, leveled and painted, and a holiday falls into it."""
    works = {work for work, _ in laid.facts.hours}
    return {"tear_out", "level", "paint"} <= works and bool(laid.facts.holidays)


def _say(words: str | None) -> None:
    sys.stdout.write(f"{words}\n")


def main() -> int:
    """Run, print what came of it, and return 1 where a rule is broken."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--jobs", type=int, default=200)
    options.add_argument("--seed", type=int, default=12)
    options.add_argument("--job", type=int, help="this one alone")
    given = options.parse_args()
    numbers = range(given.jobs) if given.job is None else [given.job]
    _say(made.__doc__)
    broken, late, whole, days = Counter[str](), Counter[int](), 0, Counter[int]()
    sooner, counted = 0, Counter[str]()
    for number in numbers:
        laid = made.a_job(Random(f"{given.seed}/{number}"))
        whole += has_all(laid)
        days[len(laid.days)] += 1
        late[by := days_late(laid)] += 1
        if by > 1:
            _say(f"job {number} ({facts_in_words(laid.facts)}) ends {by} days late")
        if soonest(laid.facts) > laid.days[-1].date:
            _say(f"job {number} ({facts_in_words(laid.facts)}) ends before its bound")
            sooner += 1
        for fault in faults_of(laid):
            broken[fault.split(":")[0]] += 1
            _say(f"job {number} ({facts_in_words(laid.facts)}): {fault}")
        counted.update({words.split(":")[0] for words in for_the_end(LaidDays(laid))})
    soon = sum(count for by, count in late.items() if by <= 1)
    _say(f"{len(numbers)} jobs, {whole} with tear-out, leveling, paint and a holiday")
    _say(f"days a job {dict(sorted(days.items()))}; days late {dict(sorted(late.items()))}")
    _say(f"jobs with what a lead does only to end sooner: {dict(counted)}")
    _say(f"faults {dict(broken)}; {soon} of {len(numbers)} end a day late at most")
    _say(f"{sooner} of them end sooner than any could: the bound is wrong there")
    return 1 if broken or sooner or soon < len(numbers) * 0.95 else 0


if __name__ == "__main__":
    sys.exit(main())
