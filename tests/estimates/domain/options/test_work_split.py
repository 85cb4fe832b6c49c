"""The work split: what each task and all of them take off the price, and what may not be left."""

from decimal import Decimal

from estimates.domain.options.work_split import (
    EVERYTHING,
    split_price,
    tasks_taken,
    without,
    work_shares,
)
from estimates.domain.pricing import price_scope
from jobs.domain.scope.scope import FrozenScope
from tests.estimates.a_price import a_book, a_material, a_quantity, a_scope, a_task, terms

MARGIN = Decimal("0.20")


def torn_out() -> FrozenScope:
    """120 ft2 of old floor out, hauled away and 12 h of laying; a fee of 0.50 a ft2 at the dump."""
    return a_scope(
        quantities=(a_quantity("tear_out", 120), a_quantity("disposal", 120)),
        tasks=(
            a_task("tear_out", "6.00", zone="up"),
            a_task("dispose", "2.00", zone="up"),
            a_task("lay", "12.00", zone="up", rows=(1, 18)),
            a_task("travel", "1.00"),
        ),
    )


BOOK = a_book(a_material("disposal", "0.50"))
QUESTIONS = {"tear_out": ("asbestos",), "dispose": ("asbestos",)}


def test_a_task_takes_off_what_the_price_falls_by() -> None:
    base, everything = work_shares(a_scope(), a_book(), terms(margin=MARGIN))

    # Base: 4 h x 50 / 0.80 = 250, on 120 ft2 2.08. All: 16 h x 50 / 0.80 = 1000, 8.33.
    assert (base.code, base.hours, base.saves, base.saves_per_ft2) == (
        *("base", Decimal(4), Decimal(250)),
        Decimal("2.08"),
    )
    assert everything.code == EVERYTHING
    assert (everything.hours, everything.saves) == (Decimal(16), Decimal(1000))
    assert everything.saves_per_ft2 == Decimal("8.33")


def test_who_hauls_away_pays_at_the_dump() -> None:
    shares = {share.code: share for share in work_shares(torn_out(), BOOK, terms(margin=MARGIN))}

    # 2 h x 50 and 120 ft2 x 0.50 are 160; 160 / 0.80.
    assert shares["dispose"].saves == 200
    # 6 h x 50 / 0.80.
    assert shares["tear_out"].saves == 375


def test_the_chosen_work_is_taken_off_together() -> None:
    price = split_price(torn_out(), BOOK, terms(margin=MARGIN), ("tear_out", "dispose"))

    # 21 h x 50 and 60 at the dump are 1110: 1387.50; with 13 h alone 650 / 0.80 = 812.50.
    assert (price.whole, price.left) == (Decimal("1387.50"), Decimal("812.50"))
    assert (price.saves, price.saves_per_ft2) == (Decimal(575), Decimal("4.79"))


def test_the_minimum_charge_holds_the_savings_together() -> None:
    least = terms(margin=MARGIN, minimum=Decimal(1000))
    price = split_price(torn_out(), BOOK, least, ("tear_out", "dispose"))

    # Alone they would take off 375 and 200; together no more than down to the minimum.
    assert (price.left, price.saves) == (Decimal(1000), Decimal("387.50"))


def test_nothing_is_left_to_the_homeowner_while_a_question_is_open() -> None:
    shares = work_shares(torn_out(), BOOK, terms(), questions=QUESTIONS)

    barred = {share.code: (share.saves, share.questions) for share in shares}
    assert barred == {
        "tear_out": (Decimal(0), ("asbestos",)),
        "dispose": (Decimal(0), ("asbestos",)),
        EVERYTHING: (Decimal(0), ("asbestos",)),
    }


def test_with_all_the_work_left_out_the_material_alone_is_priced() -> None:
    codes = tasks_taken([EVERYTHING])
    priced = price_scope(a_scope(), a_book(), without(terms(margin=MARGIN), codes))

    # 450 of material at a margin of a fifth of the price.
    assert priced.total == Decimal("562.50")
    assert not any((priced.hours, priced.labor_cost, priced.crew_days))
    assert (priced.days_on_site, priced.contribution_per_day) == (None, None)
    assert priced.contribution_per_crew_day is None
    assert priced.contribution == Decimal("112.50")


def test_nothing_at_all_is_priced_at_nothing() -> None:
    codes = tasks_taken([EVERYTHING])
    priced = price_scope(a_scope(), a_book(), without(terms(labor_only=True), codes))

    assert priced.total == 0
    assert (priced.margin, priced.markup) == (None, None)


def test_what_is_barred_is_a_fault_of_the_price() -> None:
    priced = price_scope(torn_out(), BOOK, terms(barred=("Tear out: asbestos is open",)))

    assert [fault.text for fault in priced.faults] == ["Tear out: asbestos is open"]


def test_what_the_homeowner_does_is_said_in_its_line() -> None:
    priced = price_scope(torn_out(), BOOK, without(terms(), ("dispose",)))

    lines = {line.code: line for line in priced.lines}
    assert lines["dispose"].basis == lines["disposal"].basis == "done by the client"
    assert lines["dispose"].is_by_client
    assert not lines["tear_out"].is_by_client
