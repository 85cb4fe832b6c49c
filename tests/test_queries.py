"""The helper that counts the queries of a list, on two small pages of its own."""

from __future__ import annotations

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client as Visitor
from django.urls import path

from jobs.models import Client
from tests.builders import make_client, make_company
from tests.queries import assert_same_queries

pytestmark = [pytest.mark.django_db, pytest.mark.urls(__name__)]


def once_a_row(request: HttpRequest) -> HttpResponse:
    """Whose clients they are, asked for one after another."""
    return HttpResponse([client.company.name for client in Client.objects.all()])


def at_once(request: HttpRequest) -> HttpResponse:
    """Whose clients they are, asked for at once."""
    clients = Client.objects.select_related("company")
    return HttpResponse([client.company.name for client in clients])


urlpatterns = [path("once-a-row", once_a_row), path("at-once", at_once)]


def make_clients(rows: int) -> None:
    """Make so many clients."""
    company = make_company()
    for _ in range(rows):
        make_client(company)


def test_a_page_that_asks_at_once_passes(client: Visitor) -> None:
    assert_same_queries(client, "/at-once", make_clients)


def test_a_page_that_asks_once_a_row_fails_and_says_for_what(client: Visitor) -> None:
    with pytest.raises(AssertionError, match=r'27 x SELECT \.\.\. FROM "jobs_company"'):
        assert_same_queries(client, "/once-a-row", make_clients)
