"""What the migration to packs and coverage does to prices that were there before."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.apps.registry import Apps
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

BEFORE, AFTER = "0002_initial", "0003_price_book"
PRICES = {
    "cartons": ("carton", "61.50", "material"),
    "base_nails": ("each", "0.01", "material"),
    "disposal": ("ft2", "0.35", "material"),
    "casings": ("each", "12.00", "adder"),
}


def at(name: str) -> Apps:
    """Bring the tables of money to a migration; return the models as they were there."""
    MigrationExecutor(connection).migrate([("estimates", name)])
    loader = MigrationExecutor(connection).loader
    people = next(node for node in loader.graph.leaf_nodes() if node[0] == "jobs")
    return loader.project_state([("estimates", name), people]).apps


@pytest.mark.django_db(transaction=True)
def test_an_old_price_is_for_one_of_its_unit_as_before() -> None:
    old = at(BEFORE)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    for code, (unit, amount, kind) in PRICES.items():
        values = {"code": code, "label": code, "unit": unit, "amount": Decimal(amount)}
        day = date(2026, 1, 5)
        old.get_model("estimates", "PriceItem").objects.create(
            company=company, kind=kind, effective_from=day, **values
        )

    rows = at(AFTER).get_model("estimates", "PriceItem").objects.all()

    assert {row.code: (row.pack, row.per, row.amount) for row in rows} == {
        "cartons": ("carton", "pack", Decimal("61.50")),
        "base_nails": ("", "measure", Decimal("0.01")),
        "disposal": ("", "measure", Decimal("0.35")),
        "casings": ("", "pack", Decimal("12.00")),
    }
    assert {(row.covers, row.last_seen, row.returnable) for row in rows} == {(None, None, True)}
    MigrationExecutor(connection).migrate(MigrationExecutor(connection).loader.graph.leaf_nodes())
