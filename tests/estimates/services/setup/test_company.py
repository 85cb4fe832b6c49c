"""The set-up saved: whole or not at all, once, and never over somebody else's."""

from __future__ import annotations

from datetime import time
from decimal import Decimal
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from estimates.models import PaymentStages, PriceTerms, SalesTerms
from estimates.readers.prices import terms_row
from estimates.readers.setup.sales import sales_terms
from estimates.services.setup.company import RowChange, save_setup, set_numbering
from jobs.domain.checks import BadValueError
from jobs.models import Company, User
from jobs.services.jobs import add_job
from jobs.services.records import StaleError
from tests.builders import make_client
from tests.estimates.a_job import company_of

pytestmark = pytest.mark.django_db

THREE: dict[str, Any] = {
    "payment_stages": PaymentStages.DEPOSIT_PROGRESS_REST,
    "progress_percent": Decimal(40),
}


@pytest.fixture
def company(owner: User) -> Company:
    """The owner's company, without any terms."""
    return company_of(owner)


def of_sales(company: Company, expected: int = 1, **values: object) -> RowChange:
    return RowChange(row=sales_terms(company), expected=expected, values=values)


def of_price(company: Company, expected: int = 1, **values: object) -> RowChange:
    return RowChange(row=terms_row(company), expected=expected, values=values)


def save(owner: User, key: str, *changes: RowChange) -> None:
    company = company_of(owner)
    save_setup(company=company, user=owner, key=key, part="payment", changes=changes)


def test_a_part_in_two_rows_is_saved_in_both(owner: User, company: Company) -> None:
    save(owner, "1", of_sales(company, **THREE), of_price(company, deposit_percent=Decimal(25)))
    assert SalesTerms.objects.get().progress_percent == 40
    assert PriceTerms.objects.get().deposit_percent == 25
    assert company.audit_lines.first().act == "Set up: payment"  # type: ignore[union-attr]


def test_parts_above_the_whole_leave_everything_as_it_was(owner: User, company: Company) -> None:
    with pytest.raises(BadValueError, match="progress_percent"):
        save(owner, "1", of_sales(company, **THREE), of_price(company, deposit_percent=Decimal(61)))
    assert not SalesTerms.objects.exists()
    assert not PriceTerms.objects.exists()


def test_sent_twice_it_is_saved_once(owner: User, company: Company) -> None:
    for _ in range(2):
        save(owner, "same", of_sales(company, state="PA"))
    assert SalesTerms.objects.get().version == 2


def test_who_saw_no_row_does_not_write_over_the_first_one(owner: User, company: Company) -> None:
    save(owner, "1", of_sales(company, state="PA"))
    with pytest.raises(StaleError, match="State is now “PA”; you have “CA”"):
        save(owner, "2", of_sales(company, state="CA"))
    assert SalesTerms.objects.get().state == "PA"


def test_the_second_of_two_rows_overtaken_undoes_the_first(owner: User, company: Company) -> None:
    save(owner, "1", of_price(company, deposit_percent=Decimal(20)))
    stale = of_price(company, expected=1, deposit_percent=Decimal(50))
    with pytest.raises(StaleError):
        save(owner, "2", of_sales(company, state="CA"), stale)
    assert not SalesTerms.objects.exists()
    assert PriceTerms.objects.get().deposit_percent == 20


def numbered(owner: User, key: str, next_job: int | None) -> None:
    company = company_of(owner)
    sales = of_sales(company, sales_terms(company).version, numbering="year")
    set_numbering(company=company, user=owner, key=key, sales=sales, next_job=next_job)


def a_job_number(owner: User, key: str) -> int:
    company = company_of(owner)
    values = {"client": make_client(company), "title": "Den", "address": "", "units": "imperial"}
    return add_job(company=company, user=owner, key=key, values=values).number


def test_the_next_job_has_the_number_that_was_typed(owner: User) -> None:
    numbered(owner, "n", 214)
    assert [a_job_number(owner, key) for key in ("a", "b")] == [214, 215]


def test_a_number_that_a_job_has_is_refused(owner: User) -> None:
    numbered(owner, "n", 214)
    a_job_number(owner, "a")
    with pytest.raises(BadValueError, match="next_job is 214; accepted: 215 or more"):
        numbered(owner, "m", 214)
    assert a_job_number(owner, "b") == 215


def test_left_empty_numbers_go_on(owner: User) -> None:
    numbered(owner, "n", None)
    assert a_job_number(owner, "a") == 1


@pytest.mark.parametrize(
    "values",
    [
        {"state": "ZZ"},
        {"deposit_dollars": -1},
        {"payment_stages": "weekly"},
        {"progress_percent": 5},
        {"payment_stages": "deposit_progress_rest", "progress_percent": 0},
        {"late_fee_percent": 11},
        {"warranty_months": 601},
        {"numbering": "odd"},
    ],
)
def test_the_tables_refuse_what_the_forms_refuse(
    company: Company, values: dict[str, object]
) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        SalesTerms.objects.create(company=company, **values)


def test_terms_that_nobody_set_up_are_the_starting_ones(company: Company) -> None:
    row = sales_terms(company)
    assert not SalesTerms.objects.exists()
    assert (row.cancel_right, row.arrives_at) == (True, time(8, 30))
    assert (row.warranty_months, row.deposit_dollars) == (0, None)
    assert row.changes_words.startswith("Work that is not in this quote")
