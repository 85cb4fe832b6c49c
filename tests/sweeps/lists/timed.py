"""What a page costs: its queries, and its time beside a bare view's in the same process.

Time is the processor's, of this process: what else the machine does does not count. A bare view is
timed right after each visit, since a busy machine slows both alike.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from statistics import median

from django.conf import settings
from django.http import HttpResponse
from django.test import Client as Visitor
from django.test.utils import override_settings
from django.urls import include, path
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, signed_in
from jobs.models import User
from tests.queries import queries_of

TIMES, BARES = 9, 5
MOST_QUERIES, MOST_TIMES = 15, 60
BARE = "/bare"


@require_safe
@signed_in
def bare(request: SignedInRequest) -> HttpResponse:
    """Nothing, under the same middleware: what every page of a signed-in person costs at least."""
    return HttpResponse()


urlpatterns = [path("bare", bare), path("", include(settings.ROOT_URLCONF))]


@dataclass(frozen=True, kw_only=True, slots=True)
class Cost:
    """A page's cost for one person: queries and processor time, the middle of several visits."""

    page: str
    queries: int
    ms: float
    bare_ms: float

    @property
    def times(self) -> float:
        """How many bare views the page costs."""
        return self.ms / self.bare_ms

    @property
    def is_kept(self) -> bool:
        """Whether the page keeps to what was promised."""
        return self.queries <= MOST_QUERIES and self.times <= MOST_TIMES


@override_settings(ROOT_URLCONF=__name__)
def costs_of(person: User, pages: list[str], times: int = TIMES) -> list[Cost]:
    """Return what these pages cost a person."""
    visitor = Visitor()
    visitor.force_login(person)
    return [_cost(visitor, page, times) for page in pages]


def _cost(visitor: Visitor, page: str, times: int) -> Cost:
    """Return what a page costs, the middle of so many visits after a first one."""
    queries = len(queries_of(visitor, page))
    visits = [(_ms(visitor, page), _bare_ms(visitor)) for _ in range(times)]
    taken, bares = zip(*visits, strict=True)
    return Cost(page=page, queries=queries, ms=median(taken), bare_ms=median(bares))


def _bare_ms(visitor: Visitor) -> float:
    return median(_ms(visitor, BARE) for _ in range(BARES))


def _ms(visitor: Visitor, page: str) -> float:
    """Return the milliseconds of one visit."""
    begun = time.process_time()
    assert visitor.get(page).status_code == 200, page
    return (time.process_time() - begun) * 1000
