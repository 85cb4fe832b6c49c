"""Home, the job list and the clients ask little however long the book is: a small seed of it.

`python -m tests.sweeps.lists` prints the same with 5,000 jobs, and how long each page takes.
"""

from __future__ import annotations

import pytest
from django.test import Client as Visitor

from jobs.models import Job, Role
from tests.builders import make_person
from tests.estimates.a_job import an_owner
from tests.queries import queries_of
from tests.sweeps.lists.book import made_book
from tests.sweeps.lists.printed import pages_of
from tests.sweeps.lists.timed import MOST_QUERIES

pytestmark = pytest.mark.django_db


def test_no_role_has_a_page_of_a_long_list_that_asks_more_than_fifteen_queries() -> None:
    owner = an_owner()
    assert owner.company is not None
    lead = made_book(owner, jobs=300, clients=60)
    assert Job.objects.filter(company=owner.company).count() == 300
    for person in (owner, make_person(owner.company, Role.ESTIMATOR), lead):
        visitor = Visitor()
        visitor.force_login(person)
        for page in pages_of(person):
            assert len(queries_of(visitor, page)) <= MOST_QUERIES, page
