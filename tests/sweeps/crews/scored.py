"""Crews whose true rates are known log random jobs; what is learned is held against the truth.

The same numbers give the same crews, jobs and logs. Beside the fit stands the plain ratio: all
rates of a task times logged hours over those that the rates before give. A crew is off from the
default rates together and by each rate, its jobs go fast or slow, its days too, hours are logged in
quarters, and one log in thirty is nonsense.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import exp, sqrt
from statistics import fmean, stdev

from jobs.domain.rates.proposals import learned
from jobs.domain.rates.work import AnchoredRate, Driver, WorkDone
from jobs.domain.scope.rates import STARTING_RATES, ProductionRate
from tests.sweeps.crews.knowing import least_error

JOBS = (1, 3, 5, 10, 20)
NONSENSE = 1 / 30
WITHIN = 0.10
"""How far the hours of a task may be off on average, from ten jobs on."""
BEYOND_BEST = 1.1
"""By how much the error may be above that of one who knows the crew, from ten jobs on."""
Key = tuple[str, str, str]
Truth = Mapping[Key, float]

_DAY = "2026-03-02"


@dataclass(frozen=True, kw_only=True, slots=True)
class KnownCrew:
    """A crew: its true hours for each rate, by task, driver and item, and how its work scatters."""

    truth: Truth
    day: float
    job: float


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewScore:
    """Errors after so many jobs, as parts of the true rate; and how often the range holds it.

    `by_task` is the error of a task's hours for all that is done in it, `best` that of the rates
    for one who knows the crew's scatter.
    """

    fit: float
    ratio: float
    held: float
    next_job: float
    next_ratio: float
    by_task: float = 0.0
    best: float = 0.0


def drawn_crew(chance: random.Random) -> KnownCrew:
    """Return a crew that is off together by a third or so and by each rate by as much as that."""
    together, each = chance.uniform(0.1, 0.35), chance.uniform(0.1, 0.3)
    slow = {rate.task_code: chance.gauss(0, together) for rate in STARTING_RATES}
    whole = chance.gauss(0, 0.15)
    truth = {
        (rate.task_code, rate.driver, rate.item): float(rate.hours / rate.per)
        * exp(whole + slow[rate.task_code] + chance.gauss(0, each))
        for rate in STARTING_RATES
    }
    return KnownCrew(truth=truth, day=chance.uniform(0.1, 0.3), job=chance.uniform(0.0, 0.15))


def drawn_job(chance: random.Random, crew: KnownCrew, number: int) -> list[WorkDone]:
    """Return what a crew logs of 150 to 900 ft2: laying by the day, the rest by the job."""
    area = chance.uniform(150, 900)
    of_job = exp(chance.gauss(0, crew.job))
    done = []
    for place in range(1 + int(area / 300)):
        laid = _laid(chance, area / (1 + int(area / 300)))
        done.append(_logged(chance, crew, of_job, ("lay", laid), f"job {number}, day {place + 1}"))
    done += [
        _logged(chance, crew, of_job, (task, amounts), f"job {number}, {task}")
        for task, amounts in _beside(chance, area)
    ]
    return [work for work in done if work is not None]


def _laid(chance: random.Random, area: float) -> dict[Driver, float]:
    """Return what a day of laying has: small rooms have more cuts, notches and tight pieces."""
    pieces = round(area / chance.uniform(2.5, 6))
    return {
        ("floor_area", ""): area,
        ("pieces", ""): pieces,
        ("crosscuts", ""): round(pieces * chance.uniform(0.1, 0.5)),
        ("rips", ""): round(pieces * chance.uniform(0.02, 0.3)),
        ("notches", ""): chance.randint(0, 12),
        ("trapped", ""): chance.randint(0, 10),
    }


def _beside(chance: random.Random, area: float) -> Iterable[tuple[str, dict[Driver, float]]]:
    around = area**0.5 * chance.uniform(4, 6)
    old = chance.choice(["carpet", "laminate", "wood", "tile", ""])
    yield "tear_out", {("tear_out", old): area * chance.uniform(0.5, 1)}
    yield "base", {("base_on", ""): around}
    yield "base_off", {("base_off", ""): around}
    yield "furniture", {("furniture", ""): round(chance.uniform(1, 5), 1)}
    yield "undercut", {("casings", ""): chance.randint(1, 14)}
    yield "underlay", {("pad_area", ""): area}
    yield "transitions", {("transitions", ""): chance.randint(1, 7)}
    yield (
        "doors_on",
        {("doors_off", ""): chance.randint(1, 6), ("doors_trimmed", ""): chance.randint(0, 4)},
    )
    yield "clean", {("visits", ""): 1, ("floor_area", ""): area}
    prep = {("floor_area", ""): area}
    yield "prep", prep | ({("subfloor_screws", ""): area} if chance.random() < 0.5 else {})


def _logged(
    chance: random.Random,
    crew: KnownCrew,
    of_job: float,
    work: tuple[str, dict[Driver, float]],
    log: str,
) -> WorkDone | None:
    """Return what is logged of a stretch of work; None where it rounds to no hours."""
    task, amounts = work
    hours = sum(crew.truth[_rate_of(crew.truth, task, key)] * so for key, so in amounts.items())
    hours *= of_job * exp(chance.gauss(0, crew.day))
    if chance.random() < NONSENSE:
        hours *= chance.choice([0.3, 2.5, 4])
    quarters = round(hours * 4)
    if not quarters:
        return None
    return WorkDone(
        log=log,
        job=log.split(",")[0],
        closed=_DAY,
        task_code=task,
        amounts={key: Decimal(f"{so:.2f}") for key, so in amounts.items()},
        hours=Decimal(quarters) / 4,
    )


def _rate_of(truth: Truth, task: str, driver: Driver) -> Key:
    code, item = driver
    return (task, code, item) if (task, code, item) in truth else (task, code, "")


def plain_ratio(done: Sequence[WorkDone]) -> dict[Key, float]:
    """Return every rate of a task that was logged times its hours over those the defaults give."""
    before = {_key(rate): float(rate.hours / rate.per) for rate in STARTING_RATES}
    logged: dict[str, float] = {}
    usual: dict[str, float] = {}
    seen: dict[Key, None] = {}
    for work in done:
        keys = {_rate_of(before, work.task_code, key): so for key, so in work.amounts.items() if so}
        seen |= dict.fromkeys(keys)
        logged[work.task_code] = logged.get(work.task_code, 0) + float(work.hours)
        now = sum(before[key] * float(so) for key, so in keys.items())
        usual[work.task_code] = usual.get(work.task_code, 0) + now
    return {key: before[key] * logged[key[0]] / usual[key[0]] for key in seen}


def _key(rate: ProductionRate) -> Key:
    return rate.task_code, rate.driver, rate.item


def score(crew: KnownCrew, done: Sequence[WorkDone], after: Sequence[WorkDone]) -> CrewScore:
    """Return how far the rates lie from the truth after this work, and a next job's hours."""
    rates = [AnchoredRate(now=rate, anchor=rate) for rate in STARTING_RATES]
    tasks = learned(rates, done)
    fit = {_key(rate.after): rate for task in tasks for rate in task.rates}
    ratio = plain_ratio(done)
    fits = {key: float(rate.after.hours / rate.after.per) for key, rate in fit.items()}
    held = [
        float(rate.low / rate.after.per) <= crew.truth[key] <= float(rate.high / rate.after.per)
        for key, rate in fit.items()
    ]
    return CrewScore(
        fit=_error(fits, crew.truth),
        ratio=_error(ratio, crew.truth),
        held=fmean(held),
        next_job=_next(fits, crew.truth, after),
        next_ratio=_next(ratio, crew.truth, after),
        by_task=_by_task(fits, crew.truth, done),
        best=_best(crew, done),
    )


