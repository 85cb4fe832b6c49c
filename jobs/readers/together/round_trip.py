"""Rows of several tables in one round trip to the database.

A page that shows where thirty jobs stand needs rows of twenty tables. Asked for one after another,
the way to the database costs more than the rows do. Here each query set becomes a part of one
statement: every row is written by the database as an array, and read back into the same model.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import partial
from typing import Any, Generic, TypeVar

from django.db import models
from django.db.models import Expression, F, JSONField, QuerySet, TextField, Value
from django.db.models.functions import Cast, JSONArray

M = TypeVar("M", bound=models.Model)
Reader = Callable[[Any], Any]


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class RowKind(Generic[M]):
    """Rows of one kind. ``of`` finds them for what a page is about; ``by`` puts them in order."""

    of: Callable[[Any], QuerySet[M]]
    by: Callable[[M], Any] = lambda row: row.pk


class KindRows:
    """Rows of several kinds, fetched at once; each kind in its order."""

    def __init__(self, wanted: Mapping[RowKind[Any], QuerySet[Any]]) -> None:
        tables = [_JoinedTable.of(rows) for rows in wanted.values()]
        lines: list[list[Any]] = [[] for _ in tables]
        for place, values in _lines(tables):
            lines[place].append(tables[place].row(values))
        self._rows = {
            kind: sorted(rows, key=kind.by) for kind, rows in zip(wanted, lines, strict=True)
        }

    def __getitem__(self, kind: RowKind[M]) -> list[M]:
        """Return the rows of a kind. Raises KeyError for one that was not wanted."""
        return self._rows[kind]


def rows_of(about: object, *kinds: RowKind[Any]) -> KindRows:
    """Return the rows of these kinds for what a page is about."""
    return KindRows({kind: kind.of(about) for kind in kinds})


_exact = json.JSONDecoder(parse_float=Decimal).decode
"""Reads what the database wrote; a number with decimals keeps them."""


class _Array(JSONArray):
    # Text: no field's converter is called for each of thousands of rows.
    output_field = TextField()  # type: ignore[assignment]


class _OwnColumn(Expression):
    """A column of a query set's own table: found without a look along joins, of which it has none.

    A round trip names some hundred columns, and looking for each as `F` does takes longer than the
    rows.
    """

    def __init__(self, field: models.Field[Any, Any]) -> None:
        super().__init__(output_field=field)
        self._field = field

    def resolve_expression(self, query: Any = None, *_: Any, **__: Any) -> Any:
        """Return the column of the table that the query begins with."""
        return self._field.get_col(query.get_initial_alias())


@dataclass(frozen=True, kw_only=True, slots=True)
class _JoinedTable:
    """A query set by its model: its own columns, then those of each table joined to it."""

    rows: QuerySet[Any]
    model: type[models.Model]
    way: str
    columns: tuple[models.Field[Any, Any], ...]
    key: int
    readers: tuple[tuple[int, Reader], ...]
    joined: tuple[tuple[Any, _JoinedTable], ...]
    known: dict[Any, Any]

    @classmethod
    def of(cls, rows: QuerySet[Any]) -> _JoinedTable:
        """Return the table of a query set with what it selects beside its own rows."""
        also = rows.query.select_related
        return cls._of(rows, rows.model, "", also if isinstance(also, dict) else {})

    @classmethod
    def _of(
        cls, rows: QuerySet[Any], model: type[models.Model], way: str, also: Mapping[str, Any]
    ) -> _JoinedTable:
        fields = [field for field in _columns_of(model) if _is_loaded(rows, way, field)]
        readers = ((place, _reader(field)) for place, field in enumerate(fields))
        return cls(
            rows=rows,
            model=model,
            way=way,
            columns=tuple(fields),
            key=next(place for place, field in enumerate(fields) if field.primary_key),
            readers=tuple((place, reader) for place, reader in readers if reader),
            joined=tuple(
                (
                    field,
                    cls._of(rows, field.related_model, f"{way}{field.name}__", also[field.name]),
                )
                for field in fields
                if field.name in also and field.related_model
            ),
            known={},
        )

    @property
    def names(self) -> list[str]:
        """What the columns are called."""
        return [field.attname for field in self.columns]

    def array(self) -> _Array:
        """Return what the database writes of a row."""
        columns = _Array(*(self._column(field) for field in self.columns))
        return _Array(columns, *(table.array() for _, table in self.joined))

    def _column(self, field: models.Field[Any, Any]) -> F | _OwnColumn | Cast:
        way = F(self.way + field.attname) if self.way else _OwnColumn(field)
        return Cast(way, TextField()) if isinstance(field, JSONField) else way

    def row(self, values: Sequence[Any]) -> Any:
        """Return the row that the database wrote; None where there is none to join."""
        cells, *joined = values
        key = cells[self.key]
        if key is None:
            return None
        if key in self.known:
            return self.known[key]
        for place, reader in self.readers:
            if cells[place] is not None:
                cells[place] = reader(cells[place])
        row = self.known[key] = self.model.from_db(self.rows.db, self.names, cells)
        for (field, table), value in zip(self.joined, joined, strict=True):
            field.set_cached_value(row, table.row(value))
        return row


def _lines(tables: Sequence[_JoinedTable]) -> Iterator[tuple[int, Sequence[Any]]]:
    """Yield which table a line is of, and its values."""
    parts = [
        table.rows.order_by()
        .select_related(None)
        .defer(None)
        .annotate(round_trip_row=table.array())
        .values_list(Value(place), "round_trip_row")
        for place, table in enumerate(tables)
    ]
    if parts:
        first, *others = parts
        for place, written in first.union(*others, all=True) if others else first:
            yield place, _exact(written)


def _columns_of(model: type[models.Model]) -> Sequence[models.Field[Any, Any]]:
    return model._meta.concrete_fields  # noqa: SLF001 - Django's own way to a table's columns


def _is_loaded(rows: QuerySet[Any], way: str, field: models.Field[Any, Any]) -> bool:
    """Whether a query set loads a column: all but what it defers, or only what it names."""
    names, is_deferred = rows.query.deferred_loading
    name = way + field.name
    if field.primary_key:
        return True
    if is_deferred:
        return name not in names
    return name in names or any(one.startswith(f"{name}__") for one in names)


def _reader(field: models.Field[Any, Any]) -> Reader | None:
    """Return what makes a value of what the database wrote of it; None where that is the value."""
    if isinstance(field, models.ForeignKey):
        return _reader(field.target_field)
    if isinstance(field, JSONField):
        return partial(json.loads, cls=field.decoder)
    if isinstance(field, models.DecimalField):
        step = Decimal(1).scaleb(-(field.decimal_places or 0))
        return lambda value: Decimal(value).quantize(step)
    if isinstance(field, models.DateTimeField):
        return _moment
    if isinstance(field, models.DateField):
        return date.fromisoformat
    return bool if isinstance(field, models.BooleanField) else None


def _moment(value: str) -> datetime:
    """Return a moment; a database that keeps no time zone keeps UTC."""
    moment = datetime.fromisoformat(value)
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)
