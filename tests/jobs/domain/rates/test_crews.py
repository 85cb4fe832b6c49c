"""Ten crews with known rates; two hundred by `python -m tests.sweeps.crews`."""

from __future__ import annotations

from tests.sweeps.crews.scored import CrewScore, faults, scores


def test_ten_crews_come_nearer_by_the_fit_than_by_the_ratio() -> None:
    assert faults(scores(10, 12)) == []


def test_a_worse_fit_and_a_range_that_holds_too_much_are_faults() -> None:
    worse = [
        CrewScore(fit=0.3, ratio=0.2, held=0.95, next_job=0, next_ratio=0, by_task=0.11, best=0.27)
    ] * 3
    assert len(faults({1: worse, 20: worse})) == 6
