"""Rows of several tables in one round trip to the database.

A page that shows where thirty jobs stand needs rows of twenty tables. Asked for one after another,
the way to the database costs more than the rows do. Here each query set becomes a part of one
statement: every row is written by the database as an array, and read back into the same model.
What is asked of rows by their keys reads the same whatever the keys are, so it is written once.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import lru_cache, partial
from typing import Any, Generic, TypeVar

from django.core.exceptions import EmptyResultSet
from django.db import connections, models
from django.db.models import Expression, F, JSONField, QuerySet, TextField
from django.db.models.functions import Cast, JSONArray

from jobs.readers.together.keys import KeyList

M = TypeVar("M", bound=models.Model)
Reader = Callable[[Any], Any]
Wanted = Sequence[int] | QuerySet[Any]
"""Keys of what rows hang on, or the rows themselves as a query set."""


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class RowKind(Generic[M]):
    """Rows of one kind. ``of`` finds them by keys of what they hang on; ``by`` puts them in order.

    ``of`` is called once for all keys: what it says may depend on them, and on nothing else.
    """

    of: Callable[[KeyList], QuerySet[M]]
    by: Callable[[M], Any] = lambda row: row.pk


class KindRows:
    """Rows of several kinds, fetched at once; each kind in its order.

    A kind is wanted for keys of what its rows hang on, or as a query set of its own.
    """

    def __init__(self, wanted: Mapping[RowKind[Any], Wanted]) -> None:
        parts = [_part(kind, rows) for kind, rows in wanted.items()]
        lines: list[list[Any]] = [[] for _ in parts]
        for place, values in _lines(parts):
            lines[place].append(values)
        self._rows = {
            kind: sorted(part.table.rows(cells), key=kind.by)
            for kind, part, cells in zip(wanted, parts, lines, strict=True)
        }

    def __getitem__(self, kind: RowKind[M]) -> list[M]:
        """Return the rows of a kind. Raises KeyError for one that was not wanted."""
        return self._rows[kind]


def rows_of(keys: Iterable[int], *kinds: RowKind[Any]) -> KindRows:
    """Return the rows of these kinds that hang on the rows with these keys."""
    those = tuple(keys)
    return KindRows(dict.fromkeys(kinds, those))


_exact = json.JSONDecoder(parse_float=Decimal).decode
"""Reads what the database wrote; a number with decimals keeps them."""


class _RowArray(JSONArray):
    # Text: no field's converter is called for each of thousands of rows. The arrays in it stay
    # arrays: as text PostgreSQL would quote them.
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

    alias: str
    model: type[models.Model]
    way: str
    columns: tuple[models.Field[Any, Any], ...]
    key: int
    readers: tuple[tuple[int, Reader], ...]
    joined: tuple[tuple[Any, _JoinedTable], ...]

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
            alias=rows.db,
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
        )

    @property
    def names(self) -> list[str]:
        """What the columns are called."""
        return [field.attname for field in self.columns]

    def array(self, kind: type[JSONArray] = _RowArray) -> JSONArray:
        """Return what the database writes of a row."""
        columns = JSONArray(*(self._column(field) for field in self.columns))
        return kind(columns, *(table.array(JSONArray) for _, table in self.joined))

    def _column(self, field: models.Field[Any, Any]) -> F | _OwnColumn | Cast:
        way = F(self.way + field.attname) if self.way else _OwnColumn(field)
        return Cast(way, TextField()) if isinstance(field, JSONField) else way

    def rows(self, lines: Iterable[Sequence[Any]]) -> Iterator[Any]:
        """Yield the rows that the database wrote; one that is joined to several is one."""
        known: dict[tuple[str, Any], Any] = {}
        return (self.row(values, known) for values in lines)

    def row(self, values: Sequence[Any], known: dict[tuple[str, Any], Any]) -> Any:
        """Return a row; None where there is none to join."""
        cells, *joined = values
        key = cells[self.key]
        if key is None:
            return None
        if (self.way, key) in known:
            return known[self.way, key]
        for place, reader in self.readers:
            if cells[place] is not None:
                cells[place] = reader(cells[place])
        row = known[self.way, key] = self.model.from_db(self.alias, self.names, cells)
        for (field, table), value in zip(self.joined, joined, strict=True):
            field.set_cached_value(row, table.row(value, known))
        return row


@dataclass(frozen=True, kw_only=True, slots=True)
class _Part:
    """A kind's part of the statement; ``sql`` is empty where there can be no rows."""

    table: _JoinedTable
    sql: str
    parameters: tuple[Any, ...]

    @classmethod
    def of(cls, rows: QuerySet[Any]) -> _Part:
        """Return the part that writes the rows of a query set."""
        table = _JoinedTable.of(rows)
        plain = rows.order_by().select_related(None).defer(None)
        written = plain.annotate(round_trip_row=table.array()).values_list("round_trip_row")
        try:
            sql, parameters = written.query.get_compiler(rows.db).as_sql()
        except EmptyResultSet:
            return cls(table=table, sql="", parameters=())
        return cls(table=table, sql=sql, parameters=tuple(parameters))


def _part(kind: RowKind[Any], rows: Wanted) -> _Part:
    """Return the part of a kind, of keys or of a query set."""
    if isinstance(rows, QuerySet):
        return _Part.of(rows)
    part = _part_of_keys(kind)
    written = KeyList.written(rows, connections[part.table.alias].vendor)
    return replace(part, parameters=KeyList.filled(part.parameters, written))


@lru_cache(maxsize=256)
def _part_of_keys(kind: RowKind[Any]) -> _Part:
    """Return a kind's part with a list of keys in it that is still to be filled."""
    return _Part.of(kind.of(KeyList()))


def _lines(parts: Sequence[_Part]) -> Iterator[tuple[int, Sequence[Any]]]:
    """Yield which part a line is of, and its values."""
    some = [(place, part) for place, part in enumerate(parts) if part.sql]
    if not some:
        return
    wrapped = (
        f"SELECT {place}, rows.* FROM ({part.sql}) rows"  # noqa: S608 - a number and what Django wrote
        for place, part in some
    )
    with connections[parts[0].table.alias].cursor() as cursor:
        cursor.execute(
            " UNION ALL ".join(wrapped), [value for _, part in some for value in part.parameters]
        )
        for place, written in cursor:
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
