"""What drove the hours of a task off its estimate: changes, spoiled planks, lost days, the rate.

Each cause has its hours and its money; what none of the others explains is the rate itself.
"""

from collections.abc import Sequence
from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.review.values import Cause, CauseKind, Logged, TaskRow
from jobs.domain.checks import ZERO
from jobs.domain.quantities import in_units
from jobs.domain.scope.rates import to_hundredths
from jobs.domain.scope.scope import FrozenScope


def causes_of(
    row: TaskRow,
    entries: Sequence[Logged],
    scopes: tuple[FrozenScope, FrozenScope],
    burdened_rate: Decimal,
    to_come: Decimal = ZERO,
) -> tuple[Cause, ...]:
    """Return what moved a task from its estimate to its log, in the order of the job.

    `scopes` are the quoted and the agreed one; `to_come` are agreed hours of what isn't done yet:
    the pace is held against the rest. Hours sum to logged less estimated, money to the
    difference of the costs: the last cause takes what rounding leaves.
    """
    spoiled = sum(entry.spoiled for entry in entries)
    back = sum((entry.hours for entry in entries if entry.callback), ZERO)
    lost = sum((entry.hours for entry in entries if entry.lost and not entry.callback), ZERO)
    again = _laid_again(row, spoiled, scopes[1])
    rest = row.over - again - lost - back + to_come
    parts: list[tuple[CauseKind, str, Decimal]] = [
        ("changes", _changes_said(row, scopes), row.agreed - row.estimated),
        ("spoiled", f"{in_units(Decimal(spoiled), 'plank')} spoiled and laid again", again),
        ("lost", "on a lost day", lost),
        ("callback", "callback", back),
        ("to come", "still to come", -to_come),
        ("rate", _rate_said(row, rest, to_come), rest),
    ]
    causes = [
        Cause(kind=kind, text=text, hours=hours, amount=cents(-hours * burdened_rate))
        for kind, text, hours in parts
        if hours
    ]
    whole = cents(row.estimated * burdened_rate) - row.cost
    return _to_the_cent(causes, whole)


def _to_the_cent(causes: list[Cause], whole: Decimal) -> tuple[Cause, ...]:
    """Return the causes with the last one's money such that together they are the whole."""
    if not causes:
        return ()
    *before, last = causes
    rest = whole - sum((cause.amount for cause in before), ZERO)
    ended = Cause(kind=last.kind, text=last.text, hours=last.hours, amount=rest)
    return (*before, ended)


def _laid_again(row: TaskRow, spoiled: int, agreed: FrozenScope) -> Decimal:
    """Return the hours that spoiled planks took: each as long as a piece of its floor does."""
    pieces = _count("pieces", row.zone, agreed)
    if row.code != "lay" or not spoiled or not pieces:
        return ZERO
    return to_hundredths(row.agreed * spoiled / pieces)


def _count(code: str, zone: str, scope: FrozenScope) -> Decimal:
    counted = (q.amount for q in scope.quantities if (q.code, q.zone) == (code, zone))
    return sum(counted, ZERO)


def _changes_said(row: TaskRow, scopes: tuple[FrozenScope, FrozenScope]) -> str:
    """Return a change in words: for laying by its rows, where it has others now."""
    then, now = (_count("rows", row.zone, scope) for scope in scopes)
    if row.code == "lay" and then and now and then != now:
        return f"change orders: {in_units(now, 'row')} for {in_units(then, 'row')}"
    return "change orders"


def _rate_said(row: TaskRow, rest: Decimal, to_come: Decimal) -> str:
    """Return in words how the pace differed from the rate."""
    done = row.agreed - to_come
    if not row.agreed:
        return "not in what was agreed"
    if not row.logged or done <= 0:
        return "not logged"
    share = (abs(rest) / done * 100).quantize(Decimal(1))
    return f"{share}% {'slower' if rest > 0 else 'faster'} than the rate"
