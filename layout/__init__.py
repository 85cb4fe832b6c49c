"""Plank floors: from a measured outline to every piece of every plank, and back to the tape.

Usable by itself, without the web application: as this package, or from the shell
(``python -m layout plan|check|draw|sheet|trim``). It knows no Django, reads no clock and no
environment.

    zone            one continuous floor: an outline, its holes, what stands at every edge
    gap             what stays open at an edge, so that the floor may move
    laying region   the zone less its holes, pulled back from every edge by its gap
    direction       the way the planks lie, counter-clockwise from +x of the room
    direction frame the room turned back by the direction, so that planks lie along +x
    working frame   the direction frame mirrored: rows begin at the low side, at the left end
    ground          a request along one direction, and the region laid there
    board           what the product is sold as; its size is laid cover, never tongue or lip
    plank           one board of the plan, numbered; what is cut from it keeps that number
    piece           what is left of a plank after cutting, where it lies on the floor
    row             one board width of floor, numbered from the start wall
    run             a connected stretch of a row, from wall (or post) to wall
    starter, ender  the first and the last piece of a run
    end joint       where two pieces of a row meet; joints of touching rows keep their offset
    stopping line   a stretch of edge that rows end against
    rip             a cut along a plank; a strip is what a rip leaves
    sliver          a strip too narrow to lay; a tip that a wall cuts at a slant is none
    H-joint         a joint lined up with one of the next row but one: it shows as an H
    staircase       a step from row to row that comes again twice more
    offcut          what a cut leaves; it has a label and waits on a stack for its piece
    stack           a pile of offcuts that wait, named by a letter; at most ten wait on one
    pile            whole planks of one width and variant, counted once the cartons are open
    sheet           every cut of every plank in the order in which they are made
    kerf            what the saw takes between two pieces of one plank
    trapped         a piece that can't be tilted in; the cut sheet says how it goes in
    story stick     the row lines measured from a wall, to check before the first cut
    lower bound     the planks that every plan needs; its certificate can be rechecked by hand
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from layout.cutsheet.sheet import cut_sheet as cut_sheet
    from layout.drawing.plan import draw_plan as draw_plan
    from layout.judge.check import check_plan as check_plan
    from layout.planner.plan_floor import plan_floor as plan_floor
    from layout.trim.plan_cuts import plan_cuts as plan_cuts
    from layout.values.errors import InputError as InputError
    from layout.values.errors import LayoutError as LayoutError
    from layout.values.outline import Zone as Zone
    from layout.values.plan import Plan as Plan
    from layout.values.plan_form import plan_text as plan_text
    from layout.values.plan_form import read_plan as read_plan
    from layout.values.request import PlanRequest as PlanRequest
    from layout.values.request import read_request as read_request
    from layout.values.units import parse_length as parse_length
    from layout.values.walk import walk_outline as walk_outline

# Public names and where they live; a module is loaded when one of its names is first asked for.
_HOMES = {
    "InputError": "values.errors",
    "LayoutError": "values.errors",
    "Plan": "values.plan",
    "PlanRequest": "values.request",
    "Zone": "values.outline",
    "check_plan": "judge.check",
    "cut_sheet": "cutsheet.sheet",
    "draw_plan": "drawing.plan",
    "parse_length": "values.units",
    "plan_cuts": "trim.plan_cuts",
    "plan_floor": "planner.plan_floor",
    "plan_text": "values.plan_form",
    "read_plan": "values.plan_form",
    "read_request": "values.request",
    "walk_outline": "values.walk",
}


def __getattr__(name: str) -> object:
    """Return a public name, loading its module."""
    if name not in _HOMES:
        text = f"module 'layout' has no attribute {name!r}"
        raise AttributeError(text)
    return getattr(import_module(f"layout.{_HOMES[name]}"), name)


def __dir__() -> list[str]:
    """Return the public names."""
    return sorted(_HOMES)
