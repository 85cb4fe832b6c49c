"""When crews arrive, handed down to calendars."""

from __future__ import annotations

from datetime import time

import pytest

from estimates.models import SalesTerms
from jobs.readers.feeds.arrival import arrival_of
from tests.builders import make_company

pytestmark = pytest.mark.django_db


def test_crews_arrive_when_the_company_says_so() -> None:
    company = make_company()
    assert arrival_of(company) == time(8, 30)
    SalesTerms.objects.create(company=company, arrives_at=time(7, 45))
    assert arrival_of(company) == time(7, 45)
