"""A bounded run of spoiled requests; ``python -m tests.layout.malformed`` runs as many as asked."""

from __future__ import annotations

from tests.layout.malformed import run


def test_spoiled_requests_end_as_a_plan_or_in_one_line() -> None:
    codes, wrong, _ = run(300, seed=20)
    assert wrong == []
    assert set(codes) == {0, 2}
