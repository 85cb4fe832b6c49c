"""What every list does that grows without end: it shows so many rows a page."""

from __future__ import annotations

from typing import TypeVar

from django.core.paginator import Page, Paginator
from django.db.models import Model, QuerySet
from django.http import HttpRequest

M = TypeVar("M", bound=Model)

ROWS = 30


def page_of(request: HttpRequest, rows: QuerySet[M]) -> Page[M]:
    """Return the page of ``rows`` that the address names, the first or last where it names none."""
    return Paginator(rows, ROWS).get_page(request.GET.get("page"))
