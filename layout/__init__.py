"""Plank floors: from a measured outline to every piece of every plank, and back to the tape.

Usable by itself, without the web application: as this package, or from the shell
(``python -m layout plan|check|draw|trim``). It knows no Django, reads no clock and no environment.

    zone            one continuous floor: an outline, its holes, what stands at every edge
    gap             what stays open at an edge, so that the floor may move
    laying region   the zone less its holes, pulled back from every edge by its gap
    direction       the way the planks lie, counter-clockwise from +x of the room
    board           what the product is sold as; its size is laid cover, never tongue or lip
    plank           one board of the plan, numbered; what is cut from it keeps that number
    piece           what is left of a plank after cutting, where it lies on the floor
    row             one board width of floor, numbered from the start wall
    run             a connected stretch of a row, from wall (or post) to wall
    starter, ender  the first and the last piece of a run
    end joint       where two pieces of a row meet; joints of touching rows keep their offset
    stopping line   a stretch of edge that rows end against
    rip             a cut along a plank; a strip is what a rip leaves
    sliver          a strip too narrow to lay
    offcut          what a cut leaves; it has a label and waits on the rack for its place
    kerf            what the saw takes between two pieces of one plank
    trapped         a piece that can't be tilted in; the cut sheet says how it goes in
    story stick     the row lines measured from a wall, to check before the first cut
    lower bound     the planks that every plan needs; its certificate can be rechecked by hand
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from layout.cutsheet import cut_sheet as cut_sheet
    from layout.drawing import draw_plan as draw_plan
    from layout.errors import InputError as InputError
    from layout.errors import LayoutError as LayoutError
    from layout.judge import check_plan as check_plan
    from layout.outline import Zone as Zone
    from layout.plan import Plan as Plan
    from layout.plan import plan_text as plan_text
    from layout.plan import read_plan as read_plan
    from layout.planner import plan_floor as plan_floor
    from layout.request import PlanRequest as PlanRequest
    from layout.request import read_request as read_request
    from layout.trim import plan_cuts as plan_cuts
    from layout.units import parse_length as parse_length
    from layout.walk import walk_outline as walk_outline

# Public names and where they live; a module is loaded when one of its names is first asked for.
_HOMES = {
    "InputError": "errors",
    "LayoutError": "errors",
    "Plan": "plan",
    "PlanRequest": "request",
    "Zone": "outline",
    "check_plan": "judge",
    "cut_sheet": "cutsheet",
    "draw_plan": "drawing",
    "parse_length": "units",
    "plan_cuts": "trim",
    "plan_floor": "planner",
    "plan_text": "plan",
    "read_plan": "plan",
    "read_request": "request",
    "walk_outline": "walk",
}


def __getattr__(name: str) -> Any:
    """Return a public name, loading its module."""
    if name not in _HOMES:
        text = f"module 'layout' has no attribute {name!r}"
        raise AttributeError(text)
    return getattr(import_module(f"layout.{_HOMES[name]}"), name)


def __dir__() -> list[str]:
    """Return the public names."""
    return sorted(_HOMES)
