"""What the migration to links by hash does to links that were sent before."""

from __future__ import annotations

from datetime import date

import pytest
from django.conf import settings
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from estimates.models import Quote, QuoteLink
from jobs.domain.link_token import link_token, token_hash
from tests.estimates.test_book_migration import at

BEFORE, AFTER = "0012_quote_drafts_and_choices", "0014_no_link_in_clear"
SENT = "w4PUAm1Q3cVYx0rTt5bJkq8n"


@pytest.mark.django_db(transaction=True)
def test_an_old_word_is_kept_as_its_hash_and_a_new_one_can_be_computed() -> None:
    old = at(BEFORE)
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

    new = at(AFTER)

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
    MigrationExecutor(connection).migrate(MigrationExecutor(connection).loader.graph.leaf_nodes())
    assert Quote.objects.get().token == word
    assert SENT not in str(list(QuoteLink.objects.values()))
