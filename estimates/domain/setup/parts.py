"""In what parts a job is paid: shares of the total that leave something for the end. Pure."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.checks import BadValueError

WHOLE = Decimal(100)


def require_parts(deposit_percent: Decimal, progress_percent: Decimal) -> None:
    """Refuse a deposit and a part half way that come to more than the whole.

    All of it may be asked for before the end: whether that is allowed, the state says.

    Raises:
        BadValueError: of the field `progress_percent`.
    """
    most = WHOLE - deposit_percent
    if progress_percent > most:
        accepted = f"up to {plain(most)}%, what a deposit of {plain(deposit_percent)}% leaves"
        shown = f"{plain(progress_percent)}%"
        raise BadValueError(field="progress_percent", value=shown, accepted=accepted)


def require_deposit(deposit_percent: Decimal, progress_percent: Decimal) -> None:
    """Refuse the same of a deposit that is raised, the part half way being given.

    Raises:
        BadValueError: of the field `deposit_percent`.
    """
    most = WHOLE - progress_percent
    if deposit_percent > most:
        accepted = f"up to {plain(most)}%, what a payment half way of "
        accepted += f"{plain(progress_percent)}% leaves; lower that one in the company's set-up"
        shown = f"{plain(deposit_percent)}%"
        raise BadValueError(field="deposit_percent", value=shown, accepted=accepted)


def plain(number: Decimal) -> str:
    """Return a number as people write it: 30, not 30.00."""
    return f"{number.normalize():f}"
