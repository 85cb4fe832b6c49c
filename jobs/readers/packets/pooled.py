"""What the floors of a packet have together: spare planks of one product, how strips are read."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from decimal import Decimal

from jobs.domain.documents import canonical_json
from jobs.domain.formats import Fields
from jobs.domain.packet.packing import FEW
from jobs.domain.packet.words.reading import read_apart, read_together
from jobs.domain.quantities import Quantity
from jobs.readers.current_plan.floors import CurrentFloor

_MOST_TICKS = 24
_TITLE = re.compile("<title>.*?</title>|(?<=>)[^<>]*(?=Carry on)")
"""What tells alike sticks apart: the drawing's title, the floor's name before it is carried on."""


def pooled_spares(
    quantities: Iterable[Quantity], laid_by: Sequence[CurrentFloor], floors: Sequence[Fields]
) -> dict[str, int]:
    """Return the planks that are left over of each product that several floors are laid of.

    What the cartons of the job hold, less what the floors take; none of a product of several widths
    or shades, whose planks don't stand for each other.
    """
    cartons: dict[str, Decimal] = defaultdict(Decimal)
    for one in quantities:
        if one.code == "cartons" and one.amount:
            cartons[one.item] += one.amount
    boards = {one.product: one.row.product.carton_boards for one in laid_by if one.row}
    taken: dict[str, list[int]] = defaultdict(list)
    mixed = {floor["product"] for floor in floors if floor.get("piles") or floor.get("older")}
    for floor in floors:
        taken[floor["product"]].append(floor["planks"])
    return {
        product: max(0, int(cartons[product] * boards[product]) - sum(planks))
        for product, planks in taken.items()
        if len(planks) > 1 and product not in mixed and boards.get(product) and cartons[product]
    }


def _sticks_as_one(floors: Sequence[Fields]) -> None:
    """Name at a floor's stick the floor before it whose stick has the same marks and words."""
    first: dict[str, str] = {}
    for floor in floors:
        stick = floor["stick"]
        drawn = [_TITLE.sub("", one["drawing"]) for one in stick["placings"]]
        marks = canonical_json([stick["make"], stick["scribe"], drawn])
        if marks in first:
            stick["as"] = first[marks]
        first.setdefault(marks, floor["name"])
    _shorter_sticks(floors)


def _shorter_sticks(floors: Sequence[Fields]) -> None:
    """Name at a floor's stick another floor's with the same marks that goes further on.

    Only floors that nothing but their start and far wall stops: of the shorter one its ``ends``
    say what differs, where its last row stops.
    """
    alike: dict[str, list[Fields]] = defaultdict(list)
    for floor in floors:
        stick = floor["stick"]
        if "as" not in stick and len(stick["placings"]) > 1 and _plain(floor):
            alike[canonical_json([stick["make"], _start(stick), stick["lines"][0]])].append(floor)
    for same in alike.values():
        longest = max(same, key=lambda floor: len(floor["stick"]["lines"]))
        for floor in same:
            if floor is not longest and len(floor["stick"]["lines"]) > 1:
                stick = floor["stick"]
                stick["as"], stick["ends"] = longest["name"], _ends(stick)


def _plain(floor: Fields) -> bool:
    """Whether a floor's rows stop at its start and far wall alone, told in its table of slides."""
    stick = floor["stick"]
    slide = stick["slide"]
    shaped = stick["scribe"] or stick["strips"] or stick["by_hand"] or slide["fixed"]
    ends = {f"row {line['row']}" for line in (stick["lines"][0], stick["lines"][-1])}
    return not shaped and all(line["who"] in ends for line in slide["lines"])


def _start(stick: Fields) -> list[Fields]:
    """Return what row 1 becomes by the slides of a stick."""
    return [line for line in stick["slide"]["lines"] if line["who"] == "row 1"]


def _ends(stick: Fields) -> str:
    """Return where the last row of a shorter stick stops."""
    last, before = stick["lines"][-1], stick["lines"][-2]
    who, at = f"row {last['row']}", stick["slide"]["by"].index("plan")
    stays = [line["values"][at] for line in stick["slide"]["lines"] if line["who"] == who]
    width = f": {stays[0]}{' stays' * (stays[0] != 'whole')}" if stays else ""
    return f"Row {before['row']} lies at {before['far']}, {who} stops at {last['far']}{width}."


def _slides_as_one(floors: Sequence[Fields]) -> None:
    """Let the first of floors with one table of slides have the names of all; the others none."""
    first: dict[str, Fields] = {}
    for floor in floors:
        stick = floor["stick"]
        table = canonical_json({name: stick[name] for name in ("slide", "strips", "by_hand")})
        same = first.setdefault(table, floor)
        if same is not floor:
            same["stick"].setdefault("slide_for", [same["name"]]).append(floor["name"])
            stick["slide_for"] = []


def read_as_one(
    floors: Sequence[Fields], spares: Mapping[str, int], issued: Collection[str] = ()
) -> None:
    """Give the floors one count of spares for a product, the first all that is said of strips.

    ``issued``: the plans of floors that stand as an earlier packet said them.
    """
    new = [floor for floor in floors if not floor.get("older")]
    ticked: set[str] = set()
    for floor in new:
        product = floor["product"]
        if product in spares:
            left = spares[product]
            first = product not in ticked
            ticked.add(product)
            floor["strips"]["spares"] = left
            floor["strips"]["spares_for"] = "all floors"
            floor["strips"]["ticks"] = list(range(1, min(left, _MOST_TICKS) + 1)) if first else []
            floor["offcuts"]["spares"] = left
            if new_planks := (floor["stick"]["slide"].get("far") or {}).get("new"):
                new_planks["left"] = left - new_planks["need"]
    _sticks_as_one(new)
    _slides_as_one(new)
    if new:
        _read_in_place(new, issued)


def _read_in_place(floors: Sequence[Fields], issued: Collection[str]) -> None:
    """Let the first floor say how strips are read; of two floors each has its own examples."""
    if all(floor.get("plan_sha256") in issued for floor in floors):
        return
    if len(floors) != FEW:
        said = [(floor["name"], floor["strips"]["how"]) for floor in floors]
        floors[0]["strips"]["how"] = read_together(said)
        return
    general = []
    for floor in floors:
        how = floor["strips"]["how"]
        if floor.get("plan_sha256") not in issued:
            how, floor["strips"]["here"] = read_apart(how)
        general.append((floor["name"], how))
    floors[0]["strips"]["how"] = read_together(general)
