"""Rooms that are planned once for the tests of this folder, and figures read as a person would."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

from jobs.domain.packet.notched import notched_content
from jobs.domain.packet.sliding.joining import joining_content
from jobs.domain.packet.stick import stick_content
from layout.cutsheet.sheet import cut_sheet
from layout.planner.plan_floor import plan_floor
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from layout.values.units import Unit, parse_length
from tests.rooms import ROOMS, request

CASED: list[list[float]] = [[0, 0], [160, 0], [160, 100], [98.25, 100], [98.25, 99.25]]
CASED += [
    [96, 99.25],
    [96, 104.5],
    [64, 104.5],
    [64, 99.25],
    [61.75, 99.25],
    [61.75, 100],
    [0, 100],
]
EDGES = {str(i): {"kind": "casing", "gap": 0} for i in (3, 4, 5, 7, 8, 9)}


def cased_room(**product: Any) -> dict[str, Any]:
    """A cased opening in a wall 4 1/2 in deep whose casings the floor runs under.

       64          96
        |          |
    +---+          +---+
    |                  |
    """
    boards = {"length": 48, "width": 7, "per_carton": 10, **product}
    return request(CASED, zone={"edges": EDGES}, product=boards, effort_iterations=10)


def mixed_widths() -> dict[str, Any]:
    """A room whose cartons hold boards of two widths, so that its rows are not alike."""
    boards = [{"length": 48, "width": width, "per_carton": 5} for width in (5, 7)]
    product = {"boards": boards, "lock": "angle-drop"}
    return request([[0, 0], [200, 0], [200, 150], [0, 150]], product=product)


@cache
def room(name: str) -> tuple[PlanRequest, Plan]:
    """Return a room of the tests by name, planned."""
    forms = {"cased": cased_room, "mixed": mixed_widths, **ROOMS}
    plan_request = read_request(forms[name]())
    return plan_request, plan_floor(plan_request)


@cache
def floor_of(name: str) -> dict[str, Any]:
    """Return what a packet keeps of the shapes of a room."""
    plan_request, plan = room(name)
    sheet = cut_sheet(plan_request, plan)
    lock = str(plan_request.product.lock or "angle-angle")
    return {
        "name": name,
        "product": "Example Oak",
        "stick": stick_content(plan_request, plan, 1),
        "notched": notched_content(plan_request, plan, sheet, 1),
        "joining": joining_content(plan_request, lock),
    }


def far_edges(name: str) -> dict[int, float]:
    """Return how far every row's far edge lies from the start wall, from the pieces' outlines."""
    plan_request, plan = room(name)
    zero = min(y for _, y in to_frame(plan_request.zone.outline, plan.direction_deg))
    edges: dict[int, float] = {}
    for piece in plan.pieces:
        far = max(y for _, y in to_frame(piece.outline, plan.direction_deg)) - zero
        edges[piece.row] = max(far, edges.get(piece.row, 0.0))
    return edges


def inches(text: str) -> float:
    """Return a printed figure in inches, with its mark or without."""
    length = parse_length(text.rstrip(".,;:").rstrip('"') + '"', bare=Unit.INCH)
    return float(Fraction(length.inches))
