"""A passport as it is told, with every field of it in use."""

from __future__ import annotations

from decimal import Decimal

from estimates.domain.passport.content import (
    FloorTold,
    LeftPlanks,
    PassportContent,
    ReadingTold,
    RoomOnMap,
)
from jobs.domain.documents import digest
from jobs.domain.passport.care import CareLine

CORNERS = (("0.0", "0.0"), ("120.0", "0.0"), ("120.0", "96.5"), ("0.0", "96.5"))


def a_frozen_floor() -> FloorTold:
    """The den of oak: 13 planks of two lots in the attic."""
    return FloorTold(
        name="Den",
        product="Slate Oak",
        kind="7 in by 48 in, rigid core",
        glued=False,
        lots=("A12", "B7"),
        attic=(LeftPlanks(planks=10, lot="A12"), LeftPlanks(planks=3, lot="B7")),
        planned_spares=3,
        care=(CareLine(text="For wet rooms too.", source="the product's sheet"),),
        plan=digest("plan"),
        request=digest("request"),
        rooms=(RoomOnMap(name="Den", ring=tuple((Decimal(x), Decimal(y)) for x, y in CORNERS)),),
    )


def a_frozen_passport() -> PassportContent:
    """The passport of that floor, as it was told on the day it was signed off."""
    reading = ReadingTold(
        method="Relative humidity in the slab, ASTM F2170",
        value="78%",
        where="By the door",
        read_on="2027-02-20",
    )
    return PassportContent(
        frozen_on="2027-03-05",
        done_on="2027-03-05",
        site="4 Cooper Lane",
        floors=(a_frozen_floor(),),
        readings=(reading,),
        warranty="We put right what our work caused for 2 years.",
    )
