"""The review of a job that is not done: what isn't laid or bought yet is no gain.

The job of `test_review` on its second morning: 12 h of laying in four rows of 2, 2, 4 and 4 h, rows
1 and 2 down in 5 h; base (4 h) not begun; the cartons bought for 420, pads not yet.
"""

from dataclasses import replace
from decimal import Decimal

from estimates.domain.review.values import Review
from tests.estimates.a_price import a_scope
from tests.estimates.domain.review.test_review import a_log, bought, review_terms, reviewed

ROWS = (Decimal(2), Decimal(2), Decimal(4), Decimal(4))
LOGS = (a_log("lay", "5", "2026-03-02", zone="up", rows=(1, 2)),)
BOUGHT = (bought("cartons", "7", "carton", "420"),)


def underway(**changes: object) -> Review:
    lay, *others = a_scope().tasks
    by_rows = replace(lay, rows=(1, 4), row_hours=ROWS)
    (zone,) = a_scope().zones
    scope = a_scope(zones=(replace(zone, rows=4),), tasks=(by_rows, *others))
    return reviewed(**{"quoted": scope, "logs": LOGS, "purchases": BOUGHT} | changes)


def causes(result: Review, code: str) -> list[tuple[str, Decimal, Decimal]]:
    (row,) = (row for row in result.tasks if row.code == code)
    return [(cause.text, cause.hours, cause.amount) for cause in row.causes]


def test_the_pace_is_that_of_the_rows_that_are_down() -> None:
    # Rows 1 and 2 are 4 h and took 5: an hour, a quarter more. Rows 3 and 4, 8 h, are to come.
    assert causes(underway(), "lay") == [
        ("still to come", Decimal(-8), Decimal(400)),
        ("25% slower than the rate", Decimal(1), Decimal(-50)),
    ]


def test_work_that_is_not_begun_is_still_to_come() -> None:
    assert causes(underway(), "base") == [("still to come", Decimal(-4), Decimal(200))]


def test_the_bridge_tells_what_is_to_come_from_what_was_gained() -> None:
    # Labor 800 - 250 = 550: 12 h x 50 = 600 are to come, 50 went to the slow rows.
    # Material 450 - 420 = 30: pads for 90 are not bought, a carton more cost 60.
    steps = {part.code: part.amount for part in underway().bridge}
    assert steps["to come"] == 600
    assert steps["labor"] == -50
    assert steps["to buy"] == 90
    assert steps["material"] == -60


def test_reasons_are_those_of_what_is_done() -> None:
    assert [(reason.text, reason.amount) for reason in underway().reasons] == [
        ("Flooring: 7 cartons bought, 6 cartons agreed", Decimal(-60)),
        ("lay (up): 5.00 h logged, 4.00 h agreed for what is done", Decimal(-50)),
    ]


def test_once_the_job_is_closed_what_was_not_logged_was_saved() -> None:
    closed = underway(closed=True)
    assert causes(closed, "base") == [("not logged", Decimal(-4), Decimal(200))]
    assert {part.code for part in closed.bridge} == {"labor", "material", "overhead"}


def test_extra_work_that_was_ordered_is_to_come_until_it_is_logged() -> None:
    terms = review_terms(extra_hours=Decimal(3))
    done = (*LOGS, a_log("other", "1", "2026-03-02"))
    steps = {part.code: part.amount for part in underway(terms=terms, logs=done).bridge}
    # 12 h of the scope and 2 of 3 h ordered: 14 x 50.
    assert steps["to come"] == 700
