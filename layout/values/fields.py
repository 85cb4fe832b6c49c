"""Reading the interchange forms: JSON values with their path, refused by field, value and range."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from enum import StrEnum
from typing import TypeVar

from layout.values.errors import Described, InputError

_MOST_NUMBER = 1e9
_MISSING = object()
Choice = TypeVar("Choice", bound=StrEnum)


def check_number(
    value: float,
    where: str,
    *,
    least: float = 0.0,
    most: float = math.inf,
    above: float | None = None,
) -> None:
    """Refuse a number outside ``least`` to ``most``, or not above ``above`` where that is given.

    Raises InputError naming ``where``.
    """
    low = value > above if above is not None else value >= least
    if not (low and value <= most and math.isfinite(value)):
        raise InputError(where, value, range_words(least=least, most=most, above=above))


def range_words(*, least: float, most: float = math.inf, above: float | None = None) -> str:
    """Return a range in words, such as "0 or more" or "more than 0, at most 6"."""
    low = f"more than {above:g}" if above is not None else f"{least:g}"
    if math.isinf(most):
        return low if above is not None else f"{low} or more"
    return f"{low}, at most {most:g}" if above is not None else f"{low} to {most:g}"


def as_number(value: object, where: str) -> float:
    """Return a finite number of the form, whole or not. Raises InputError."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InputError(where, value, "a number")
    if not -_MOST_NUMBER <= value <= _MOST_NUMBER:
        raise InputError(where, value, "a finite number of sensible size")
    return float(value)


def as_count(value: object, where: str) -> int:
    """Return a whole number of the form. Raises InputError."""
    number = as_number(value, where)
    if number != int(number):
        raise InputError(where, value, "a whole number")
    return int(number)


def as_text(value: object, where: str) -> str:
    """Return a text of 1 to 200 characters. Raises InputError."""
    if not isinstance(value, str) or not 1 <= len(value) <= 200:
        raise InputError(where, value, "a text of 1 to 200 characters")
    if not value.isprintable():
        raise InputError(where, value, "a text of printable characters in one line")
    return value


def as_list(value: object, where: str, *, most: int = 20_000) -> list[object]:
    """Return a list of at most ``most`` entries. Raises InputError."""
    if not isinstance(value, list):
        raise InputError(where, value, "a list")
    if len(value) > most:
        raise InputError(where, Described(f"{len(value)} entries"), f"at most {most}")
    return value


def as_point(value: object, where: str) -> tuple[float, float]:
    """Return an [x, y] pair. Raises InputError."""
    pair = as_list(value, where)
    if len(pair) != 2:
        raise InputError(where, Described(f"{len(pair)} numbers"), "a pair [x, y]")
    return as_number(pair[0], f"{where}[0]"), as_number(pair[1], f"{where}[1]")


def as_ring(value: object, where: str) -> tuple[tuple[float, float], ...]:
    """Return a ring of at least three points. Raises InputError."""
    points = as_list(value, where)
    if len(points) < 3:
        raise InputError(where, Described(f"{len(points)} corners"), "3 corners or more")
    return tuple(as_point(point, f"{where}[{i}]") for i, point in enumerate(points))


def refuse_doubled(ids: Iterable[str], where: str) -> None:
    """Refuse a name that stands twice. Raises InputError."""
    for name, count in Counter(ids).items():
        if count > 1:
            raise InputError(where, Described(f'id "{name}" stands {count} times'), "each id once")


def as_lists(value: object) -> object:
    """Return JSON data with lists where values hold tuples, as it is read again."""
    if isinstance(value, dict):
        return {key: as_lists(inner) for key, inner in value.items()}
    return [as_lists(inner) for inner in value] if isinstance(value, list | tuple) else value


class Fields:
    """One JSON object being read: knows its path, remembers which fields were asked for."""

    def __init__(self, data: object, where: str) -> None:
        if not isinstance(data, dict):
            raise InputError(where or "request", data, "an object { ... }")
        self._data: dict[str, object] = data
        self._where = where
        self._read: set[str] = set()

    def path(self, name: str) -> str:
        """Return the path of a field for messages."""
        return f"{self._where}.{name}" if self._where else name

    def has(self, name: str) -> bool:
        """Whether the field is there and not null."""
        self._read.add(name)
        return self._data.get(name) is not None

    def raw(self, name: str, accepted: str) -> object:
        """Return a field as it stands. Raises InputError when it is missing."""
        self._read.add(name)
        value = self._data.get(name, _MISSING)
        if value is _MISSING:
            raise InputError(self.path(name), Described("missing"), accepted)
        return value

    def number(self, name: str, default: float | None = None) -> float:
        """Return a number; without a default the field is required."""
        if default is not None and not self.has(name):
            return default
        return as_number(self.raw(name, "a number"), self.path(name))

    def number_or_none(self, name: str) -> float | None:
        """Return a number, or None where nothing was said."""
        return self.number(name) if self.has(name) else None

    def count(self, name: str, default: int | None = None) -> int:
        """Return a whole number; without a default the field is required."""
        if default is not None and not self.has(name):
            return default
        return as_count(self.raw(name, "a whole number"), self.path(name))

    def count_or_none(self, name: str) -> int | None:
        """Return a whole number, or None where nothing was said."""
        return self.count(name) if self.has(name) else None

    def text(self, name: str) -> str:
        """Return a required text."""
        return as_text(self.raw(name, "a text"), self.path(name))

    def text_or_none(self, name: str) -> str | None:
        """Return a text, or None where nothing was said."""
        return self.text(name) if self.has(name) else None

    def flag(self, name: str, *, default: bool) -> bool:
        """Whether the flag is set."""
        value = self.raw(name, "true or false") if self.has(name) else default
        if not isinstance(value, bool):
            raise InputError(self.path(name), value, "true or false")
        return value

    def choice(self, name: str, choices: type[Choice], default: Choice | None = None) -> Choice:
        """Return one of the named choices; without a default the field is required."""
        if default is not None and not self.has(name):
            return default
        accepted = " or ".join(f'"{choice.value}"' for choice in choices)
        value = self.raw(name, accepted)
        if not isinstance(value, str) or value not in {choice.value for choice in choices}:
            raise InputError(self.path(name), value, accepted)
        return choices(value)

    def child(self, name: str) -> Fields:
        """Return a required object inside this one."""
        return Fields(self.raw(name, "an object { ... }"), self.path(name))

    def entries(self, name: str, *, most: int = 20_000) -> Iterator[tuple[str, object]]:
        """Yield the entries of an optional list, each with its path."""
        if self.has(name):
            where = self.path(name)
            for i, value in enumerate(as_list(self._data[name], where, most=most)):
                yield f"{where}[{i}]", value

    def pairs(self, name: str) -> Iterator[tuple[str, str, object]]:
        """Yield key, path and value of an optional object."""
        if self.has(name):
            inner = Fields(self._data[name], self.path(name))
            for key, value in inner._data.items():
                yield key, inner.path(key), value

    def rest(self) -> dict[str, object]:
        """Return the fields that nobody asked for."""
        return {key: value for key, value in self._data.items() if key not in self._read}

    def refuse_unknown(self, known: Collection[str] = ()) -> None:
        """Refuse a field that nobody asked for, so that no misspelt rule is passed over."""
        for key in self.rest():
            if key not in known:
                accepted = ", ".join(sorted(self._read | set(known)))
                raise InputError(self.path(key[:60]), Described("unknown field"), accepted)
