"""A choice may take what the job as it is priced does not: its price is typed on the draft."""

from __future__ import annotations

import pytest
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import PriceItem
from jobs.models import ExistingFloor, Job, SiteFacts, User
from tests.builders import make_planned_job, make_run
from tests.estimates.a_job import company_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """A room whose base goes back on, and a price book without new base."""
    planned = make_planned_job(company_of(owner))
    make_run(planned.rooms.get())
    SiteFacts.objects.filter(job=planned).update(existing_floor=ExistingFloor.CARPET, tear_out=True)
    PriceItem.objects.filter(code__in=("base_stock", "caulk")).delete()
    return planned


def draft(visitor: Visitor, job: Job, by_htmx: bool = False, /, **typed: str) -> HttpResponse:
    address = reverse("quote-draft", args=[job.pk])
    form = visitor.get(address).context["form"]
    shown = {field.html_name: field.value() for field in form if field.value() is not None}
    headers = {"HX-Request": "true"} if by_htmx else {}
    return visitor.post(address, shown | typed, headers=headers)  # type: ignore[return-value]


def test_prices_that_a_choice_lacks_are_typed_on_the_draft(visitor: Visitor, job: Job) -> None:
    new_base = {"second_way": "base_new"}
    proposed = draft(visitor, job, True, do="propose", **new_base).content.decode()
    assert "Save the draft and type them" in proposed
    assert "Base" in proposed
    draft(visitor, job, **new_base)
    page = visitor.get(reverse("quote-draft", args=[job.pk]))
    needs = page.context["needs"]
    assert needs
    typed = {f"need{place}-amount": "9.50" for place in range(len(needs))}
    shown = {
        f"{form.prefix}-{name}": form[name].value() or "" for form in needs for name in form.fields
    }
    frame = {"count": str(len(needs)), "key": "answered"}
    address = f"{reverse('price-answer')}?job={job.pk}&to=quote"
    answer = visitor.post(address, shown | frame | typed)
    assert answer["Location"] == reverse("quote-draft", args=[job.pk])
    page = visitor.get(reverse("quote-draft", args=[job.pk]))
    assert page.context["said"].needs == ()
    assert len(page.context["quote"].choices) == 2
