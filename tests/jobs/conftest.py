"""Who looks at the pages: the owner of a company, signed in."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor

from jobs.models import User
from tests.builders import make_company, make_person


@pytest.fixture
def owner() -> User:
    """The owner of a company."""
    return make_person(make_company())


@pytest.fixture
def visitor(owner: User) -> Visitor:
    """A browser in which the owner is signed in."""
    signed_in = Visitor()
    signed_in.force_login(owner)
    return signed_in


@pytest.fixture(autouse=True)
def rows_alone(unset_paper: None) -> None:
    """Print nothing, but for a test that asks for `set_paper`."""
