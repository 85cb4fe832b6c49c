"""A choice in another product is accepted while the quote is withdrawn: one of the two counts.

The floors are those of what counts: all of them in the accepted product, or none.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal
from threading import Barrier

import pytest
from django.db import connection

from estimates.models import Acceptance, Quote
from estimates.readers.draft.preview import digest_of, previewed
from estimates.readers.draft.rows import draft_row
from estimates.services.draft.drafts import issue_draft, save_draft
from estimates.services.quotes import accept_quote, withdraw_quote
from jobs.domain.checks import BadValueError
from jobs.models import Job, Product, User
from jobs.services.scope import changes_since_agreed
from tests.builders import make_planned_job, make_product
from tests.estimates.a_job import TODAY, an_owner, company_of
from tests.jobs.plans import planned_in

pytestmark = pytest.mark.django_db(transaction=True)


def quoted_in_two(owner: User) -> tuple[Quote, Product]:
    """A quote whose second choice is a thicker plank."""
    job = make_planned_job(company_of(owner))
    thick = make_product(job.company, name="Harbor Oak", thickness_mm=Decimal("9.525"))
    planned_in(job.zones.get(), thick)
    values = {"second_way": f"product-{thick.pk}"}
    save_draft(row=draft_row(job), user=owner, key="draft", expected=1, values=values)
    seen = digest_of(previewed(draft_row(job), TODAY))
    quote = issue_draft(job=job, user=owner, key="issue", today=TODAY, seen=seen)
    return quote, thick


def at_once(*words: Callable[[], object]) -> list[str]:
    """What came of words that were given at the same moment."""
    together = Barrier(len(words))

    def say(word: Callable[[], object]) -> str:
        together.wait(timeout=20)
        try:
            word()
        except BadValueError as refused:
            return str(refused)
        finally:
            connection.close()
        return "done"

    with ThreadPoolExecutor(len(words)) as people:
        return list(people.map(say, words))


def accept(quote: Quote, choice: str) -> Acceptance:
    fresh = Quote.objects.get(pk=quote.pk)
    return accept_quote(quote=fresh, name="Ines", today=TODAY, by_link=True, choice=choice)


def test_of_an_acceptance_and_a_withdrawal_one_counts() -> None:
    owner = an_owner()
    quote, thick = quoted_in_two(owner)
    said = at_once(
        lambda: accept(quote, "b"),
        lambda: withdraw_quote(quote=Quote.objects.get(pk=quote.pk), user=owner),
    )
    assert said.count("done") == 1
    job = Job.objects.get(pk=quote.job_id)
    accepted = Acceptance.objects.exists()
    assert accepted == (said[0] == "done")
    assert (job.zones.get().product == thick) == accepted
    assert job.zones.get().plans.count() == (2 if accepted else 1)


def test_of_two_choices_at_once_the_job_is_that_of_the_one_that_counts() -> None:
    quote, thick = quoted_in_two(an_owner())
    assert at_once(lambda: accept(quote, "a"), lambda: accept(quote, "b")) == ["done", "done"]
    word = Acceptance.objects.get()
    job = Job.objects.get(pk=quote.job_id)
    assert job.agreed_scope == quote.options.get(key=word.choice).estimate.scope
    assert (job.zones.get().product == thick) == (word.choice == "b")
    assert changes_since_agreed(job) == ()
