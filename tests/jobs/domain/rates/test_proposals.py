"""What logs propose: each counts once, by its own things, beside what was set by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.rates.proposals import RateProposal, TaskLearning, learned
from jobs.domain.rates.work import AnchoredRate, WorkDone
from jobs.domain.scope.rates import ProductionRate

LAY = ProductionRate(task_code="lay", driver="floor_area", hours=Decimal(2), per=Decimal(100))
RIPS = ProductionRate(task_code="lay", driver="rips", hours=Decimal("0.08"))
CARPET = ProductionRate(task_code="tear_out", driver="tear_out", hours=Decimal(1), item="carpet")
TILE = ProductionRate(task_code="tear_out", driver="tear_out", hours=Decimal(6), item="tile")
RATES = tuple(AnchoredRate(now=rate, anchor=rate) for rate in (LAY, RIPS, CARPET, TILE))


def work(
    hours: str, amounts: Mapping[str | tuple[str, str], int] | None = None, **more: object
) -> WorkDone:
    """Return a log of laying 400 ft2, or of what is named; by default 8 h by the rates."""
    done = {"floor_area": 400} if amounts is None else amounts
    values: dict[str, object] = {
        "log": "job 1, Mar 2",
        "job": "job 1",
        "closed": "2026-03-02",
        "task_code": "lay",
        "amounts": {
            key if isinstance(key, tuple) else (key, ""): Decimal(so) for key, so in done.items()
        },
        "hours": Decimal(hours),
    }
    return WorkDone(**values | more)  # type: ignore[arg-type]


def jobs(*hours: str) -> list[WorkDone]:
    return [
        work(each, log=f"job {place}, Mar 2", job=f"job {place}")
        for place, each in enumerate(hours, start=1)
    ]


def rate_in(tasks: tuple[TaskLearning, ...], rate: ProductionRate) -> RateProposal:
    return next(
        each
        for task in tasks
        for each in task.rates
        if (each.after.driver, each.after.item) == (rate.driver, rate.item)
    )


def test_a_rate_moves_part_of_the_way_and_says_from_how_many_jobs() -> None:
    lay = rate_in(learned(RATES, jobs("12", "12")), LAY)
    assert Decimal(2) < lay.after.hours < Decimal(3)
    assert lay.low < lay.after.hours < lay.high
    assert (lay.after.source, lay.after.jobs, lay.stretches) == ("learned from 2 jobs", 2, 2)
    assert lay.moves


@pytest.mark.parametrize(("hours", "moves"), [("2.04", False), ("2.041", True), ("1.959", True)])
def test_a_rate_moves_by_more_than_two_parts_in_a_hundred(hours: str, moves: bool) -> None:
    after = replace(LAY, hours=Decimal(hours))
    proposed = RateProposal(before=LAY, after=after, low=LAY.hours, high=LAY.hours, stretches=1)
    assert proposed.moves == moves


def test_what_was_taken_is_proposed_again_as_it_is() -> None:
    done = jobs("12", "11", "12.5")
    first = learned(RATES, done)
    for _ in range(5):
        now = rate_in(first, LAY).after
        again = learned([AnchoredRate(now=now, anchor=LAY), *RATES[1:]], done)
        assert rate_in(again, LAY).after == now
        assert not rate_in(again, LAY).moves
        first = again


def test_another_job_moves_it_from_where_it_is() -> None:
    done = jobs("12", "12")
    now = rate_in(learned(RATES, done), LAY).after
    more = learned([AnchoredRate(now=now, anchor=LAY)], jobs("12", "12", "12"))
    assert rate_in(more, LAY).after.hours > now.hours


def test_carpet_says_nothing_about_tile() -> None:
    done = [work("20", {("tear_out", "carpet"): 10}, task_code="tear_out")]
    (task,) = learned(RATES, done)
    assert [each.before for each in task.rates] == [CARPET]


def test_days_with_more_rips_tell_rips_from_feet() -> None:
    done = []
    for place in range(1, 25):
        rips = 50 if place % 2 else 0
        hours = Decimal(8) + Decimal("0.16") * rips
        done.append(
            work(str(hours), {"floor_area": 400, "rips": rips}, job=f"job {place}", log=f"{place}")
        )
    tasks = learned(RATES, done)
    # Truly 2 h per 100 ft2 and 0.16 h a rip; a plain ratio would raise both by a third.
    assert rate_in(tasks, LAY).after.hours == pytest.approx(Decimal(2), abs=Decimal("0.1"))
    assert rate_in(tasks, RIPS).after.hours == pytest.approx(Decimal("0.16"), abs=Decimal("0.02"))


def test_a_day_far_off_is_named_with_what_it_should_have_taken() -> None:
    done = jobs("8", "8.25", "7.75", "8", "8", "8.5", "60")
    (task,) = learned(RATES, done)
    assert [odd.log for odd in task.odd] == ["job 7, Mar 2"]
    assert task.odd[0].hours == 60
    assert task.odd[0].expected == pytest.approx(Decimal(8), abs=Decimal("0.6"))


def test_what_was_known_when_a_rate_was_set_does_not_count_against_it() -> None:
    by_hand = replace(LAY, hours=Decimal(3), source="timed")
    set_then = AnchoredRate(now=by_hand, anchor=by_hand, since="2026-03-02")
    assert learned([set_then], jobs("8", "8")) == ()
    later = [replace(each, closed="2026-03-03") for each in jobs("8", "8")]
    assert rate_in(learned([set_then], later), LAY).after.hours < 3


def test_one_rate_set_by_hand_leaves_what_the_others_learned() -> None:
    done = [
        work("14", {"floor_area": 400, "rips": 20}, job=f"job {n}", log=f"job {n}")
        for n in range(4)
    ]
    by_hand = AnchoredRate(
        now=replace(RIPS, hours=Decimal("0.1")),
        anchor=replace(RIPS, hours=Decimal("0.1")),
        since="2026-03-02",
    )
    (task,) = learned([RATES[0], by_hand], done)
    # Of 14 h, 20 rips at 0.1 h stand; 12 h are left for what 8 h were for.
    assert [each.before for each in task.rates] == [LAY]
    assert Decimal("2.5") < task.rates[0].after.hours < Decimal(3)


def test_work_that_something_has_no_rate_for_says_nothing() -> None:
    assert learned(RATES, [work("8", {"floor_area": 400, "notches": 3})]) == ()


def test_a_rate_of_nothing_stays_nothing() -> None:
    free = replace(LAY, hours=Decimal(0))
    assert learned([AnchoredRate(now=free, anchor=free)], jobs("8")) == ()


@pytest.mark.parametrize(
    "spoiled",
    [
        {"hours": Decimal(0)},
        {"hours": Decimal(-1)},
        {"hours": Decimal(300)},
        {"days": 0},
        {"amounts": {}},
        {"amounts": {("floor_area", ""): Decimal(0)}},
        {"amounts": {("base_on", ""): Decimal(5)}},
        {"task_code": "sing"},
        {"log": ""},
    ],
)
def test_nonsense_is_no_work(spoiled: dict[str, object]) -> None:
    with pytest.raises(BadValueError):
        replace(work("8"), **spoiled)  # type: ignore[arg-type]
