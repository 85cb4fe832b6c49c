"""One way to do a job otherwise, and what can't be compared with the reason why."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from jobs.domain.scope.inputs import JobTake
from jobs.models import FloorPlan, FloorZone

Otherwise = Callable[[JobTake], JobTake]
"""What makes another job of what is counted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WayPage:
    """The page where a way is taken, or where what it lacks is noted: its words and address."""

    words: str
    url: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """A way to do the job otherwise: what it is, and what it stands in place of.

    `is_plain`: whether one edit of the job's facts takes it. `boards_differ`: it comes with other
    boards, whose own price is not known here. `cautions` are sentences to be read first. `plans`:
    floors in another product, each with its own plan, which acceptance of the way can take.
    """

    key: str
    title: str
    instead: str
    otherwise: Otherwise
    page: WayPage | None = None
    is_plain: bool = False
    boards_differ: bool = False
    cautions: tuple[str, ...] = ()
    plans: Mapping[FloorZone, FloorPlan] = field(default_factory=dict)


def unchanged(takes: JobTake) -> JobTake:
    """Return what is counted as it is: a way whose plans say all that differs."""
    return takes


@dataclass(frozen=True, kw_only=True, slots=True)
class NoWay:
    """What can't be compared on this job: why, and the page where that changes."""

    title: str
    reason: str
    page: WayPage | None = None
