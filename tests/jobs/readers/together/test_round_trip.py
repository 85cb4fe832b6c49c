"""Rows fetched at once are those that Django fetches one table after another, value by value."""

from __future__ import annotations

from re import sub
from typing import Any

import pytest
from django.db import connection
from django.db.models import QuerySet
from django.test.utils import CaptureQueriesContext

from estimates.models import Quote, QuoteEvent
from jobs.models import (
    FloorPlan,
    FloorZone,
    Job,
    LogEntry,
    Packet,
    Product,
    Room,
    Scope,
    SiteFacts,
    StairFlight,
    WorkDay,
)
from jobs.readers.together.round_trip import KindRows, RowKind, rows_of
from tests.builders import make_company, make_stair
from tests.stages import STAGES

pytestmark = pytest.mark.django_db

WANTED: tuple[QuerySet[Any], ...] = (
    Job.objects.select_related("client", "company", "agreed_scope__document"),
    SiteFacts.objects.all(),
    Room.objects.select_related("zone__product"),
    Room.objects.only("job", "name"),
    WorkDay.objects.select_related("crew").only("date", "crew__name"),
    FloorZone.objects.select_related("product"),
    FloorPlan.objects.select_related("document").defer("document__text"),
    Scope.objects.select_related("document"),
    WorkDay.objects.select_related("crew", "job"),
    LogEntry.objects.select_related("day"),
    Packet.objects.select_related("pdf", "changed_pdf"),
    Product.objects.all(),
    StairFlight.objects.select_related("job"),
    Quote.objects.select_related("job__client"),
    QuoteEvent.objects.filter(pk__in=QuoteEvent.objects.order_by("-at").values("pk")[:5]),
)


@pytest.fixture(autouse=True)
def _book() -> None:
    company = make_company()
    for _, make in STAGES:
        make_stair(make(company), risers=["7 1/2", "7 9/16"])


def values_of(row: Any) -> dict[str, Any]:
    """Every column of a row that is loaded, and those of the rows that are joined to it."""
    columns = {key: value for key, value in vars(row).items() if not key.startswith("_")}
    ways = {field.name for field in row._meta.concrete_fields}
    joined = {
        name: other and values_of(other)
        for name, other in row._state.fields_cache.items()
        if name in ways
    }
    return columns | joined


def rows_as_read(wanted: QuerySet[Any]) -> list[Any]:
    kind: RowKind[Any] = RowKind(of=lambda _: wanted)
    return KindRows({kind: wanted})[kind]


def test_every_row_is_what_django_reads() -> None:
    for wanted in WANTED:
        here = [values_of(row) for row in rows_as_read(wanted)]
        assert here == [values_of(row) for row in wanted.order_by("pk")]


def test_all_of_them_come_in_one_round_trip_each_in_its_order() -> None:
    kinds: dict[RowKind[Any], QuerySet[Any]] = {
        RowKind(of=lambda _: Job.objects.none(), by=lambda row: -row.pk): rows for rows in WANTED
    }
    assert connection.features.supports_json_field  # a process asks for it once
    with CaptureQueriesContext(connection) as caught:
        rows = KindRows(kinds)
    assert len(caught) == 1
    for kind, wanted in kinds.items():
        assert rows[kind] == list(wanted.order_by("-pk"))


def test_keys_fetch_what_hangs_on_those_rows_however_many_they_are() -> None:
    kind = RowKind(of=lambda jobs: Room.objects.filter(job__in=jobs))
    jobs = [job.pk for job in Job.objects.order_by("pk")]
    for some in ([], jobs[:1], jobs[2:5], jobs):
        wanted = Room.objects.filter(job__in=some).order_by("pk")
        assert [values_of(row) for row in rows_of(some, kind)[kind]] == [
            values_of(row) for row in wanted
        ]


def test_more_keys_make_no_other_statement() -> None:
    kind = RowKind(of=lambda jobs: Room.objects.filter(job__in=jobs))
    with CaptureQueriesContext(connection) as caught:
        rows_of([1], kind)
        rows_of(range(2000), kind)
    one, many = (sub(r"\[.*\]|unnest\(.*?\)", "", query["sql"]) for query in caught)
    assert one == many


def test_what_can_have_no_rows_is_empty() -> None:
    none, some = (RowKind(of=lambda _: Job.objects.all()) for _ in range(2))
    rows = KindRows({none: Job.objects.none(), some: Job.objects.all()})
    assert not rows[none]
    assert len(rows[some]) == len(STAGES)


def test_what_was_not_wanted_is_not_there() -> None:
    with pytest.raises(KeyError):
        rows_of([])[RowKind(of=lambda _: Job.objects.all())]
