"""The ground of a plan: one request along one direction, and the region that is laid there."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from shapely.geometry import Polygon

from layout.rows.frame import Frame
from layout.rows.strips import LEAST_RUN
from layout.values.outline import HoleKind, Region
from layout.values.regions import laying_region
from layout.values.request import PlanRequest
from layout.values.tolerances import AREA_TOLERANCE, LENGTH_TOLERANCE


@dataclass(frozen=True, eq=False, kw_only=True)
class Ground:
    """What a plan is made on, handed on whole: request, working frame, region of that frame.

    The region is what is laid; where edges have a ``max_gap`` a request has several grounds.
    """

    request: PlanRequest
    frame: Frame
    region: Region

    @classmethod
    def at_gaps(cls, request: PlanRequest, frame: Frame) -> Ground:
        """Return the ground of a request at the gaps of its edges."""
        region = frame.region(laying_region(request.zone, request.rules.expansion_gap))
        return cls(request=request, frame=frame, region=region)

    @property
    def near(self) -> float:
        """Lengths closer than this are the same."""
        return LENGTH_TOLERANCE[self.request.unit]

    @property
    def scrap(self) -> float:
        """An area smaller than this is nothing."""
        return AREA_TOLERANCE[self.request.unit]

    @property
    def least_run(self) -> float:
        """A strip no longer than this along the row counts as none."""
        return LEAST_RUN[self.request.unit]

    @cached_property
    def registers(self) -> tuple[Polygon, ...]:
        """The floor registers: cut out of boards, so that a piece may enclose one."""
        return tuple(
            Polygon(self.frame.inward(hole.ring))
            for hole in self.request.zone.holes
            if hole.kind is HoleKind.REGISTER
        )

    @cached_property
    def doorways(self) -> tuple[Polygon, ...]:
        """The places where no end joint may fall."""
        return tuple(Polygon(self.frame.inward(ring)) for ring in self.request.zone.no_joints)
