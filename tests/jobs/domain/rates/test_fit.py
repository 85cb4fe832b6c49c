"""The fit of a task's rates: by hand where one figure decides, and in which direction it goes."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import nnls

from jobs.domain.rates.boxed import Floats
from jobs.domain.rates.fit import OFF_EACH, OFF_TOGETHER, Fitted, fitted
from jobs.domain.rates.noise import DAY_SCATTER, JOB_PART, Scatter

KINDS = 4


def some_work(seed: int, factor: float) -> tuple[Floats, Floats, list[str]]:
    """Return seeded stretches of work of four kinds that took `factor` times what they should."""
    chance = np.random.default_rng(seed)
    parts = chance.uniform(0, 3, size=(12, KINDS))
    hours = parts.sum(axis=1) * factor * np.exp(chance.normal(0, 0.15, 12))
    return parts, hours, [f"job {row // 3}" for row in range(12)]


def fit_of(parts: Floats, hours: Floats, jobs: list[str]) -> Fitted:
    return fitted(parts, hours, np.ones(len(hours)), jobs)


def test_one_log_moves_a_rate_by_what_is_known() -> None:
    """8 h by the rate took 10. What is known before: off by 0.3 together and 0.25 each.

    The log scatters by its day (0.25 x 8 = 2 h), its job (half of that) and a quarter's rounding;
    the rate is off by 8 h x 0.3905 = 3.124 h. So 9.76 / (9.76 + 4 + 1 + 0.0052) = 0.661 of the
    2 h beyond are its own: 8 h became 9.32, an eighth of 1.32 = 0.165 of the rate.
    """
    fit = fit_of(np.array([[8.0]]), np.array([10.0]), ["one"])
    rate = 64 * (OFF_TOGETHER**2 + OFF_EACH**2)
    day = (DAY_SCATTER * 8) ** 2
    share = rate / (rate + day + (JOB_PART**2) * day + 0.0625 / 12)
    # The scatter itself is seen anew: what is left over is a little less than was thought.
    assert share == pytest.approx(0.661, abs=0.001)
    assert fit.off[0] == pytest.approx(share * 0.25, abs=0.006)


def test_the_more_is_logged_the_nearer_it_comes() -> None:
    near = [
        fit_of(np.full((n, 1), 8.0), np.full(n, 12.0), [f"job {i}" for i in range(n)]).off[0]
        for n in (1, 3, 10, 40)
    ]
    assert near == sorted(near)
    assert near[0] < 0.4
    assert near[-1] == pytest.approx(0.5, abs=0.02)


def test_the_range_narrows_and_holds_the_rate() -> None:
    widths = []
    for n in (1, 3, 10, 40):
        fit = fit_of(np.full((n, 1), 8.0), np.full(n, 12.0), [f"job {i}" for i in range(n)])
        assert fit.low[0] < fit.off[0] < fit.high[0]
        widths.append(fit.high[0] - fit.low[0])
    assert widths == sorted(widths, reverse=True)


def test_days_of_one_job_say_less_than_as_many_jobs() -> None:
    parts, hours = np.full((6, 1), 8.0), np.full(6, 12.0)
    one = fit_of(parts, hours, ["one"] * 6)
    six = fit_of(parts, hours, list("abcdef"))
    assert one.off[0] < six.off[0]
    assert one.high[0] - one.low[0] > six.high[0] - six.low[0]


def test_nonsense_stands_out_and_hardly_counts() -> None:
    hours = np.array([8.0, 8.5, 7.5, 8.0, 8.25, 7.75, 40.0])
    jobs = [f"job {i}" for i in range(7)]
    fit = fit_of(np.full((7, 1), 8.0), hours, jobs)
    without = fit_of(np.full((6, 1), 8.0), hours[:6], jobs[:6])
    assert fit.outlying[6] > 3
    assert np.abs(fit.outlying[:6]).max() < 1
    assert fit.off[0] == pytest.approx(without.off[0], abs=0.05)


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 2000), factor=st.floats(1.8, 3))
def test_a_crew_that_was_always_slower_is_never_made_faster(seed: int, factor: float) -> None:
    parts, hours, jobs = some_work(seed, factor)
    slow = np.maximum(hours, parts.sum(axis=1))
    assert (fit_of(parts, slow, jobs).off >= 0).all()


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 2000), factor=st.floats(0.3, 0.6))
def test_a_crew_that_was_always_faster_is_never_made_slower(seed: int, factor: float) -> None:
    parts, hours, jobs = some_work(seed, factor)
    fast = np.minimum(hours, parts.sum(axis=1))
    fit = fit_of(parts, fast, jobs)
    assert (fit.off <= 0).all()
    assert (fit.off >= -1).all()


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 500))
def test_more_hours_for_the_same_work_never_say_less(seed: int) -> None:
    parts, hours, jobs = some_work(seed, 1.0)
    work = parts.sum(axis=0)
    before = work @ (1 + fit_of(parts, hours, jobs).off)
    for factor in (1.05, 1.2, 1.5):
        after = work @ (1 + fit_of(parts, hours * factor, jobs).off)
        assert after >= before
        before = after


def test_logs_as_the_rates_say_change_nothing() -> None:
    parts, _, jobs = some_work(3, 1.0)
    assert fit_of(parts, parts.sum(axis=1), jobs).off == pytest.approx(np.zeros(KINDS), abs=1e-9)


def test_a_rate_comes_out_at_nothing_and_never_below() -> None:
    # Of two kinds, the days with more of the second took no longer at all, by any scatter.
    parts = np.array([[4.0, row / 4] for row in range(40)])
    hours = np.array([9.0 - row / 6 for row in range(40)])
    fit = fit_of(parts, hours, [f"job {row}" for row in range(40)])
    assert fit.off[1] == -1
    assert fit.low[1] == -1


@pytest.mark.parametrize("seed", range(6))
def test_the_fit_is_the_non_negative_least_squares_of_scipy(seed: int) -> None:
    """The same problem written out in full: what is logged above, what was known before below."""
    parts, hours, jobs = some_work(seed, 1.1)
    hours[0] = hours[1] / 3
    fit = fit_of(parts, hours, jobs)
    covariance = _covariance(parts, hours, jobs, fit)
    before = OFF_TOGETHER**2 + np.eye(KINDS) * OFF_EACH**2
    outer = np.linalg.cholesky(np.linalg.inv(covariance)).T
    inner = np.linalg.cholesky(np.linalg.inv(before)).T
    stacked = np.vstack([outer @ parts, inner])
    right = np.concatenate([outer @ hours, inner @ np.ones(KINDS)])
    assert 1 + fit.off == pytest.approx(nnls(stacked, right)[0], abs=2e-3)


def _covariance(parts: Floats, hours: Floats, jobs: list[str], fit: Fitted) -> Floats:
    """Return the whole covariance as a matrix, its day's scatter by the fit's own range."""
    usual = parts.sum(axis=1)
    same = np.array([[a == b for b in jobs] for a in jobs])
    weight = np.minimum(1.0, (2.0 / np.maximum(np.abs(fit.outlying), 1e-9)) ** 2)
    best, least = np.eye(len(jobs)), np.inf
    for day in np.linspace(0.05, 0.6, 1101):
        whole = same * np.outer(usual, usual) * (JOB_PART * day) ** 2
        whole = whole + np.diag(((day * usual) ** 2 + 0.0625 / 12) / weight)
        left = hours - parts @ (1 + fit.off)
        before = np.linalg.inv(OFF_TOGETHER**2 + np.eye(KINDS) * OFF_EACH**2)
        inside = parts.T @ np.linalg.inv(whole) @ parts
        gained = np.trace(np.linalg.solve(inside + before, inside))
        squares = left @ np.linalg.inv(whole) @ left * day**2
        again = sqrt((8 * DAY_SCATTER**2 + squares) / (8 + max(len(jobs) - gained, 0)))
        if abs(again - day) < least:
            best, least = whole, abs(again - day)
    return best


def test_the_inverse_by_jobs_is_the_inverse() -> None:
    parts, _, jobs = some_work(5, 1.0)
    usual = parts.sum(axis=1)
    groups = np.array([int(job.split()[1]) for job in jobs])
    weight = np.linspace(0.2, 1, len(jobs))
    scatter = Scatter(usual=usual, days=np.ones(len(jobs)), groups=groups, weight=weight)
    same = groups[:, None] == groups[None, :]
    whole = same * np.outer(usual, usual) * (JOB_PART * DAY_SCATTER) ** 2
    inverse = np.linalg.inv(whole + np.diag(scatter.alone))
    assert scatter.undone(np.eye(len(jobs))) == pytest.approx(inverse, abs=1e-9)
    assert scatter.undone_diagonal() == pytest.approx(np.diag(inverse), abs=1e-9)
