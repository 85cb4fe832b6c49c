"""What can go wrong in the layout core, in the trade's words."""

from __future__ import annotations


class LayoutError(Exception):
    """Anything the layout core refuses or could not do; the text is one line for a person."""


class Described(str):
    """What was found in place of a usable value, told in words and shown without quotes."""

    __slots__ = ()


class InputError(LayoutError):
    """A request or a plan that can't be read or used.

    Names the field (a path such as ``rules.min_end_piece``), the value found there and what
    would be accepted.
    """

    def __init__(self, field: str, value: object, accepted: str) -> None:
        self.field = field
        self.value = value
        self.accepted = accepted
        refused = (
            _short(value) if isinstance(value, Described) else f"{_short(value)} can't be used"
        )
        super().__init__(f"{field}: {refused}; accepted: {accepted}")


class NotYetError(InputError):
    """A part of the interchange form that this version can read but not plan."""


class NoPlanError(LayoutError):
    """The zone and the rules leave no floor to plan; the text says which and why."""


class StoppedError(LayoutError):
    """The caller stopped the work before a first valid plan stood."""


def _short(value: object, limit: int = 60) -> str:
    """Return ``value`` as one line of at most ``limit`` characters."""
    text = " ".join(_as_typed(value).split())
    return text if len(text) <= limit else text[: limit - 3] + "..."


def _as_typed(value: object) -> str:
    """Return ``value`` as a person would have typed it into the form."""
    match value:
        case Described():
            return str(value)
        case list():
            return "a list"
        case dict():
            return "an object"
        case None:
            return "null"
        case bool():
            return "true" if value else "false"
        case float():
            return f"{value:.10g}"
        case _:
            return repr(value)
