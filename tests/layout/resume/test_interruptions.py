"""A bounded run of random interruptions; ``python -m tests.layout.interruptions`` runs more."""

from __future__ import annotations

from tests.layout.interruptions import run


def test_random_interruptions_are_gone_on_with_without_a_fault() -> None:
    _, wrong, times = run(9, seed=3)
    assert wrong == []
    assert times >= 9


def test_floors_of_several_widths_are_gone_on_with_without_a_fault() -> None:
    _, wrong, times = run(2, seed=5, mixed=True)
    assert wrong == []
    assert times >= 2
