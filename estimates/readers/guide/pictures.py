"""What each page of the help shows: the app's own drawings, of an invented house."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.review.charts import bars_svg, reached_svg
from estimates.domain.review.values import DayReached
from estimates.readers.guide.house import DEN, HALL, PER_CARTON, planned
from layout.drawing.homeowner import ShownRoom, draw_for_homeowner
from layout.drawing.pictures.cartons import draw_stack
from layout.drawing.pictures.contours import SurveyMark, draw_contours
from layout.drawing.pictures.days import TaskBar, draw_days
from layout.drawing.pictures.levels import LevelSection, draw_levels
from layout.drawing.pictures.moisture import ReadRoom, draw_readings
from layout.drawing.pictures.stair import SectionStep, draw_stair
from layout.drawing.pictures.trim_runs import DrawnRun, draw_runs
from layout.drawing.plan import draw_outline, draw_plan
from layout.drawing.trim_stick import draw_trim_stick

USD = "USD"


@dataclass(frozen=True, kw_only=True, slots=True)
class HelpPicture:
    """A picture, the sentence under it, and whether it is large enough to be moved on a phone."""

    svg: str
    words: str
    large: bool = False


def pictures_of(step: str) -> tuple[HelpPicture, ...]:
    """Return the pictures of a step of the path, in the order in which one works there."""
    return _STEPS[step]()


def _site() -> tuple[HelpPicture, ...]:
    rooms = (
        ReadRoom(name="Den", ring=DEN, readings=("13 %, over", "9 %")),
        ReadRoom(name="Hall", ring=HALL, readings=()),
    )
    marks = (
        SurveyMark(x=40.0, y=30.0, low=0.125),
        SurveyMark(x=110.0, y=50.0, low=0.5),
        SurveyMark(x=50.0, y=95.0, low=0.0),
    )
    return (
        HelpPicture(
            svg=draw_readings(rooms, title="Moisture readings"),
            words="Write each reading with its room. One over the limit stops the floor.",
        ),
        HelpPicture(
            svg=draw_contours(marks, DEN, unit="in", title="Depths of the den"),
            words="Measure low spots under a straightedge: lines show where leveler goes.",
        ),
    )


def _rooms() -> tuple[HelpPicture, ...]:
    request, _ = planned()
    steps = [SectionStep(now=7.5, after=7.5, words='7½"')] * 3
    steps.append(SectionStep(now=7.25, after=7.625, words='7⅝"'))
    door = LevelSection(
        rise=9.5, here="Den", beyond="Bath", stands='Tile stands ⅜" up', strip="reducer"
    )
    return (
        HelpPicture(
            svg=draw_outline(request.zone, unit="in", title="The den", ident="help-room"),
            words="Type the walls one after another as the laser reads them.",
            large=True,
        ),
        HelpPicture(
            svg=draw_levels(door, title="Doorway to the bath"),
            words="Five figures of a doorway show how both floors meet.",
        ),
        HelpPicture(
            svg=draw_stair(steps, run=10.0, title="Stair"),
            words="Measure every riser: dashed as it is, thick as it will be.",
        ),
    )


def _floor() -> tuple[HelpPicture, ...]:
    request, plan = planned()
    return (
        HelpPicture(
            svg=draw_plan(request, plan, title="Plan of the den", ident="help-plan"),
            words="Choose product, direction and start wall, then press Plan the floor.",
            large=True,
        ),
        HelpPicture(svg=_stack(), words="What to buy, and what stays as spare."),
    )


def _stack() -> str:
    _, plan = planned()
    return draw_stack(
        plan.totals.cartons,
        planks=plan.totals.planks,
        per_carton=PER_CARTON,
        title="Cartons to buy",
    )


def _price() -> tuple[HelpPicture, ...]:
    parts = (("Labor", 940), ("Material", 1180), ("Overhead", 310), ("Profit", 420))
    bars = [(name, Decimal(amount)) for name, amount in parts]
    return (
        HelpPicture(
            svg=bars_svg(bars, USD, "Where a price of $2,850.00 goes"),
            words="Every line is a quantity times a rate of yours; tap a figure for its source.",
        ),
    )


def _quote() -> tuple[HelpPicture, ...]:
    request, plan = planned()
    rooms = [ShownRoom(name="Den", ring=DEN)]
    return (
        HelpPicture(
            svg=draw_for_homeowner(request, plan, rooms, title="The den", ident="help-quote"),
            words="The homeowner sees the floor, the price and the days. Issuing locks the quote.",
        ),
    )


_BARS = (
    TaskBar(task="Tear out", day=0, begins=0, ends=3),
    TaskBar(task="Prepare", day=0, begins=3, ends=5),
    TaskBar(task="Lay rows", day=0, begins=5, ends=8),
    TaskBar(task="Lay rows", day=1, begins=0, ends=5),
    TaskBar(task="Base on", day=1, begins=5, ends=7.5),
)


def _days() -> tuple[HelpPicture, ...]:
    stops = ("Stop at row 7", "Done, row 18")
    return (
        HelpPicture(
            svg=draw_days(_BARS, stops, hours=8, title="Two days"),
            words="Each day says what is done and at which row it stops.",
        ),
    )


def _packet() -> tuple[HelpPicture, ...]:
    runs = (
        DrawnRun(name="1", wall=0, begins=0, ends=60, words="5' 0\""),
        DrawnRun(name="1, piece 2", wall=0, begins=92, ends=168, words="6' 4\""),
        DrawnRun(name="6", wall=5, begins=0, ends=120, words="10' 0\""),
    )
    stick = draw_trim_stick(
        144.0,
        [(76.0, "6' 4\""), (60.0, "5' 0\"")],
        longest=144.0,
        kerf=0.125,
        title="Stick 1",
    )
    return (
        HelpPicture(
            svg=draw_runs(DEN, runs, title="Base of the den"),
            words="The crew's paper has plan, cuts and checks, and no price.",
        ),
        HelpPicture(svg=stick, words="Each stick is cut from the left in this order."),
    )


def _log() -> tuple[HelpPicture, ...]:
    bars = (*_BARS[:2], TaskBar(task="Lay rows", day=0, begins=5, ends=7))
    return (
        HelpPicture(
            svg=draw_days(bars, ("Stopped at row 5",), hours=8, title="The first day as it was"),
            words="Tap what went as planned; type only what was different, and the last row.",
        ),
        HelpPicture(svg=_stack(), words="Cartons opened and planks spoiled are counted too."),
    )


def _review() -> tuple[HelpPicture, ...]:
    days = [
        DayReached(
            day=day,
            days_on_site=Decimal(number),
            planned=Decimal(planned_h),
            earned=Decimal(earned),
            spent=Decimal(spent),
            contribution=Decimal(0),
            contribution_per_day=None,
        )
        for number, (day, planned_h, earned, spent) in enumerate(
            (("2027-03-01", 16, 12, 15), ("2027-03-02", 31, 31, 33)), 1
        )
    ]
    bars = [("Quoted profit", Decimal(420)), ("Actual profit", Decimal(365))]
    return (
        HelpPicture(
            svg=reached_svg(days),
            words="Hours earned against hours spent, day by day.",
        ),
        HelpPicture(
            svg=bars_svg(bars, USD, "Profit as quoted and as it came out", "help-profit"),
            words="What the job left, and why it differs. Your rates learn from it.",
        ),
    )


_STEPS: Mapping[str, Callable[[], tuple[HelpPicture, ...]]] = {
    "site": _site,
    "rooms": _rooms,
    "floor": _floor,
    "price": _price,
    "quote": _quote,
    "days": _days,
    "packet": _packet,
    "log": _log,
    "review": _review,
}
STEPS = tuple(_STEPS)
