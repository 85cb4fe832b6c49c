"""The review's figures are the sums that a hand with a pencil makes.

The job: 120 ft2, quoted at 1 718.75. Material 6 cartons x 60 + 2 rolls x 45 = 450, labor 16 h x 50
= 800, overhead 10 % = 125, margin 20 %: profit 343.75. It went like this:

    Monday      lay   up   8 h, 3 planks spoiled (bad measure)           half a day of two people
    Tuesday     lay   up   6 h, 1 plank spoiled (defect)
                base  up   3 h                                           a whole day
    Friday      clean      2 h, nobody had planned it; a callback        half a day
    bought      7 cartons for 420, 2 rolls for 88, 1 blade for 25
"""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.review.review import days_worked, review
from estimates.domain.review.values import Bought, Logged, Review, ReviewTerms
from jobs.domain.checks import BadValueError
from jobs.domain.scope.schedule import ScopeSchedule, SiteDay
from tests.estimates.a_price import Given, a_book, a_scope, a_task, terms


def a_log(task: str, hours: str, day: str, **more: object) -> Logged:
    given_: Given = {"task_code": task, "hours": Decimal(hours), "day": day}
    return Logged(**given_ | more)


def bought(code: str, quantity: str, unit: str, paid: str) -> Bought:
    return Bought(code=code, label=code, quantity=Decimal(quantity), unit=unit, paid=Decimal(paid))


LOGS = (
    a_log("lay", "8", "2026-03-02", zone="up", spoiled=3, spoil_reason="bad measure"),
    a_log("lay", "6", "2026-03-03", zone="up", spoiled=1, spoil_reason="defect"),
    a_log("base", "3", "2026-03-03", zone="up"),
    a_log("clean", "2", "2026-03-06", callback=True),
)
PURCHASES = (
    bought("cartons", "4", "carton", "240"),
    bought("cartons", "3", "carton", "180"),
    bought("pad", "2", "roll", "88"),
    bought("blade", "1", "each", "25"),
)


def quoted_priced(**changes: object) -> Priced:
    return price_scope(
        a_scope(), a_book(), terms(overhead=Decimal("0.10"), margin=Decimal("0.20"), **changes)
    )


def reviewed(**changes: object) -> Review:
    given_: Given = {
        "quoted": a_scope(),
        "quoted_priced": quoted_priced(),
        "logs": LOGS,
        "purchases": PURCHASES,
        "terms": review_terms(),
    }
    return review(**given_ | changes)


def review_terms(**changes: object) -> ReviewTerms:
    given_: Given = {
        "burdened_rate": Decimal(50),
        "crew_hours_per_day": Decimal(16),
        "overhead": Decimal("0.10"),
        "planned_days": Decimal(1),
        "plank_cost": Decimal(6),
    }
    return ReviewTerms(**given_ | changes)


def test_hours_stand_by_task_as_estimated_agreed_and_logged() -> None:
    rows = {
        (row.code, row.zone): (row.estimated, row.agreed, row.logged, row.cost)
        for row in reviewed().tasks
    }

    assert rows == {
        ("lay", "up"): (Decimal(12), Decimal(12), Decimal(14), Decimal(700)),
        ("base", "up"): (Decimal(4), Decimal(4), Decimal(3), Decimal(150)),
        ("clean", ""): (Decimal(0), Decimal(0), Decimal(2), Decimal(100)),
    }


def test_a_task_nobody_planned_has_its_trade_name() -> None:
    assert reviewed().tasks[-1].label == "Clean and hand over"


def test_material_stands_as_estimated_and_bought() -> None:
    rows = {
        row.code: (row.estimated, row.bought, row.estimated_cost, row.paid)
        for row in reviewed().materials
    }

    assert rows == {
        "cartons": (Decimal(6), Decimal(7), Decimal(360), Decimal(420)),
        "pad": (Decimal(2), Decimal(2), Decimal(90), Decimal(88)),
        "blade": (Decimal(0), Decimal(1), Decimal(0), Decimal(25)),
    }


def test_the_quoted_side_is_the_priced_scope() -> None:
    before = reviewed().quoted

    assert before.price == Decimal("1718.75")
    assert before.profit == Decimal("343.75")
    assert before.margin == Decimal("0.2000")
    # 1 718.75 - 1 250 = 468.75; its 16 h fill one day of the crew.
    assert before.days_on_site == 1
    assert before.contribution_per_day == Decimal("468.75")