def _best(crew: KnownCrew, done: Sequence[WorkDone]) -> float:
    before = {_key(rate): float(rate.hours / rate.per) for rate in STARTING_RATES}
    stretches = [
        (work, {_rate_of(before, work.task_code, key): float(so) for key, so in _amounts(work)})
        for work in done
    ]
    return least_error(crew.truth, before, (crew.day, crew.job), stretches)


def _amounts(work: WorkDone) -> list[tuple[Driver, Decimal]]:
    return [(key, amount) for key, amount in work.amounts.items() if amount]


def _by_task(rates: Mapping[Key, float], truth: Truth, done: Sequence[WorkDone]) -> float:
    """Return by which part the hours of a task are off, for all that was done in it; the mean."""
    said: dict[str, float] = {}
    takes: dict[str, float] = {}
    for work in done:
        for key, so in _amounts(work):
            rate, code = _rate_of(truth, work.task_code, key), work.task_code
            said[code] = said.get(code, 0) + rates[rate] * float(so)
            takes[code] = takes.get(code, 0) + truth[rate] * float(so)
    return fmean(abs(said[code] / takes[code] - 1) for code in takes)


def _error(rates: Mapping[Key, float], truth: Truth) -> float:
    return fmean(abs(rate / truth[key] - 1) for key, rate in rates.items())


