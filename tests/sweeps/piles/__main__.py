"""Plan floors from piles as they were counted, and say what came of each.

    python -m tests.sweeps.piles [--counts 20] [--seed 3] [--iterations 200]

The same numbers give the same piles and plans. Exit 1 where a plan is wrong, or has more cartons
bought than rows of these widths ask for.
"""

from __future__ import annotations

import argparse
import sys

from layout.planner.plan_floor import plan_floor
from tests.sweeps.piles.counted import drawn, faults, fewest_cartons, request_of


def main() -> int:
    """Return 0 where every plan is right."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.piles")
    parser.add_argument("--counts", type=int, default=20)
    parser.add_argument("--seed", type=int, default=3)
    parser.add_argument("--iterations", type=int, default=200)
    chosen = parser.parse_args()
    failed = 0
    for seed in range(chosen.seed, chosen.seed + chosen.counts):
        piles = drawn(seed)
        request = request_of(piles, chosen.iterations)
        plan = plan_floor(request)
        wrong, totals = faults(request, plan, piles), plan.totals
        # The certificate, which the judge has rechecked, may prove more than lengths alone.
        fewest = max(fewest_cartons(piles), int(str(plan.proof.get("fewest_cartons", 0))))
        if totals.shortage_cartons > fewest:
            wrong.append(f"{totals.shortage_cartons} cartons bought, {fewest} ought to do")
        sys.stdout.write(
            f"seed {seed}: {piles.total()} there, {totals.planks} used ({plan.status}), "
            f"{totals.shortage_planks} missing, {totals.shortage_cartons} cartons, "
            f"{sum(w.value for w in plan.warnings if w.rule == 'variants'):g} pairs alike\n"
        )
        for line in wrong:
            sys.stdout.write(f"  wrong: {line}\n")
        failed += bool(wrong)
    sys.stdout.write(f"{chosen.counts} counts, {failed} wrong\n")
    return int(failed > 0)


if __name__ == "__main__":
    sys.exit(main())
