"""What stands in a field that nobody filled in with care."""

from __future__ import annotations

import json
from random import Random
from typing import Any

Json = Any
"""A value as JSON has it: it nests by rules of its own."""

NUMBERS = (
    *("", "0", "-1", "1", "2", "1.5", "-0.0", "00012", "1e9", "1e400", "NaN", "Infinity", "-inf"),
    *("9" * 18, "9" * 19, "9" * 40, "²", "٣", "½", "1/0", "1,5", "0x10", "1_0", "+1", " 7 "),
)
LENGTHS = (
    *("12' 4 1/2\"", "12 ft", "1/64", "3.76 m", "0", "-3'", "1/0", "99999 km", "12' 14\"", '""'),
    *("'", "1 1/2 1/2", "1e5 mm", "5 furlongs", "½", "12′ 4½″"),
)
DAYS = (
    *("2027-03-01", "2027-02-29", "2028-02-29", "0001-01-01", "9999-12-31", "10000-01-01"),
    *("2027-3-1", "03/01/2027", "2027-13-01", "today", "2027-03-01T25:61", "-2027-03-01"),
)
WORDS = (
    *("x", "undefined", "null", "None", "true", "on", "off", "[]", "{}", '{"a":', "%s", "%00"),
    *("' OR 1=1 --", "<script>alert(1)</script>", "{{ 7|add:7 }}", "../../etc/passwd", "\u202e"),
    *("a" * 5000, "é" * 300, "🪵" * 200, "\u0000", "a\r\nSet-Cookie: a=b", "\ud800", "\ufffe"),
    *("ines@example.com", "@", "a@b", "555-0142", "job", "save", "propose", "remove", "add-row"),
)
ALL = NUMBERS + LENGTHS + DAYS + WORDS


def any_value(chance: Random) -> str:
    """Return a value of any kind."""
    kind = chance.choice((NUMBERS, LENGTHS, DAYS, WORDS, ALL))
    return chance.choice(kind)


def spoiled(chance: Random, value: str) -> str:
    """Return a value like this one, and not quite."""
    if value[:1] in ("{", "[") and chance.random() < 0.8:
        return spoiled_json(chance, value)
    kind = chance.randrange(6)
    if kind == 0 or not value:
        return any_value(chance)
    if kind == 1:
        return value[: chance.randrange(len(value) + 1)]
    if kind == 2:
        return value + any_value(chance)[:50]
    if kind == 3:
        place = chance.randrange(len(value))
        return value[:place] + chance.choice("0-./' \u00b2\u0000e") + value[place + 1 :]
    return any_value(chance)


def spoiled_json(chance: Random, text: str) -> str:
    """Return JSON with a few of its values or keys changed; cut off, once in a while."""
    try:
        content: Json = json.loads(text)
    except ValueError:
        return any_value(chance)
    for _ in range(chance.randint(1, 3)):
        content = _spoil(chance, content, depth=0)
    said = json.dumps(content)
    return said[: chance.randrange(len(said) + 1)] if chance.random() < 0.1 else said


def _spoil(chance: Random, content: Json, *, depth: int) -> Json:
    if isinstance(content, dict) and content and depth < 8 and chance.random() < 0.85:
        key = chance.choice(sorted(content))
        if chance.random() < 0.15:
            return {name: value for name, value in content.items() if name != key}
        return content | {key: _spoil(chance, content[key], depth=depth + 1)}
    if isinstance(content, list) and content and depth < 8 and chance.random() < 0.85:
        place = chance.randrange(len(content))
        if chance.random() < 0.15:
            return content[:place] + content[place + 1 :]
        changed = _spoil(chance, content[place], depth=depth + 1)
        return [*content[:place], changed, *content[place + 1 :]]
    return chance.choice(_ODD)


_ODD: tuple[Json, ...] = (
    *(None, True, False, 0, -1, 1, 2, 0.5, 1e308, 10**30, float("nan"), "", "x", "12'", "a" * 3000),
    *([], {}, [[]], [None], {"a": {"b": []}}, "\u0000", "2027-02-30", [0] * 200),
)
