"""Saving an edited row so that whoever comes second reads what changed in words of the trade."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import TypeVar

from django.db.models import JSONField, Model

from jobs.domain.lengths import length_words
from jobs.models.base import MillimeterField, Versioned
from jobs.services.records import StaleError, save_versioned

V = TypeVar("V", bound=Versioned)


def save_measured(
    row: V,
    *,
    expected: int,
    names: tuple[str, ...],
    system: str,
    silent: tuple[str, ...] = (),
    more: Callable[[Versioned], Sequence[str]] | None = None,
) -> V:
    """Return ``row`` saved under its next version, lengths of a refusal in the unit ``system``.

    Raises StaleError whose changes name each field, what it is now and what was to be saved; not
    those of ``silent``, which ``more`` speaks of in its own sentences, given the row as it stands.
    """
    try:
        return save_versioned(row, expected=expected, names=names)
    except StaleError as stale:
        spoken = tuple(name for name in names if name not in silent)
        lines = [*_changes(row, stale.current, spoken, system)]
        lines += more(stale.current) if more else ()
        raise StaleError(stale.current, tuple(lines)) from None


def _changes(mine: Versioned, now: Versioned, names: tuple[str, ...], system: str) -> list[str]:
    lines = []
    for name in names:
        field = mine._meta.get_field(name)  # noqa: SLF001  public by Django's documentation
        if getattr(mine, name) == getattr(now, name):
            continue
        label = str(getattr(field, "verbose_name", name)).removesuffix(" mm").capitalize()
        if isinstance(field, JSONField):
            lines.append(f"{label} was changed.")
            continue
        theirs, yours = (_words(row, name, field, system) for row in (now, mine))
        lines.append(f"{label} is now “{theirs}”; you have “{yours}”.")
    return lines


def _words(row: Model, name: str, field: object, system: str) -> str:
    """Return the value of a field as a person reads it."""
    value = getattr(row, name)
    if value is None or value == "":
        return "nothing"
    if isinstance(field, MillimeterField):
        sized = getattr(row, "sized", None)  # a product's lengths read as its maker says them
        return str(sized(name)) if sized else length_words(Decimal(value), system)
    if isinstance(value, bool):
        return "yes" if value else "no"
    shown = getattr(row, f"get_{name}_display", None)
    return str(shown() if shown else value)