def test_the_real_side_is_the_hand_sum() -> None:
    after = reviewed().real

    # Labor 19 h x 50 = 950; material 420 + 88 + 25 = 533; overhead 148.30; cost 1 631.30.
    assert after.labor == 950
    assert after.material == 533
    assert after.overhead == Decimal("148.30")
    assert after.cost == Decimal("1631.30")
    # 1 718.75 - 1 631.30 = 87.45, which is 5.09 % of the price.
    assert after.profit == Decimal("87.45")
    assert after.margin == Decimal("0.0509")


def test_contribution_is_by_the_days_really_worked_whole_and_half() -> None:
    after = reviewed().real

    # 1 718.75 - 950 - 533 = 235.75. 19 h would be 1.19 days of 16 h, but nobody is booked so:
    # 8 h are half a day, 9 h a whole one, 2 h half a one. 235.75 / 2 = 117.875.
    assert after.contribution == Decimal("235.75")
    assert after.days_on_site == 2
    assert after.contribution_per_day == Decimal("117.88")


@pytest.mark.parametrize(
    ("by_day", "days"),
    [
        (("16", "16", "8"), "2.5"),
        (("16", "16", "8.01"), "3"),
        (("0.25",), "0.5"),
        (("0",), "0"),
        ((), "0"),
    ],
)
def test_days_worked_are_whole_or_half_by_the_log(by_day: tuple[str, ...], days: str) -> None:
    logs = [
        a_log("lay", str(Decimal(hours) / 2), f"2026-03-0{number}")
        for number, hours in enumerate(by_day, start=2)
        for _ in ("two", "people")
    ]

    assert days_worked(logs, Decimal(16)) == Decimal(days)


def test_the_days_quoted_are_those_frozen_in_the_scope() -> None:
    # 16 h fit into one day of two people; the scope was laid out for one person on two and a half.
    days = tuple(SiteDay(booked=Decimal(booked), parts=()) for booked in ("1", "1", "0.5"))
    schedule = ScopeSchedule(people=1, hours_per_day=Decimal(8), trip_hours=Decimal(0), days=days)
    scope = a_scope(schedule=schedule)
    priced = price_scope(scope, a_book(), terms(overhead=Decimal("0.10"), margin=Decimal("0.20")))

    quoted = reviewed(quoted=scope, quoted_priced=priced).quoted
    # 468.75 / 2.5 = 187.50
    assert (quoted.days_on_site, quoted.contribution_per_day) == (Decimal("2.5"), Decimal("187.50"))


def test_an_estimate_that_kept_no_days_has_those_of_its_scope() -> None:
    priced = replace(quoted_priced(), days_on_site=None, contribution_per_day=None)

    quoted = reviewed(quoted_priced=priced).quoted
    assert (quoted.days_on_site, quoted.contribution_per_day) == (Decimal(1), Decimal("468.75"))


def test_the_bridge_leads_from_the_quoted_profit_to_the_real_one() -> None:
    result = reviewed(closed=True)

    # 800 - 950, 450 - 533, 125 - 148.30: together 87.45 - 343.75 = -256.30.
    assert [(part.code, part.amount) for part in result.bridge] == [
        ("labor", Decimal(-150)),
        ("material", Decimal(-83)),
        ("overhead", Decimal("-23.30")),
    ]


def test_reasons_say_what_it_was_the_heaviest_first() -> None:
    reasons = [(reason.text, reason.amount) for reason in reviewed(closed=True).reasons]

    assert reasons == [
        ("lay (up): 14.00 h logged, 12.00 h agreed", Decimal(-100)),
        ("Clean and hand over: 2.00 h logged, 0.00 h agreed", Decimal(-100)),
        ("Flooring: 7 cartons bought, 6 cartons agreed", Decimal(-60)),
        ("base (up): 3.00 h logged, 4.00 h agreed", Decimal(50)),
        ("blade: 1 bought, 0 agreed", Decimal(-25)),
        ("Pad: 2 rolls bought, 2 rolls agreed", Decimal(2)),
        ("2.00 h of callbacks", Decimal(-100)),
        ("3 planks spoiled: bad measure", Decimal(-18)),
        ("1 plank spoiled: defect", Decimal(-6)),
        ("2 days on site, 1 day as booked", None),
    ]


