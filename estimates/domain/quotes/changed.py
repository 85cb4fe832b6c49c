"""What a new version of a quote says differently from the one before, in sentences. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from estimates.domain.quotes.content import IssuedQuote
from estimates.domain.quotes.plain_words import day_words
from estimates.domain.terms.evidence import per_one
from jobs.domain.figures import area, money


def differences(before: IssuedQuote, now: IssuedQuote) -> tuple[str, ...]:
    """Return what differs, from the price to the days; one sentence where nothing that counts."""
    said = tuple(_said(before, now))
    return said or (f"The same work at the same price as quote {before.number}.",)


def _said(before: IssuedQuote, now: IssuedQuote) -> Iterator[str]:
    yield from _price(before, now)
    yield from _rooms(before, now)
    yield from _choices(before, now)
    if before.floor_words != now.floor_words and not before.older:
        yield f"Your floor is now: {' '.join(now.floor_words)}"
    if not before.older:
        yield from _listed("Not in this price", before.exclusions, now.exclusions)
        yield from _allowances(before, now)
        if len(before.days) != len(now.days):
            yield f"{len(now.days)} days in place of {len(before.days)}."
        if before.start != now.start:
            yield now.start
    if before.valid_until != now.valid_until:
        yield f"The price now holds until {day_words(now.valid_until)}."


def _price(before: IssuedQuote, now: IssuedQuote) -> Iterator[str]:
    if before.total != now.total:
        old, new = (money(each.total, each.currency) for each in (before, now))
        yield f"Total {new} in place of {old}."
    if before.deposit != now.deposit:
        old, new = (money(each.deposit, each.currency) for each in (before, now))
        yield f"Deposit {new} in place of {old}."


def _rooms(before: IssuedQuote, now: IssuedQuote) -> Iterator[str]:
    if before.older:
        return
    then = {room.name: room for room in before.rooms}
    here = {room.name: room for room in now.rooms}
    yield from (f"Added: {name}." for name in here if name not in then)
    yield from (f"Left out: {name}." for name in then if name not in here)
    for name in (room.name for room in now.rooms if room.name in then):
        if then[name].area_ft2 != here[name].area_ft2:
            yield f"{name}: {area(here[name].area_ft2)} in place of {area(then[name].area_ft2)}."
        elif then[name].text != here[name].text:
            yield f"{name}, the work: {here[name].text}"


def _choices(before: IssuedQuote, now: IssuedQuote) -> Iterator[str]:
    then = {choice.name: choice for choice in before.choices if before.has_choices}
    here = {choice.name: choice for choice in now.choices if now.has_choices}
    for name, choice in here.items():
        if name not in then:
            yield f"New choice: {name}, {money(choice.total, now.currency)}."
        elif then[name].total != choice.total:
            old = money(then[name].total, before.currency)
            yield f"{name}: {money(choice.total, now.currency)} in place of {old}."
    yield from (f"No longer a choice: {name}." for name in then if name not in here)


def _listed(title: str, before: tuple[str, ...], now: tuple[str, ...]) -> Iterator[str]:
    yield from (f"{title}, added: {line}" for line in now if line not in before)
    yield from (f"{title}, no longer: {line}" for line in before if line not in now)


def _allowances(before: IssuedQuote, now: IssuedQuote) -> Iterator[str]:
    then = {each.name: each for each in before.allowances}
    here = {each.name: each for each in now.allowances}
    for name, now_in in here.items():
        if then.get(name) != now_in:
            cap = money(now_in.most, now.currency)
            each = f"{money(now_in.each, now.currency)} {per_one(now_in.unit)}"
            yield f"If needed, {name}: {each}, never more than {cap}."
    yield from (f"No longer in the price: {name}." for name in then if name not in here)
