"""Hours that a change order ordered beside the scope, on the worked job: 2 h, 1.5 h of them logged.

They are logged as other work. 2 h at 50.00 are 100.00 ordered, 75.00 spent.
"""

from __future__ import annotations

from decimal import Decimal

from estimates.domain.pricing import price_scope
from estimates.domain.review.review import review
from estimates.domain.review.values import Logged, Review, ReviewTerms
from tests.estimates.a_price import a_book, terms
from tests.estimates.domain.review.test_worked import LOGS, agreed, figures


def with_extra(hours: str, *, closed: bool) -> Review:
    other = Logged(task_code="other", hours=Decimal(hours), day="2026-03-04")
    priced = price_scope(agreed(), a_book(), terms())
    return review(
        quoted=agreed(),
        quoted_priced=priced,
        logs=(*LOGS, other),
        purchases=(),
        terms=ReviewTerms(
            burdened_rate=Decimal(50), crew_hours_per_day=Decimal(16), extra_hours=Decimal(2)
        ),
        closed=closed,
    )


def test_they_stand_among_the_tasks_as_ordered() -> None:
    row = with_extra("1.5", closed=True).tasks[-1]
    assert (row.code, row.label, row.zone) == ("other", "Other work", "")
    assert (row.estimated, row.agreed, row.logged) == figures(0, 2, "1.5")
    assert [(cause.kind, cause.hours, cause.amount) for cause in row.causes] == [
        ("changes", Decimal(2), Decimal(-100)),
        ("rate", Decimal("-0.5"), Decimal(25)),
    ]


def test_they_are_work_to_be_earned_by_the_last_day() -> None:
    made = with_extra("1.5", closed=True)
    assert made.budget == 22
    assert [day.planned for day in made.reached] == [10, 22, 22]
    assert made.reached[-1].earned == 22
    assert made.reached[-1].ahead_of_days == 0


def test_while_the_job_is_open_they_are_earned_as_logged_at_most_all() -> None:
    # 24 rows are 16 h, of the base 3 h are done.
    assert with_extra("1.5", closed=False).reached[-1].earned == Decimal("20.5")
    assert with_extra("3", closed=False).reached[-1].earned == 21


def test_they_are_ordered_also_where_nobody_logged_them() -> None:
    scope = agreed()
    made = review(
        quoted=scope,
        quoted_priced=price_scope(scope, a_book(), terms()),
        logs=LOGS,
        purchases=(),
        terms=ReviewTerms(
            burdened_rate=Decimal(50), crew_hours_per_day=Decimal(16), extra_hours=Decimal(2)
        ),
    )
    assert made.tasks[-1].code == "other"
    assert (made.tasks[-1].agreed, made.tasks[-1].logged) == figures(2, 0)
