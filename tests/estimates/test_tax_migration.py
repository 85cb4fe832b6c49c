"""What the migration to tax by state, county and city does to terms that were there before."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from tests.estimates.test_book_migration import at

BEFORE, AFTER = "0003_price_book", "0004_price_of_a_job"
# A rate that was let through once is kept as it is; it is refused when it is next saved.
OLD_TERMS = [("consumer", "0"), ("seller", "8.875"), ("seller", "35")]


@pytest.mark.django_db(transaction=True)
def test_the_one_old_rate_becomes_the_states_and_comes_to_the_same() -> None:
    old = at(BEFORE)
    for number, (mode, percent) in enumerate(OLD_TERMS):
        company = old.get_model("jobs", "Company").objects.create(name=f"Fernwood {number}")
        values = {"burdened_rate": 48, "tax_mode": mode, "tax_percent": Decimal(percent)}
        old.get_model("estimates", "PriceTerms").objects.create(company=company, **values)

    rows = at(AFTER).get_model("estimates", "PriceTerms").objects.order_by("company__name")

    assert [(row.tax_mode, row.state_percent) for row in rows] == [
        (mode, Decimal(percent)) for mode, percent in OLD_TERMS
    ]
    assert {(row.county_percent, row.city_percent, row.labor_taxed) for row in rows} == {
        (Decimal(0), Decimal(0), False)
    }
    MigrationExecutor(connection).migrate(MigrationExecutor(connection).loader.graph.leaf_nodes())
