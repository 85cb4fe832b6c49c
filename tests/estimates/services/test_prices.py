"""Prices are changed row by row: an older price stays, a later save is told what changed."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from estimates.models import PriceItem
from estimates.readers.price_rows import history_of, row_that_counts
from estimates.readers.prices import book_and_terms
from estimates.services.prices import (
    DETAILS,
    FIGURES,
    PriceAnswer,
    answer_prices,
    save_row,
    set_price,
)
from jobs.domain.checks import BadValueError
from jobs.models import AuditLine, User
from jobs.services.records import StaleError
from tests.builders import make_job
from tests.estimates.a_job import TODAY, company_of
from tests.estimates.a_price import Given

pytestmark = pytest.mark.django_db


@pytest.fixture
def pad(owner: User) -> PriceItem:
    """Pad at 32.00 a roll since 2020."""
    return PriceItem.objects.get(company=company_of(owner), code="pad")


def saved(row: PriceItem, user: User, key: str = "save", **changes: object) -> PriceItem:
    """Save a row as it stands, but for some fields, on the day of the test."""
    values: Given = {name: getattr(row, name) for name in (*FIGURES, *DETAILS)}
    values |= {"pack": "roll", "effective_from": TODAY} | changes
    fresh = PriceItem.objects.select_related("company").get(pk=row.pk)
    given: Given = {"row": fresh, "user": user, "key": key, "expected": row.version}
    return save_row(**given, values=values, today=TODAY)


def unit_cost(owner: User, code: str, item: str = "", day: date = TODAY) -> Decimal | None:
    """What pricing takes for one unit on a day."""
    book, _ = book_and_terms(make_job(company_of(owner)), day)
    price = book.find("material", code, item, day.isoformat())
    return None if price is None else price.amount


def test_a_changed_price_counts_from_its_day_and_the_old_one_stays(
    owner: User, pad: PriceItem
) -> None:
    saved(pad, owner, amount=Decimal("35.00"))
    assert unit_cost(owner, "pad") == Decimal("35.00")
    assert unit_cost(owner, "pad", day=TODAY - timedelta(days=1)) == Decimal("32.00")
    assert history_of(pad).count() == 2


def test_a_price_saved_as_it_is_was_seen_today(owner: User, pad: PriceItem) -> None:
    row = saved(pad, owner)
    assert (row.pk, row.last_seen, row.effective_from) == (pad.pk, TODAY, date(2020, 1, 1))


def test_a_supplier_is_noted_without_a_new_price(owner: User, pad: PriceItem) -> None:
    assert saved(pad, owner, supplier="Example Supply").pk == pad.pk
    assert history_of(pad).get().supplier == "Example Supply"


def test_a_price_of_the_same_day_is_corrected_in_place(owner: User, pad: PriceItem) -> None:
    row = saved(pad, owner, amount=Decimal(23), effective_from=pad.effective_from)
    assert (row.pk, history_of(pad).count()) == (pad.pk, 1)


def test_a_price_by_the_square_foot_is_the_price_of_a_roll(owner: User, pad: PriceItem) -> None:
    saved(pad, owner, amount=Decimal("0.35"), per="measure", covers=Decimal(100))
    assert unit_cost(owner, "pad") == Decimal("35.00")


def test_a_stale_save_is_told_the_price_that_stands(owner: User, pad: PriceItem) -> None:
    saved(pad, owner, amount=Decimal(35))
    with pytest.raises(StaleError) as stale:
        saved(pad, owner, key="late", amount=Decimal(36), supplier="Example Supply")
    assert stale.value.changes == (
        "Price is now $35.00 a roll from Mar 1; you have $36.00 a roll.",
        "Supplier is now empty; you have “Example Supply”.",
    )
    assert history_of(pad).count() == 2


def test_a_row_saved_twice_under_one_key_is_saved_once(owner: User, pad: PriceItem) -> None:
    first = saved(pad, owner, amount=Decimal(35))
    assert saved(pad, owner, amount=Decimal(35)) == first
    assert AuditLine.objects.filter(act="Priced Pad at $35.00 a roll").count() == 1


def test_a_later_price_waits_for_its_day(owner: User, pad: PriceItem) -> None:
    saved(pad, owner, amount=Decimal(35), effective_from=TODAY + timedelta(days=30))
    assert row_that_counts(pad, TODAY) == pad
    assert unit_cost(owner, "pad", day=TODAY + timedelta(days=30)) == Decimal("35.00")


def test_a_changed_price_from_before_the_one_in_force_is_refused(
    owner: User, pad: PriceItem
) -> None:
    with pytest.raises(BadValueError, match="accepted: 2020-01-01 or later"):
        saved(pad, owner, amount=Decimal(35), effective_from=date(2019, 12, 31))


def test_two_prices_from_one_day_are_refused(owner: User, pad: PriceItem) -> None:
    saved(pad, owner, amount=Decimal(35), effective_from=date(2027, 6, 1))
    row = PriceItem.objects.get(pk=pad.pk)
    with pytest.raises(BadValueError, match=r"from this one on it is \$35.00 a roll already"):
        saved(row, owner, key="again", amount=Decimal(36), effective_from=date(2027, 6, 1))


def test_a_price_that_is_set_again_from_its_day_is_corrected(owner: User) -> None:
    values: Given = {
        "code": "caulk",
        "item": "",
        "label": "Caulk",
        "unit": "tube",
        "kind": "material",
    }
    values |= {"amount": Decimal(5), "taxable": True, "effective_from": date(2020, 1, 1)}
    row = set_price(company=company_of(owner), user=owner, key="set", values=values)
    assert (row.pack, row.per, unit_cost(owner, "caulk")) == ("tube", "pack", Decimal("5.00"))


def test_an_answer_prices_the_very_item(owner: User) -> None:
    answer = PriceAnswer(code="cartons", item="Oak", amount=Decimal(61), per="pack")
    answer_prices(company=company_of(owner), user=owner, key="a", answers=[answer], today=TODAY)
    assert unit_cost(owner, "cartons", "Oak") == Decimal("61.00")
    assert unit_cost(owner, "cartons", "Ash") == Decimal("60.00")


def test_an_old_price_that_still_holds_was_seen_today(owner: User, pad: PriceItem) -> None:
    answer = PriceAnswer(
        code="pad", item="", amount=Decimal(32), per="pack", row=pad.pk, version=pad.version
    )
    answer_prices(company=company_of(owner), user=owner, key="a", answers=[answer], today=TODAY)
    assert history_of(pad).get().last_seen == TODAY


def test_an_answer_to_a_price_that_changed_meanwhile_writes_nothing(
    owner: User, pad: PriceItem
) -> None:
    saved(pad, owner, amount=Decimal(35))
    new = PriceAnswer(code="cartons", item="Oak", amount=Decimal(61), per="pack")
    old = PriceAnswer(code="pad", item="", amount=Decimal(33), per="pack", row=pad.pk, version=1)
    with pytest.raises(StaleError):
        answer_prices(
            company=company_of(owner), user=owner, key="a", answers=[new, old], today=TODAY
        )
    assert not PriceItem.objects.filter(item="Oak").exists()