def test_a_part_of_another_reason_says_what_it_is_in_already() -> None:
    within = {reason.code: reason.within for reason in reviewed(closed=True).reasons}
    assert within["spoiled"] == "in the material bought"
    assert within["callback"] == "in the hours logged"
    assert within["hours"] == within["purchase"] == ""


def test_what_hours_cost_has_the_sign_of_the_hours() -> None:
    causes = [cause for row in reviewed(closed=True).tasks for cause in row.causes]
    assert causes
    assert all((cause.hours > 0) == (cause.cost > 0) for cause in causes)


def test_planks_of_unknown_price_are_told_without_money() -> None:
    result = reviewed(terms=review_terms(plank_cost=None))

    spoiled = [reason.amount for reason in result.reasons if reason.code == "spoiled"]
    assert spoiled == [None, None]
    assert result.planks_spoiled == 4


def test_a_change_order_moves_hours_and_price() -> None:
    agreed = a_scope(tasks=(*a_scope().tasks, a_task("clean", "2.00")))

    result = reviewed(agreed=agreed, terms=review_terms(price_changes=Decimal("150")))

    clean = result.tasks[-1]
    assert (clean.estimated, clean.agreed, clean.over) == (Decimal(0), Decimal(2), Decimal(0))
    assert result.real.price == Decimal("1868.75")
    assert result.bridge[0].amount == 150


def test_tax_that_we_bear_is_in_the_quoted_material() -> None:
    priced = quoted_priced(tax_mode="consumer", tax_rate=Decimal("0.10"))

    result = reviewed(quoted_priced=priced)

    # 360 and 90, and a tenth of each.
    assert [row.estimated_cost for row in result.materials[:2]] == [396, 99]
    assert result.quoted.material == 495


def test_what_was_bought_in_another_unit_is_not_counted_as_if_it_were() -> None:
    result = reviewed(purchases=(bought("cartons", "140", "ft2", "420"),))

    flooring = result.materials[0]
    assert flooring.bought is None
    assert flooring.paid == 420
    assert "Flooring: bought in another unit than carton" in [
        reason.text for reason in result.reasons
    ]


def test_a_job_without_a_log_has_no_contribution_per_day() -> None:
    result = reviewed(logs=(), purchases=())

    assert result.real.contribution_per_day is None
    assert result.real.profit == Decimal("1718.75")


@given(
    st.lists(
        st.builds(
            a_log,
            st.sampled_from(["lay", "base", "clean", "something-else"]),
            st.decimals("0", "24", places=2).map(str),
            st.sampled_from(["2026-03-02", "2026-03-03"]),
        ),
        max_size=6,
    ),
    st.lists(
        st.builds(
            bought,
            st.sampled_from(["cartons", "pad", "blade"]),
            st.just("1"),
            st.sampled_from(["carton", "roll"]),
            st.decimals("-100", "900", places=2).map(str),
        ),
        max_size=6,
    ),
    st.decimals("-500", "500", places=2),
)
def test_the_bridge_always_closes(
    logs: list[Logged], purchases: list[Bought], changes: Decimal
) -> None:
    result = reviewed(logs=logs, purchases=purchases, terms=review_terms(price_changes=changes))

    moved = sum((part.amount or Decimal(0) for part in result.bridge), Decimal(0))
    assert result.quoted.profit + moved == result.real.profit
    assert result.real.hours == sum((entry.hours for entry in logs), Decimal(0))
    assert result.real.material == sum((each.paid for each in purchases), Decimal(0))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"hours": Decimal("24.25")}, r"logged lay.hours is 24.25; accepted: .* at most 24"),
        ({"spoiled": 2}, r"logged lay.spoil_reason is ''; accepted: a text"),
        ({"day": "yesterday"}, r"logged.day is 'yesterday'"),
    ],
)
def test_a_log_that_cannot_be_is_refused(changes: dict[str, object], said: str) -> None:
    given_: Given = {"task_code": "lay", "hours": Decimal(1), "day": "2026-03-02"}

    with pytest.raises(BadValueError, match=said):
        Logged(**given_ | changes)
