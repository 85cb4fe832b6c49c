"""The costs of every page with a long list, by person, printed line by line."""

from __future__ import annotations

import sys
from collections.abc import Iterator

from django.urls import reverse

from jobs.models import Client, Job, Role, User
from jobs.views.list_page import ROWS
from tests.builders import make_person
from tests.estimates.a_job import an_owner
from tests.sweeps.lists.book import made_book
from tests.sweeps.lists.timed import Cost, costs_of


def printed(jobs: int, clients: int) -> list[Cost]:
    """Return the costs in a book of so many jobs and clients, each printed as it is found."""
    owner = an_owner()
    assert owner.company is not None
    lead = made_book(owner, jobs, clients)
    estimator = make_person(owner.company, Role.ESTIMATOR)
    costs = []
    for person in (owner, estimator, lead):
        for cost in costs_of(person, list(pages_of(person))):
            costs.append(cost)
            sys.stdout.write(
                f"{person.role:10} {cost.page:18} {cost.queries:3} queries {cost.ms:7.1f} ms, "
                f"{cost.times:5.1f} times a bare view ({cost.bare_ms:.2f} ms)"
                f"{'' if cost.is_kept else '  too much'}\n"
            )
    return costs


def pages_of(person: User) -> Iterator[str]:
    """Yield the first and last page of the lists that a person sees."""
    seen = Job.objects.filter(company=person.company, archived_at=None)
    if not person.is_office:
        seen = seen.filter(days__crew__members=person).distinct()
    yield from _first_and_last(reverse("job-list"), seen.count())
    if person.is_office:
        clients = Client.objects.filter(company=person.company)
        yield from _first_and_last(reverse("client-list"), clients.count())


def _first_and_last(page: str, rows: int) -> Iterator[str]:
    yield page
    yield f"{page}?page={-(-rows // ROWS)}"
