"""The ways that a quote may offer as choices, and those that it can't, with the reason."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

from estimates.domain.quotes.choices import SEVERAL, WAYS, way_name
from estimates.readers.options.options import every_way
from estimates.readers.options.way import Otherwise, Way
from jobs.domain.scope.inputs import JobTake
from jobs.models import Job
from jobs.services.scope import work_out


@dataclass(frozen=True, kw_only=True, slots=True)
class OfferedWay:
    """The whole job done one way: its key, what it is called, what makes it."""

    key: str
    name: str
    otherwise: Otherwise
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class OfferedWays:
    """The ways that may be chosen, by key, and why others may not."""

    by_key: Mapping[str, OfferedWay]
    not_offered: tuple[str, ...]


def offered_ways(job: Job) -> OfferedWays:
    """Return the ways of a planned job that one edit of its facts takes, alone and two together.

    A way that is taken when the quote is accepted must leave nothing to be planned, so other
    boards are no choice.

    Raises BadValueError where there is no planned floor or a rate is missing.
    """
    counted: list[JobTake] = []

    def keep(takes: JobTake) -> JobTake:
        counted.append(takes)
        return takes

    work_out(job, otherwise=keep)
    ways, without = every_way(job, counted[0])
    plain = [way for way in ways if way.is_plain and way.key in WAYS]
    others = [way for way in ways if way not in plain]
    offered = [*(_alone(way) for way in plain), *_pairs(plain)]
    reasons = [
        f"{way.title}: no choice on a quote, because its boards must be planned first. Price the "
        "job with them and send a quote of their own."
        for way in others
    ]
    reasons += [f"{each.title}: {each.reason}" for each in without]
    return OfferedWays(by_key={way.key: way for way in offered}, not_offered=tuple(reasons))


def _alone(way: Way) -> OfferedWay:
    return OfferedWay(
        key=way.key, name=way_name(way.key), otherwise=way.otherwise, cautions=way.cautions
    )


def _pairs(ways: list[Way]) -> list[OfferedWay]:
    """Return two ways together where they don't stand against each other."""
    return [
        _both(one, two) for one, two in combinations(ways, 2) if WAYS[one.key].against != two.key
    ]


def _both(one: Way, two: Way) -> OfferedWay:
    key = SEVERAL.join((one.key, two.key))
    return OfferedWay(
        key=key,
        name=way_name(key),
        otherwise=lambda takes: two.otherwise(one.otherwise(takes)),
        cautions=(*one.cautions, *two.cautions),
    )


NO_WAYS = OfferedWays(by_key={}, not_offered=())
"""Of a job that isn't planned yet."""
