"""Frozen documents: one text for one content, and its fingerprint.

A plan, a scope, a quote, a change order and a packet are stored whole as *canonical text* (keys
sorted, no blanks, decimals as strings, every letter as itself) with its *digest* (SHA-256, FIPS
180-4). Equal content gives equal text, so a digest proves that nothing was edited.
`plain` and `restore` carry our frozen dataclasses into such a document and back without loss.
Stored keys are declared with `stored`, apart from the names of fields: a rename in code is none in
the books.
"""

import dataclasses
import hashlib
import json
import types
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any, Literal, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from jobs.domain.checks import BadValueError
from jobs.domain.formats import Fields

Value = TypeVar("Value")
_KEYS: dict[type, dict[str, str]] = {}
"""Of each stored dataclass the key of every field."""
_HINTS: dict[type, dict[str, object]] = {}
"""Of each dataclass restored so far the kind of every field."""


def stored(*same: str, **renamed: str) -> Callable[[type[Value]], type[Value]]:
    """Return the decorator that declares the keys under which a dataclass is stored.

    ``same`` names, between blanks, the fields whose key is their name. A field that is called
    otherwise in code than in the books says its key: ``field="key"``. A key once stored stays.

    Raises BadValueError, when the class is made, unless every field has one key of its own.
    """
    keys = {name: name for names in same for name in names.split()} | renamed

    def declare(kind: type[Value]) -> type[Value]:
        # Any: that the class is a dataclass, its decorator above this one says.
        names = [part.name for part in dataclasses.fields(cast(Any, kind))]
        if sorted(keys) != sorted(names) or len(set(keys.values())) < len(keys):
            accepted = "a key of its own for each of " + ", ".join(names)
            shown = ", ".join(f"{name}={key}" for name, key in keys.items())
            field = f"stored keys of {kind.__name__}"
            raise BadValueError(field=field, value=shown, accepted=accepted)
        _KEYS[kind] = {name: keys[name] for name in names}
        return kind

    return declare


def canonical_json(value: object) -> str:
    """Return `value` as canonical JSON: keys sorted, no blanks, decimals and dates as strings.

    Raises BadValueError for what has no one text: infinite numbers, keys that are not strings,
    kinds that JSON doesn't know, and half characters.
    """
    ready = _jsonable("document", value)
    text = json.dumps(ready, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    if any("\ud800" <= letter <= "\udfff" for letter in text):
        raise BadValueError(field="document", value="half a character", accepted="whole characters")
    return text


def digest(text: str) -> str:
    """Return the SHA-256 of `text` as UTF-8, 64 lower-case hexadecimal digits."""
    return hashlib.sha256(text.encode()).hexdigest()


def plain_decimal(number: Decimal) -> str:
    """Return a decimal without an exponent, trailing zeros kept, nought without a sign."""
    if not number.is_finite():
        raise BadValueError(field="document", value=number, accepted="a finite number")
    return format(number if number else abs(number), "f")


def _jsonable(field: str, value: object) -> object:
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, Decimal):
        return plain_decimal(value)
    if isinstance(value, float):
        if value - value != 0.0:
            raise BadValueError(field=field, value=value, accepted="a finite number")
        return value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return [_jsonable(f"{field}[{place}]", item) for place, item in enumerate(value)]
    if isinstance(value, Mapping):
        return {_key(field, key): _jsonable(f"{field}.{key}", item) for key, item in value.items()}
    accepted = "text, number, true, false, null, date, list or mapping"
    raise BadValueError(field=field, value=type(value).__name__, accepted=accepted)


def _key(field: str, key: object) -> str:
    if not isinstance(key, str):
        raise BadValueError(field=field, value=key, accepted="keys that are text")
    return key


def plain(value: object) -> Fields:
    """Return a frozen dataclass under its stored keys, as dicts, lists, strings, whole numbers.

    Raises BadValueError for one whose keys are not declared with `stored`.
    """
    keys = _keys_of(type(value))
    return {key: _plain(getattr(value, name)) for name, key in keys.items()}


def _plain(value: object) -> object:
    if dataclasses.is_dataclass(value):
        return plain(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return plain_decimal(value) if isinstance(value, Decimal) else value


def restore(kind: type[Value], data: object, where: str = "document") -> Value:
    """Return the dataclass `kind` that `plain` made `data` from.

    Raises BadValueError, naming the place, where a key is missing or unknown or its value of the
    wrong kind; the dataclass then checks its own bounds.
    """
    if not isinstance(data, Mapping):
        raise BadValueError(field=where, value=data, accepted="a mapping")
    keys, hints = _keys_of(kind), _hints_of(kind)
    for key in data:
        if key not in keys.values():
            accepted = "one of " + ", ".join(sorted(keys.values()))
            raise BadValueError(field=f"{where}.{key}", value="unknown", accepted=accepted)
    for key in keys.values():
        if key not in data:
            raise BadValueError(field=f"{where}.{key}", value=None, accepted="a value")
    fields = {
        name: _restored(hints[name], data[key], f"{where}.{key}") for name, key in keys.items()
    }
    return kind(**fields)


def _keys_of(kind: type) -> Mapping[str, str]:
    """Return the key of every field of a stored dataclass."""
    try:
        return _KEYS[kind]
    except KeyError:
        accepted = "a dataclass whose keys are declared with `stored`"
        raise BadValueError(field="document", value=kind.__name__, accepted=accepted) from None


def _hints_of(kind: type) -> Mapping[str, object]:
    """Return the kind of every field of a dataclass, which stays as it was written."""
    if kind not in _HINTS:
        _HINTS[kind] = get_type_hints(kind)
    return _HINTS[kind]


def _restored(hint: object, data: object, where: str) -> object:
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        inner = [option for option in get_args(hint) if option is not type(None)]
        return None if data is None else _restored(inner[0], data, where)
    if origin is tuple:
        return _restored_tuple(get_args(hint), data, where)
    if origin is Literal:
        return _one_of(get_args(hint), data, where)
    if hint is Decimal:
        return _decimal(data, where)
    if dataclasses.is_dataclass(hint):
        return restore(cast("type[object]", hint), data, where)
    if type(data) is not hint:
        kind = hint.__name__ if isinstance(hint, type) else hint
        raise BadValueError(field=where, value=data, accepted=f"a value of kind {kind}")
    return data


def _restored_tuple(hints: tuple[object, ...], data: object, where: str) -> tuple[object, ...]:
    if not isinstance(data, list | tuple):
        raise BadValueError(field=where, value=data, accepted="a list")
    if hints[-1] is Ellipsis:
        places = enumerate(data)
        return tuple(_restored(hints[0], item, f"{where}[{place}]") for place, item in places)
    if len(data) != len(hints):
        raise BadValueError(field=where, value=data, accepted=f"a list of {len(hints)}")
    return tuple(_restored(hint, item, where) for hint, item in zip(hints, data, strict=True))


def _one_of(choices: tuple[object, ...], data: object, where: str) -> object:
    if data not in choices:
        accepted = "one of " + ", ".join(str(choice) for choice in choices)
        raise BadValueError(field=where, value=data, accepted=accepted)
    return data


def _decimal(data: object, where: str) -> Decimal:
    accepted = "a decimal number written as text"
    if not isinstance(data, str):
        raise BadValueError(field=where, value=data, accepted=accepted)
    try:
        number = Decimal(data)
    except InvalidOperation:
        raise BadValueError(field=where, value=data, accepted=accepted) from None
    if not number.is_finite():
        raise BadValueError(field=where, value=data, accepted=accepted)
    return number
