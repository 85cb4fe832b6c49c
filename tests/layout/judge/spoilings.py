"""Every way in which tests spoil a plan, and how often the judge refuses it.

``python -m tests.layout.judge.spoilings`` prints the count, way by way over the eight plans:
refused by a rule that names what is wrong, refused by others alone, passed.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence

from layout.judge.check import check_plan
from tests.layout.judge.cutting.spoiled_cuts import CUTS
from tests.layout.judge.cutting.spoiled_offcuts import OFFCUTS
from tests.layout.judge.eight_plans import EIGHT, eight_plan
from tests.layout.judge.spoiled_claims import CLAIMS
from tests.layout.judge.spoiled_pieces import PIECES
from tests.layout.judge.spoiling import Spoiling

SPOILINGS = (*PIECES, *CUTS, *OFFCUTS, *CLAIMS)


def verdicts(spoiling: Spoiling) -> Iterator[tuple[str, set[str]]]:
    """Yield the name of every plan that can be spoiled so, and the rules that refuse it then."""
    for name in EIGHT:
        request, plan = eight_plan(name)
        spoiled = spoiling.make(request, plan)
        if spoiled is not None:
            yield name, {fault.rule for fault in check_plan(request, spoiled)}


def main() -> None:
    """Print the count of every way, and of all."""
    ways, of_all = 0, [0, 0, 0]
    say = sys.stdout.write
    say(f"{'way':<52}named  other  passed\n")
    for spoiling in SPOILINGS:
        counts = [0, 0, 0]
        for _, rules in verdicts(spoiling):
            counts[0 if rules & spoiling.rules else 1 if rules else 2] += 1
        ways += any(counts)
        of_all = [a + b for a, b in zip(of_all, counts, strict=True)]
        say(_line(spoiling.name, counts))
    say(_line(f"{ways} ways", of_all))


def _line(name: str, counts: Sequence[int]) -> str:
    """Return one line of the count."""
    return f"{name:<52}{counts[0]:5}{counts[1]:7}{counts[2]:8}\n"


if __name__ == "__main__":
    main()
