"""The margin review: what was quoted against what was logged and bought, and why they differ."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from estimates.domain.money import cents, margin_of
from estimates.domain.priced import Priced
from estimates.domain.review.causes import causes_of
from estimates.domain.review.materials import material_rows
from estimates.domain.review.reached import Earning, days_reached, to_come
from estimates.domain.review.values import (
    Bought,
    Logged,
    MaterialRow,
    Money,
    Reason,
    Review,
    ReviewTerms,
    TaskRow,
)
from estimates.domain.terms.booked import days_of_scope, per_day
from jobs.domain.checks import ZERO
from jobs.domain.days.on_site import booked_for
from jobs.domain.quantities import in_units
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import OTHER, TASKS, Task

EXTRA = (OTHER, "")
"""The task under which work beside the scope is logged, also what a change order ordered."""


def review(
    *,
    quoted: FrozenScope,
    quoted_priced: Priced,
    logs: Sequence[Logged],
    purchases: Sequence[Bought],
    terms: ReviewTerms,
    agreed: FrozenScope | None = None,
    agreed_priced: Priced | None = None,
    as_laid: Sequence[Task] = (),
    closed: bool = False,
) -> Review:
    """Return the review of a job.

    `agreed` is the scope after change orders, `agreed_priced` its pricing; without them what was
    quoted was agreed. `as_laid`: the crew's tasks by the plans that are laid now, where these
    differ. `closed`: all of the work is done.
    """
    now = agreed or quoted
    left = {} if closed else to_come(as_laid or now.crews_tasks, logs, terms.extra_hours)
    tasks = _task_rows(quoted, now, logs, terms, left)
    materials = material_rows(quoted_priced, agreed_priced or quoted_priced, purchases, now)
    unbought = [row for row in materials if not (closed or row.bought or row.paid)]
    before = _quoted_money(quoted_priced, quoted, terms)
    days = days_worked(logs, terms.crew_hours_per_day)
    after = _real_money(before, tasks, materials, terms, days)
    return Review(
        tasks=tasks,
        materials=materials,
        quoted=before,
        real=after,
        planks_spoiled=sum(entry.spoiled for entry in logs),
        bridge=_bridge(before, after, _to_come(left, unbought, terms)),
        reasons=_reasons(
            tasks,
            [row for row in materials if row not in unbought],
            logs,
            terms,
            _days_reason(days, terms.planned_days, closed),
        ),
        reached=days_reached(
            now,
            logs,
            Earning.of(after, terms),
            terms.crew_hours_per_day,
            as_laid=as_laid,
            closed=closed,
        ),
        budget=now.crews_hours + terms.extra_hours,
    )


def _task_rows(
    quoted: FrozenScope,
    agreed: FrozenScope,
    logs: Sequence[Logged],
    terms: ReviewTerms,
    left: Mapping[tuple[str, str], Decimal],
) -> tuple[TaskRow, ...]:
    estimated = {(task.code, task.zone): task for task in quoted.crews_tasks}
    settled = {(task.code, task.zone): task for task in agreed.crews_tasks}
    logged: dict[tuple[str, str], list[Logged]] = defaultdict(list)
    for entry in logs:
        logged[entry.task_code, entry.zone].append(entry)
    rows = []
    extra = {EXTRA: terms.extra_hours} if terms.extra_hours else {}
    for key in dict.fromkeys((*estimated, *settled, *extra, *logged)):
        code, zone = key
        first, now, entries = estimated.get(key), settled.get(key), logged.get(key, [])
        task = now or first
        hours = sum((entry.hours for entry in entries), ZERO)
        row = TaskRow(
            code=code,
            label=task.label if task else _label(code),
            zone=zone,
            estimated=first.hours if first else ZERO,
            agreed=now.hours if now else extra.get(key, ZERO),
            logged=hours,
            cost=cents(hours * terms.burdened_rate),
        )
        causes = causes_of(row, entries, (quoted, agreed), terms.burdened_rate, left.get(key, ZERO))
        rows.append(replace(row, causes=causes))
    return tuple(row for row in rows if row.estimated or row.agreed or row.logged)


def _label(code: str) -> str:
    if code == OTHER:
        return "Other work"
    return TASKS[code].label if code in TASKS else code.replace("-", " ").capitalize()


def days_worked(logs: Iterable[Logged], crew_hours: Decimal) -> Decimal:
    """Return the days on site as they were worked, whole or half by the hours of each day's log."""
    by_day: dict[str, Decimal] = defaultdict(Decimal)
    for entry in logs:
        by_day[entry.day] += entry.hours
    return sum((booked_for(hours, crew_hours) for hours in by_day.values()), ZERO)


def _quoted_money(priced: Priced, quoted: FrozenScope, terms: ReviewTerms) -> Money:
    """What was quoted; an estimate that kept no days has those of its scope."""
    days = priced.days_on_site or days_of_scope(quoted, terms.crew_hours_per_day)
    return Money(
        price=priced.subtotal,
        material=priced.material_cost + priced.added_cost + priced.use_tax,
        labor=priced.labor_cost,
        allowances=priced.allowance_cost,
        overhead=priced.overhead,
        profit=priced.profit,
        margin=priced.margin,
        hours=priced.hours,
        days_on_site=days,
        contribution=priced.contribution,
        contribution_per_day=per_day(priced.contribution, days),
    )


