"""What a packet was made from, in short, and what has changed since. Pure.

A packet keeps its basis beside it, so that every page can tell, of many jobs at once, whether the
paper in the crew's hands still says how things stand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from jobs.domain.days.placed.reasons import day_words
from jobs.domain.packet.moisture import moisture_changes

# Any: text, numbers and lists of them, as JSON has them.
Basis = Mapping[str, Any]


def changes_since(then: Basis, now: Basis) -> list[str]:
    """Return in sentences what has changed between two bases; nothing where one is unknown."""
    if not then or not now:
        return []
    return [
        *_scope(then["scope"], now["scope"]),
        *_floors(then["floors"], now["floors"]),
        *_days(then["days"], now["days"]),
        *_site_changes(then, now),
    ]


def _scope(then: Basis, now: Basis) -> Iterator[str]:
    if then["sha256"] != now["sha256"]:
        if then["number"] == now["number"]:
            yield "The agreed scope is another one."
        else:
            yield f"Scope {now['number']} is agreed on now, not scope {then['number']}."


def _floors(then: Basis, now: Basis) -> Iterator[str]:
    for name, floor in now.items():
        before = then.get(name)
        if before is None:
            yield f"{name} is new."
        elif before["sha256"] != floor["sha256"]:
            yield _planned_again(name, before["plan"], floor["plan"])
    for name in then:
        if name not in now:
            yield f"{name} is gone."


def _planned_again(name: str, before: int, after: int) -> str:
    if not before or not after or before == after:
        return f"{name} is laid by another plan."
    return f"{name} is laid by plan {after} now, not by plan {before}."


def _days(then: Basis, now: Basis) -> Iterator[str]:
    for number in sorted({*then, *now}, key=int):
        before, after = then.get(number), now.get(number)
        if before is None:
            yield f"Day {number} is new."
        elif after is None:
            yield f"Day {number} is gone."
        else:
            yield from _day(number, before, after)


def _day(number: str, then: Basis, now: Basis) -> Iterator[str]:
    if then["date"] != now["date"]:
        yield f"Day {number} is on {_on(now)} now, not on {_on(then)}."
    if then["crew"] != now["crew"]:
        yield f"Day {number} is {now['crew']}'s now, not {then['crew']}'s."
    if "work" in then and then["work"] != now["work"]:
        yield f"Day {number} has other work, rows or hours."


def _on(day: Basis) -> str:
    return day_words(date.fromisoformat(day["date"]))


_SITE_WORDS = (
    ("job", "The address, the title or a name or phone of the client changed."),
    ("people", "The people of the crew or their phones changed."),
    ("facts", "What is known of the site changed."),
    ("access", "The way in changed, which is printed on it."),
    ("cleared", "A hold was cleared."),
    ("edges", "A doorway or a stair changed."),
)


def _site_changes(then: Basis, now: Basis) -> Iterator[str]:
    """Yield what changed on the site; a basis of before took readings for facts, in ``site``."""
    facts = "facts" if "facts" in then and "facts" in now else "site"
    for name, words in _SITE_WORDS:
        key = facts if name == "facts" else name
        if key in then and key in now and then[key] != now[key]:
            yield words
    if "moisture" in then and "moisture" in now:
        cleared = then.get("cleared") != now.get("cleared")
        yield from moisture_changes(then["moisture"], now["moisture"], cleared=cleared)


def pages_changed(then: Mapping[str, Any], now: Mapping[str, Any]) -> list[str]:
    """Return which parts of a packet differ between two contents: cover, load, floor N, day N.

    Parts are named as the sheets are printed; the cover is always one, since it says what changed.
    """
    floors = {floor["name"]: floor for floor in then["floors"]}
    days = {day["number"]: day for day in then["days"]}
    parts = ["cover"]
    parts += ["load"] if any(then[key] != now[key] for key in ("phases", "cautions")) else []
    parts += [
        f"floor {place}"
        for place, floor in enumerate(now["floors"], start=1)
        if floors.get(floor["name"]) != floor
    ]
    parts += ["edges"] if then["edges"] != now["edges"] else []
    parts += [f"day {day['number']}" for day in now["days"] if days.get(day["number"]) != day]
    return parts
