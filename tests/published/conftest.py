"""Who types the published values: an owner in a browser."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor

from jobs.models import Company
from tests.builders import make_company, make_person


@pytest.fixture
def company() -> Company:
    """A company that works in inches."""
    return make_company()


@pytest.fixture
def visitor(company: Company) -> Visitor:
    """A browser in which the owner is signed in."""
    signed_in = Visitor()
    signed_in.force_login(make_person(company))
    return signed_in
