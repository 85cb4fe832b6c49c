"""Who knocks: the owner's own browser, in a company with an agreed and priced job."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor

from jobs.models import Job, User
from tests.estimates.a_job import an_agreed_job, an_owner


@pytest.fixture
def owner() -> User:
    """The owner of a company with prices for everything."""
    return an_owner()


@pytest.fixture
def job(owner: User) -> Job:
    """An agreed job of one room."""
    return an_agreed_job(owner)


@pytest.fixture
def visitor(owner: User) -> Visitor:
    """A browser that answers like a server: a fault of the program is a page, status 500."""
    signed_in = Visitor(raise_request_exception=False)
    signed_in.force_login(owner)
    return signed_in


@pytest.fixture(autouse=True)
def rows_alone(unset_paper: None) -> None:
    """Print nothing, but for a test that asks for `set_paper`."""