def _next(rates: Mapping[Key, float], truth: Truth, after: Sequence[WorkDone]) -> float:
    """Return by which part the hours of a next job's tasks are off, together."""
    defaults = {_key(rate): float(rate.hours / rate.per) for rate in STARTING_RATES}
    off = true = 0.0
    for work in after:
        keys = [
            (_rate_of(truth, work.task_code, key), float(so)) for key, so in work.amounts.items()
        ]
        said = sum(rates.get(key, defaults[key]) * so for key, so in keys)
        takes = sum(truth[key] * so for key, so in keys)
        off, true = off + abs(said - takes), true + takes
    return off / true


def scores(crews: int, seed: int) -> dict[int, list[CrewScore]]:
    """Return the scores of so many crews after each number of jobs."""
    by_jobs: dict[int, list[CrewScore]] = {count: [] for count in JOBS}
    for number in range(crews):
        chance = random.Random(f"{seed} {number}")
        crew = drawn_crew(chance)
        jobs = [drawn_job(chance, crew, each + 1) for each in range(max(JOBS) + 1)]
        for count in JOBS:
            done = [work for job in jobs[:count] for work in job]
            by_jobs[count].append(score(crew, done, jobs[-1]))
    return by_jobs


def lead(each: Sequence[CrewScore]) -> tuple[float, float]:
    """Return by how much the fit's mean error is below the ratio's, and that figure's own error."""
    gained = [one.ratio - one.fit for one in each]
    return fmean(gained), stdev(gained) / sqrt(len(gained))


def faults(by_jobs: Mapping[int, Sequence[CrewScore]]) -> list[str]:
    """Return in words where the fit is worse than the ratio or its ranges hold too little."""
    wrong = []
    for count, each in by_jobs.items():
        gained, doubt = lead(each)
        if gained <= (0 if count <= 5 else -2 * doubt):
            wrong.append(f"after {count} jobs the fit is no better than the ratio: {gained:+.4f}")
        wrong += _far(count, each)
        held = fmean(one.held for one in each)
        if not 0.70 <= held <= 0.90:
            wrong.append(f"after {count} jobs {held:.1%} of the true rates lie in their ranges")
    return wrong


def _far(count: int, each: Sequence[CrewScore]) -> list[str]:
    """Return in words where ten jobs and more have told too little."""
    wrong = []
    by_task, fit, best = (
        fmean(getattr(one, name) for one in each) for name in ("by_task", "fit", "best")
    )
    if count >= 10 and by_task > WITHIN:
        wrong.append(f"after {count} jobs the hours of a task are {by_task:.1%} off")
    if count >= 10 and fit > best * BEYOND_BEST:
        wrong.append(f"after {count} jobs rates are {fit:.1%} off, and {best:.1%} could be known")
    return wrong