def _real_money(
    before: Money,
    tasks: Sequence[TaskRow],
    materials: Sequence[MaterialRow],
    terms: ReviewTerms,
    days: Decimal,
) -> Money:
    """What came of it. What an allowance really cost stands in the log and among the purchases."""
    price = before.price + terms.price_changes
    labor = sum((row.cost for row in tasks), ZERO)
    material = sum((row.paid for row in materials), ZERO)
    overhead = cents((labor + material) * terms.overhead)
    hours = sum((row.logged for row in tasks), ZERO)
    contribution = price - labor - material
    return Money(
        price=price,
        material=material,
        labor=labor,
        allowances=ZERO,
        overhead=overhead,
        profit=contribution - overhead,
        margin=margin_of(price, labor + material + overhead),
        hours=hours,
        days_on_site=days or None,
        contribution=contribution,
        contribution_per_day=per_day(contribution, days),
    )


def _to_come(
    left: Mapping[tuple[str, str], Decimal], unbought: Sequence[MaterialRow], terms: ReviewTerms
) -> tuple[Decimal, Decimal]:
    """Return the labor of what isn't done yet, and the agreed cost of what isn't bought yet."""
    hours = sum(left.values(), ZERO)
    return cents(hours * terms.burdened_rate), -sum((row.over for row in unbought), ZERO)


def _bridge(before: Money, after: Money, to_come: tuple[Decimal, Decimal]) -> tuple[Reason, ...]:
    """Return the steps from quoted to made; `to_come` are labor and material still to come."""
    to_spend, to_buy = to_come
    parts = (
        ("price", "Change orders", after.price - before.price),
        ("to come", "Labor still to come", to_spend),
        ("labor", "Labor against the quote", before.labor - after.labor - to_spend),
        ("to buy", "Material not bought yet", to_buy),
        ("material", "Material against the quote", before.material - after.material - to_buy),
        ("allowances", "Allowances not spent as such", before.allowances - after.allowances),
        ("overhead", "Overhead on what was spent", before.overhead - after.overhead),
    )
    return tuple(
        Reason(code=code, text=text, amount=amount) for code, text, amount in parts if amount
    )


def _reasons(
    tasks: Sequence[TaskRow],
    materials: Sequence[MaterialRow],
    logs: Sequence[Logged],
    terms: ReviewTerms,
    days: Sequence[Reason],
) -> tuple[Reason, ...]:
    """The reasons in money, the largest first, then parts of these, then those without money."""
    reasons = [
        *_hours_reasons(tasks, terms),
        *_purchase_reasons(materials),
        *_spoiled_reasons(logs, terms),
        *_callback_reasons(logs, terms),
    ]
    reasons += [Reason(code="lost", text=said, amount=None) for said in terms.lost_days]
    reasons += days
    return tuple(sorted(reasons, key=_weight))


def _weight(one: Reason) -> tuple[bool, bool, Decimal]:
    return one.amount is None, bool(one.within), -abs(one.amount or ZERO)


def _days_reason(days: Decimal, planned: Decimal, closed: bool) -> list[Reason]:
    """Return that it took other days than were booked; fewer are known once it is closed."""
    if not planned or days == planned or (days < planned and not closed):
        return []
    text = f"{in_units(days, 'day')} on site, {in_units(planned, 'day')} as booked"
    return [Reason(code="days", text=text, amount=None)]


def _hours_reasons(tasks: Sequence[TaskRow], terms: ReviewTerms) -> list[Reason]:
    reasons = []
    for row in tasks:
        waits = sum((-cause.hours for cause in row.causes if cause.kind == "to come"), ZERO)
        over = row.over + waits
        if over:
            where = f"{row.label} ({row.zone})" if row.zone else row.label
            agreed = f"{row.agreed - waits:.2f} h agreed{' for what is done' if waits else ''}"
            text = f"{where}: {row.logged:.2f} h logged, {agreed}"
            amount = cents(-over * terms.burdened_rate)
            reasons.append(Reason(code="hours", text=text, amount=amount))
    return reasons


def _purchase_reasons(materials: Sequence[MaterialRow]) -> list[Reason]:
    reasons = []
    for row in materials:
        if not row.over:
            continue
        if row.bought is None:
            text = f"{row.label}: bought in another unit than {row.unit}"
        else:
            bought, agreed = in_units(row.bought, row.unit), in_units(row.agreed, row.unit)
            back = f", {in_units(row.returned, row.unit)} returned" if row.returned else ""
            text = f"{row.label}: {bought} bought{back}, {agreed} agreed"
        reasons.append(Reason(code="purchase", text=text, amount=-row.over))
    return reasons


def _spoiled_reasons(logs: Sequence[Logged], terms: ReviewTerms) -> list[Reason]:
    by_reason: dict[str, int] = defaultdict(int)
    for entry in logs:
        if entry.spoiled:
            by_reason[entry.spoil_reason] += entry.spoiled
    return [
        Reason(
            code="spoiled",
            text=f"{in_units(Decimal(planks), 'plank')} spoiled: {reason}",
            amount=None if terms.plank_cost is None else cents(-planks * terms.plank_cost),
        )
        for reason, planks in by_reason.items()
    ]


def _callback_reasons(logs: Sequence[Logged], terms: ReviewTerms) -> list[Reason]:
    hours = sum((entry.hours for entry in logs if entry.callback), ZERO)
    if not hours:
        return []
    amount = cents(-hours * terms.burdened_rate)
    return [Reason(code="callback", text=f"{hours:.2f} h of callbacks", amount=amount)]
