"""What a value is refused for, said the same way everywhere in the arithmetic.

A value that can't be right is refused when it is made, with the field, the value that was given
and what would be accepted.
"""

from collections.abc import Collection
from decimal import Decimal

ZERO = Decimal(0)
ONE = Decimal(1)


class BadValueError(ValueError):
    """A field holds what it can't hold.

    `field`, `value` and `accepted` are kept apart so that a form can show the message beside the
    field and keep what was typed.
    """

    def __init__(self, *, field: str, value: object, accepted: str) -> None:
        """Say which field, which value and what would be accepted."""
        super().__init__(f"{field} is {_shown(value)}; accepted: {accepted}.")
        self.field = field
        self.value = value
        self.accepted = accepted


def as_sentence(bad: BadValueError) -> str:
    """Return a refusal as sentences for a page: what it is about, how it is, what is needed."""
    about = f"{bad.field[:1].upper()}{bad.field[1:]}"
    return f"{about}: {bad.value}. Needed: {bad.accepted}."


def _shown(value: object) -> str:
    if value is None:
        return "missing"
    return repr(value) if isinstance(value, str) else str(value)


def require_text(field: str, value: str) -> None:
    """Refuse a text that is empty or only blanks."""
    if not value.strip():
        raise BadValueError(field=field, value=value, accepted="a text that is not empty")


def require_choice(field: str, value: str, choices: Collection[str]) -> None:
    """Refuse a value that is not one of `choices`."""
    if value not in choices:
        raise BadValueError(
            field=field, value=value, accepted="one of " + ", ".join(sorted(choices))
        )


def require_number(
    field: str,
    value: Decimal | int,
    *,
    above: Decimal | int | None = None,
    least: Decimal | int | None = None,
    most: Decimal | int | None = None,
    below: Decimal | int | None = None,
) -> None:
    """Refuse a number that is not finite or outside its bounds; `above` and `below` are out too."""
    inside = (
        Decimal(value).is_finite()
        and (above is None or value > above)
        and (least is None or value >= least)
        and (most is None or value <= most)
        and (below is None or value < below)
    )
    if not inside:
        raise BadValueError(field=field, value=value, accepted=_bounds(above, least, most, below))


def _bounds(*bounds: Decimal | int | None) -> str:
    said = zip(("more than", "at least", "at most", "less than"), bounds, strict=True)
    words = [f"{word} {bound}" for word, bound in said if bound is not None]
    return "a number" if not words else "a number of " + " and ".join(words)


def require_unique(field: str, values: Collection[str]) -> None:
    """Refuse a list in which a name stands twice."""
    seen: set[str] = set()
    for value in values:
        if value in seen:
            raise BadValueError(field=field, value=value, accepted="each name once")
        seen.add(value)
