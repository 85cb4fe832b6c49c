"""The ways that a quote may offer as choices, and those that it can't, with the reason."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from estimates.domain.quotes.boards import LONGEST_NAME, BoardWords, board_words
from estimates.domain.quotes.choices import SEVERAL, WAYS, way_name, way_text
from estimates.readers.draft.floors import sold_floor
from estimates.readers.options.options import every_way
from estimates.readers.options.products import NO_LEVELER
from estimates.readers.options.way import Otherwise, Way
from jobs.domain.checks import ZERO
from jobs.models import FloorPlan, FloorZone, Job
from jobs.readers.openings.doorways import floor_height_mm
from jobs.readers.scope import inches
from jobs.services.scope import WorkBasis


@dataclass(frozen=True, kw_only=True, slots=True)
class OfferedWay:
    """The whole job done one way: its key, what it is called and says, what makes it.

    `against`: what the job as priced is called beside it, where its plain options don't say.
    `label`: the name with what tells it apart in a list.
    """

    key: str
    name: str
    text: str
    otherwise: Otherwise
    label: str = ""
    against: str = ""
    plans: Mapping[FloorZone, FloorPlan] = field(default_factory=dict)
    cautions: tuple[str, ...] = ()

    @property
    def listed(self) -> str:
        """What it is called where one is chosen."""
        return self.label or self.name


@dataclass(frozen=True, kw_only=True, slots=True)
class OfferedWays:
    """The ways that may be chosen, by key, why others may not, and what all are worked out from.

    `basis`: None where the job isn't planned yet.
    """

    basis: WorkBasis | None
    by_key: Mapping[str, OfferedWay]
    not_offered: tuple[str, ...]


def offered_ways(basis: WorkBasis) -> OfferedWays:
    """Return the ways of a planned job that acceptance can take: alone and two together.

    A way that is taken when the quote is accepted must leave nothing to be planned: it is one edit
    of the job's facts, or another product in which its floors are planned already.
    """
    job = basis.job
    ways, without = every_way(basis)
    plain = [_plain(way) for way in ways if way.is_plain and way.key in WAYS]
    boards = [_in_boards(job, way) for way in ways if _is_planned(way)]
    offered = [*plain, *_pairs(plain), *boards]
    offered += [_both(board, way) for board in boards for way in plain]
    keys = {way.key for way in offered}
    reasons = [_why_not(way) for way in ways if way.key not in keys]
    reasons += [f"{each.title}: {each.reason}" for each in without]
    by_key = {way.key: way for way in offered}
    return OfferedWays(basis=basis, by_key=by_key, not_offered=tuple(reasons))


def _is_planned(way: Way) -> bool:
    return bool(way.plans) and not way.key.endswith(NO_LEVELER)


def _why_not(way: Way) -> str:
    if way.key.endswith(NO_LEVELER):
        return f"{way.title}: no choice on a quote; take the leveler out of the rooms to offer it."
    return (
        f"{way.title}: no choice on a quote, because its boards must be planned first. Compare the "
        "floors in them, then it can be chosen here."
    )


def _plain(way: Way) -> OfferedWay:
    return OfferedWay(
        key=way.key,
        name=way_name(way.key),
        text=way_text(way.key),
        otherwise=way.otherwise,
        cautions=way.cautions,
    )


def _in_boards(job: Job, way: Way) -> OfferedWay:
    """Return the job in another product, named by what is different about its planks."""
    words = _board_words(job, way.plans)
    return OfferedWay(
        key=way.key,
        name=words.name,
        text=words.text,
        otherwise=way.otherwise,
        label=f"{words.name}: {way.title}",
        against=words.against,
        plans=way.plans,
        cautions=way.cautions,
    )


def _board_words(job: Job, plans: Mapping[FloorZone, FloorPlan]) -> BoardWords:
    zones = list(job.zones.select_related("product"))
    by_pk = {zone.pk: zone for zone in zones}
    then, *_ = plans
    now = by_pk[then.pk]
    heights = [floor_height_mm(zone) or ZERO for zone in (then, now)]
    return board_words(
        sold_floor(now),
        sold_floor(then),
        rise_in=inches(heights[0] - heights[1]),
        floors=[zone.name for zone in plans] if len(plans) < len(zones) else [],
        system=job.units,
    )


def _pairs(ways: Sequence[OfferedWay]) -> list[OfferedWay]:
    """Return two ways together where they don't stand against each other."""
    return [
        _both(one, two) for one, two in combinations(ways, 2) if WAYS[one.key].against != two.key
    ]


def _both(one: OfferedWay, two: OfferedWay) -> OfferedWay:
    return OfferedWay(
        key=SEVERAL.join((one.key, two.key)),
        name=_joined(one.name, two.name)[:LONGEST_NAME],
        text=f"{one.text} {two.text}".strip(),
        otherwise=lambda takes: two.otherwise(one.otherwise(takes)),
        label=_joined(one.listed, two.name),
        against=one.against,
        plans=one.plans,
        cautions=(*one.cautions, *two.cautions),
    )


def _joined(one: str, two: str) -> str:
    return f"{one}, {two[0].lower()}{two[1:]}"


NO_WAYS = OfferedWays(basis=None, by_key={}, not_offered=())
"""Of a job that isn't planned yet."""
