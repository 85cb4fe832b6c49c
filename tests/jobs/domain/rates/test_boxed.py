"""The least of a bowl in a box, held against scipy's non-negative and bounded least squares."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import lsq_linear, nnls
from scipy.stats import t as student

from jobs.domain.rates.boxed import Floats, least_in_box
from jobs.domain.rates.spread import t_80


def a_system(seed: int) -> tuple[Floats, Floats]:
    """Return a seeded system with more rows than unknowns, its columns of very unlike sizes."""
    chance = np.random.default_rng(seed)
    unknowns = int(chance.integers(1, 7))
    matrix = chance.normal(size=(unknowns + 4, unknowns)) * 10 ** chance.uniform(-2, 2, unknowns)
    return matrix, chance.normal(size=unknowns + 4)


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_never_negative_is_scipy_s_never_negative(seed: int) -> None:
    matrix, right = a_system(seed)
    count = matrix.shape[1]
    ours = least_in_box(
        matrix.T @ matrix, matrix.T @ right, np.zeros(count), np.full(count, np.inf)
    )
    outside, residual = nnls(matrix, right)
    assert np.linalg.norm(matrix @ ours - right) == pytest.approx(residual, rel=1e-6, abs=1e-9)
    assert matrix @ ours == pytest.approx(matrix @ outside, rel=1e-5, abs=1e-7)


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_a_box_is_scipy_s_box(seed: int) -> None:
    matrix, right = a_system(seed)
    count = matrix.shape[1]
    low, high = np.full(count, -0.2), np.full(count, 0.1)
    ours = least_in_box(matrix.T @ matrix, matrix.T @ right, low, high)
    outside = lsq_linear(matrix, right, (low, high), method="bvls", tol=1e-13)
    assert (ours >= low).all()
    assert (ours <= high).all()
    assert float(np.sum((matrix @ ours - right) ** 2)) / 2 == pytest.approx(
        outside.cost, rel=1e-6, abs=1e-9
    )


@pytest.mark.parametrize("freedom", [4, 8, 9.5, 12, 40, 400])
def test_the_quantile_is_scipy_s(freedom: float) -> None:
    assert t_80(freedom) == pytest.approx(float(student.ppf(0.9, freedom)), abs=0.001)
