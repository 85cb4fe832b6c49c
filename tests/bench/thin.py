"""How many pieces have fingers or trims under a quarter inch, and on how many of them it is said.

    python -m tests.bench.thin [REQUEST.json ...]

Without files the named rooms of the tests are planned. A finger is a part of a piece thinner than
1/4 in and 1/2 in long or longer; a trim is a cut that takes off less than 1/4 in. "Said" counts
the pieces whose sheet tells them so.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jobs.domain.packet.notched import notched_content, thin_notes
from layout.cutsheet.seen_piece import seen_piece
from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.stays import fingers, thin_trims
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests.rooms import ROOMS


@dataclass(frozen=True, slots=True, kw_only=True)
class ThinCount:
    """Pieces of a floor with thin fingers, with thin trims, and those on which it is said.

    ``by_kind``: how many cuts across, rips and shaped ones take off less than a quarter inch.
    """

    pieces: int
    planks: int
    fingers: int
    trims: int
    said: int
    by_kind: tuple[tuple[str, int], ...]


def count_thin(request: PlanRequest, plan: Plan) -> ThinCount:
    """Return the count of one planned floor."""
    sheet = cut_sheet(request, plan)
    with_fingers, with_trims = set(), set()
    kinds: dict[str, int] = {}
    for piece in plan.pieces:
        seen = seen_piece(request, plan, sheet, piece.id)
        if seen is None:
            continue
        if fingers(seen.shape, request.unit):
            with_fingers.add(piece.id)
        for kind, _ in thin_trims(seen):
            with_trims.add(piece.id)
            kinds[kind] = kinds.get(kind, 0) + 1
    content = notched_content(request, plan, sheet, 1)
    drawn = {piece["id"] for piece in content["pieces"]}
    said = {piece["id"] for piece in content["pieces"] if piece["notes"]}
    for notes in thin_notes(request, plan, sheet, drawn=drawn).values():
        said |= {name for note in notes for name in note.split(": ")[0].split(", ")}
    return ThinCount(
        pieces=len(plan.pieces),
        planks=plan.totals.planks,
        fingers=len(with_fingers),
        trims=len(with_trims),
        said=len(said & (with_fingers | with_trims)),
        by_kind=tuple(sorted(kinds.items())),
    )


def _forms(names: list[str]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the requests to plan, by name."""
    if names:
        yield from ((Path(name).stem, json.loads(Path(name).read_text())) for name in names)
    else:
        yield from ((name, form()) for name, form in ROOMS.items())


def main(names: list[str]) -> None:
    """Print the counts."""
    totals = [0, 0, 0, 0]
    sys.stdout.write(
        f"{'floor':28}{'pieces':>8}{'fingers':>9}{'trims':>7}{'said':>6}  trims by kind\n"
    )
    for name, form in _forms(names):
        form.pop("effort_s", None)
        request = read_request({**form, "effort_iterations": 200})
        count = count_thin(request, plan_floor(request))
        kinds = ", ".join(f"{kind} {number}" for kind, number in count.by_kind)
        row = [count.pieces, count.fingers, count.trims, count.said]
        totals = [a + b for a, b in zip(totals, row, strict=True)]
        sys.stdout.write(f"{name:28}{row[0]:8}{row[1]:9}{row[2]:7}{row[3]:6}  {kinds}\n")
    sys.stdout.write(f"{'all':28}{totals[0]:8}{totals[1]:9}{totals[2]:7}{totals[3]:6}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
