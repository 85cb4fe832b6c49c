"""Who stands in the tests of money: an owner with prices, the owner's browser, an agreed job."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor

from jobs.models import Job, User
from tests.estimates.a_job import an_agreed_job, an_owner


@pytest.fixture
def owner() -> User:
    """The owner of a company with prices for everything: 48 an hour, overhead 12 %."""
    return an_owner()


@pytest.fixture
def job(owner: User) -> Job:
    """An agreed job, still without a log."""
    return an_agreed_job(owner)


@pytest.fixture
def visitor(owner: User) -> Visitor:
    """A browser in which the owner is signed in."""
    signed_in = Visitor()
    signed_in.force_login(owner)
    return signed_in


@pytest.fixture(autouse=True)
def rows_alone(unset_paper: None) -> None:
    """Print nothing, but for a test that asks for `set_paper`."""
