"""Rates learn from the logs of jobs in which they counted, and from no other."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.learning import DoneJob, rate_changes
from jobs.domain.scope.rates import ProductionRate
from jobs.domain.scope.scope import FrozenScope

LAY = ProductionRate(task_code="lay", driver="floor_area", hours=Decimal(2), per=Decimal(100))
CARPET = ProductionRate(task_code="tear_out", driver="tear_out", hours=Decimal(1), item="carpet")
TILE = ProductionRate(task_code="tear_out", driver="tear_out", hours=Decimal(6), item="tile")
RATES = (LAY, CARPET, TILE)


def a_job(logged: dict[str, str], *counted: Quantity, name: str = "one") -> DoneJob:
    scope = FrozenScope(zones=(), quantities=counted, tasks=())
    return DoneJob(
        name=name, scope=scope, logged={code: Decimal(hours) for code, hours in logged.items()}
    )


def floor(area: int) -> Quantity:
    return quantity("floor_area", area, "counted", zone="up")


def test_half_as_much_again_is_learned() -> None:
    # 200 ft2 at 2 h per 100 ft2 are 4 h; 6 were logged.
    changes = rate_changes(RATES, [a_job({"lay": "6"}, floor(200))])
    assert [(change.before, change.after.hours) for change in changes] == [(LAY, Decimal(3))]


def test_large_jobs_weigh_more() -> None:
    jobs = [a_job({"lay": "6"}, floor(200)), a_job({"lay": "24"}, floor(1000), name="two")]
    learned = rate_changes(RATES, jobs)[0].after
    # 30 h over the 24 h that 1200 ft2 would take.
    assert (learned.hours, learned.source) == (Decimal("2.5"), "learned from 2 jobs")


def test_carpet_says_nothing_about_tile() -> None:
    carpet = quantity("tear_out", 10, "counted", item="carpet")
    changes = rate_changes(RATES, [a_job({"tear_out": "20"}, carpet)])
    assert [change.before for change in changes] == [CARPET]


def test_what_was_learned_is_learned_once() -> None:
    job = a_job({"lay": "6"}, floor(200))
    learned = tuple(change.after for change in rate_changes((LAY,), [job]))
    assert rate_changes(learned, [job]) == ()


def test_a_task_that_was_not_logged_teaches_nothing() -> None:
    assert rate_changes(RATES, [a_job({}, floor(200))]) == ()
