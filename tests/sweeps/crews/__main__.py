"""Scores what is learned of crews with known rates: `--crews 200 --seed 12`.

    python -m tests.sweeps.crews [--crews 200] [--seed 12]

Exit 1 where the fit is worse than it should be.
"""

from __future__ import annotations

import argparse
import sys
from statistics import fmean

from tests.sweeps.crews.scored import faults, lead, scores


def main() -> int:
    """Return 0 where the fit is as good as it should be."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.crews")
    parser.add_argument("--crews", type=int, default=200)
    parser.add_argument("--seed", type=int, default=12)
    chosen = parser.parse_args()
    by_jobs = scores(chosen.crews, chosen.seed)
    sys.stdout.write(
        "jobs  error of rates: fit  ratio   best   lead ± 1 s.e.    held   next job: fit  ratio"
        "   by task\n"
    )
    for count, each in by_jobs.items():
        gained, doubt = lead(each)
        names = ("fit", "ratio", "held", "next_job", "next_ratio", "by_task", "best")
        mean = {name: fmean(getattr(one, name) for one in each) for name in names}
        sys.stdout.write(
            f"{count:4}           {mean['fit']:7.1%} {mean['ratio']:6.1%} {mean['best']:6.1%}"
            f"  {gained:+.4f} ± {doubt:.4f}"
            f"  {mean['held']:5.1%}      {mean['next_job']:7.1%} {mean['next_ratio']:6.1%}"
            f"   {mean['by_task']:6.1%}\n"
        )
    wrong = faults(by_jobs)
    for line in wrong:
        sys.stdout.write(f"wrong: {line}\n")
    sys.stdout.write(f"{chosen.crews} crews, seed {chosen.seed}: {len(wrong)} faults\n")
    return int(bool(wrong))


if __name__ == "__main__":
    sys.exit(main())
