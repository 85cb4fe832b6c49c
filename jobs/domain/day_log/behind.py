"""Which tasks stand behind an open hold: those that it blocks, and all that come after them."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from jobs.domain.site.facts import Caution
from jobs.domain.tasks import TASKS


def codes_behind(blocks: Iterable[str]) -> frozenset[str]:
    """Return the codes of the tasks that can't be done before these are, these too."""
    behind = set(blocks)
    while True:
        more = {code for code, kind in TASKS.items() if behind.intersection(kind.after)}
        if more <= behind:
            return frozenset(behind)
        behind |= more


def holds_before(
    code: str, key: str, holds: Iterable[Caution], let_go: Collection[tuple[str, str]] = ()
) -> tuple[Caution, ...]:
    """Return the open holds that a task stands behind.

    ``let_go``: pairs of a hold's code and a task's key that the owner let go on by name.
    """
    return tuple(
        hold
        for hold in holds
        if (hold.code, key) not in let_go and code in codes_behind(hold.blocks)
    )
