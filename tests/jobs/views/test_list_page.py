"""Lists that grow without end: thirty rows a page, and a way to the rest."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from tests import growing
from tests.growing import Grow, OwnersBook

pytestmark = pytest.mark.django_db

PAGED: tuple[tuple[str, Grow], ...] = (
    ("job-list", growing.jobs),
    ("client-list", growing.clients),
    ("product-list", growing.products),
)


@pytest.mark.parametrize(("name", "grow"), PAGED, ids=[name for name, _ in PAGED])
def test_the_thirty_first_row_stands_on_the_second_page(
    name: str, grow: Grow, client: Client
) -> None:
    book = OwnersBook()
    client.force_login(book.owner)
    for number in range(31):
        grow(book, number)
    first, second = (client.get(reverse(name), {"page": page}) for page in (1, 2))
    rows = [page.content.decode().count('<td class="lead">') for page in (first, second)]
    assert rows == [30, 1]
    assert 'rel="next" href="?page=2"' in first.content.decode()
