"""What migrations do to rows of money that were there before, in the order of the migrations."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.conf import settings

from estimates.models import Quote, QuoteLink
from jobs.domain.link_token import link_token, token_hash
from jobs.domain.tasks import TASKS
from tests.estimates.a_price import Given
from tests.migrating import tables_at, tables_of_today

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("there_and_back")]

BEFORE_BOOK, BOOK = "0002_initial", "0003_price_book"
BEFORE_TAX, TAX = BOOK, "0004_price_of_a_job"
BEFORE_SPLIT, SPLIT = "0009_payers_unit_prices", "0010_work_split_on_the_job"
BEFORE_LINKS, LINKS = "0012_quote_drafts_and_choices", "0014_no_link_in_clear"

PRICES = {
    "cartons": ("carton", "61.50", "material"),
    "base_nails": ("each", "0.01", "material"),
    "disposal": ("ft2", "0.35", "material"),
    "casings": ("each", "12.00", "adder"),
}
# A rate that was let through once is kept as it is; it is refused when it is next saved.
OLD_TERMS = [("consumer", "0"), ("seller", "8.875"), ("seller", "35")]
SPLITS: dict[int, Given] = {
    1: {"left_out": ["dispose", "furniture"]},
    2: {"everything": True},
    3: {"left_out": []},
}
SENT = "w4PUAm1Q3cVYx0rTt5bJkq8n"


def test_an_old_price_is_for_one_of_its_unit_as_before() -> None:
    old = tables_at("estimates", BEFORE_BOOK)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    for code, (unit, amount, kind) in PRICES.items():
        values = {"code": code, "label": code, "unit": unit, "amount": Decimal(amount)}
        day = date(2026, 1, 5)
        old.get_model("estimates", "PriceItem").objects.create(
            company=company, kind=kind, effective_from=day, **values
        )

    rows = tables_at("estimates", BOOK).get_model("estimates", "PriceItem").objects.all()

    assert {row.code: (row.pack, row.per, row.amount) for row in rows} == {
        "cartons": ("carton", "pack", Decimal("61.50")),
        "base_nails": ("", "measure", Decimal("0.01")),
        "disposal": ("", "measure", Decimal("0.35")),
        "casings": ("", "pack", Decimal("12.00")),
    }
    assert {(row.covers, row.last_seen, row.returnable) for row in rows} == {(None, None, True)}


def test_the_one_old_rate_becomes_the_states_and_comes_to_the_same() -> None:
    old = tables_at("estimates", BEFORE_TAX)
    for number, (mode, percent) in enumerate(OLD_TERMS):
        company = old.get_model("jobs", "Company").objects.create(name=f"Fernwood {number}")
        values = {"burdened_rate": 48, "tax_mode": mode, "tax_percent": Decimal(percent)}
        old.get_model("estimates", "PriceTerms").objects.create(company=company, **values)

    rows = (
        tables_at("estimates", TAX)
        .get_model("estimates", "PriceTerms")
        .objects.order_by("company__name")
    )

    assert [(row.tax_mode, row.state_percent) for row in rows] == [
        (mode, Decimal(percent)) for mode, percent in OLD_TERMS
    ]
    assert {(row.county_percent, row.city_percent, row.labor_taxed) for row in rows} == {
        (Decimal(0), Decimal(0), False)
    }


def test_each_job_learns_what_its_homeowner_does() -> None:
    old = tables_at("estimates", BEFORE_SPLIT)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    client = old.get_model("jobs", "Client").objects.create(company=company, name="Ines Okafor")
    for number in range(1, 5):
        job = old.get_model("jobs", "Job").objects.create(
            company=company, client=client, number=number, title="Den", units="imperial"
        )
        if number in SPLITS:
            old.get_model("estimates", "WorkSplit").objects.create(job=job, **SPLITS[number])

    jobs = tables_at("estimates", SPLIT).get_model("jobs", "Job").objects.order_by("number")

    # Who loads the old floor drives it to the dump.
    assert [sorted(job.left_to_homeowner) for job in jobs] == [
        ["dispose", "dump_run", "furniture"],
        sorted(TASKS),
        [],
        [],
    ]


def test_an_old_word_is_kept_as_its_hash_and_a_new_one_can_be_computed() -> None:
    old = tables_at("estimates", BEFORE_LINKS)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    client = old.get_model("jobs", "Client").objects.create(company=company, name="Ines Okafor")
    job = old.get_model("jobs", "Job").objects.create(
        company=company, client=client, number=1, title="Den", units="imperial"
    )
    papers = [
        old.get_model("jobs", "Document").objects.create(
            company=company, kind=kind, text="{}", sha256=kind
        )
        for kind in ("scope", "estimate", "quote")
    ]
    scope = old.get_model("jobs", "Scope").objects.create(
        job=job, number=1, hours=1, document=papers[0]
    )
    estimate = old.get_model("estimates", "Estimate").objects.create(
        job=job, scope=scope, number=1, document=papers[1], cost=1, total=2
    )
    pdf = old.get_model("jobs", "StoredFile").objects.create(
        company=company, sha256="0", name="q.pdf", content_type="application/pdf", size=1
    )
    values = {"estimate": estimate, "document": papers[2], "pdf": pdf, "token": SENT}
    quote = old.get_model("estimates", "Quote").objects.create(
        job=job, number=1, total=2, valid_until=date(2026, 6, 1), **values
    )

    new = tables_at("estimates", LINKS)

    links = new.get_model("estimates", "QuoteLink").objects.filter(quote=quote.pk)
    legacy, counts = links.order_by("version")
    assert (legacy.version, legacy.token_hash) == (0, token_hash(SENT))
    word = link_token(settings.SECRET_KEY, purpose="quote", link=counts.pk, version=1)
    assert (counts.version, counts.token_hash) == (1, token_hash(word))
    assert (legacy.expires_on, counts.expires_on) == (None, None)
    columns = {
        field.column
        for field in new.get_model("estimates", "Quote")._meta.get_fields()
        if hasattr(field, "column")
    }
    assert "token" not in columns
    tables_of_today()
    assert Quote.objects.get().token == word
    assert SENT not in str(list(QuoteLink.objects.values()))
