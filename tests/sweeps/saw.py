"""Random floors planned, their sheets made, and every plank sawn by figures and again by words.

    python -m tests.sweeps.saw --rooms 150 --seed 12
    python -m tests.sweeps.saw --room 120007            one room of a run again

A fault names the room, how it was read, the plank and what came out; the run then ends with 1.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from layout.__main__ import main as layout_door
from layout.resume.remaining import go_on
from layout.values.plan_form import read_plan
from layout.values.request import read_request, request_to_json
from tests.sweeps.planks_wanted import Json
from tests.sweeps.rooms import random_floor
from tests.sweeps.sawing import FIGURES, WORDS, sheet_faults

GONE_ON = 0.25  # of the floors are begun and gone on with
BROKEN = 0.2  # of the leftovers then are broken or lost
WAYS = {"figures": FIGURES, "words": WORDS}


class NoSheetError(Exception):
    """A request that ends without a plan, or a plan without a sheet."""


@dataclass(slots=True, kw_only=True)
class RoomSawn:
    """What came of one room: its floors, what they are made of, and what is wrong."""

    number: int
    name: str
    floors: list[tuple[Json, Json, Json]] = field(default_factory=list)
    refused: str = ""
    faults: list[str] = field(default_factory=list)

    def count(self, key: str) -> int:
        """Return the planks, pieces or cuts of all floors of the room."""
        return sum(
            {
                "planks": len(sheet["planks"]),
                "pieces": len(plan["pieces"]),
                "cuts": sum(len(entry["cuts"]) for entry in sheet["planks"]),
            }[key]
            for _, plan, sheet in self.floors
        )


def by_door(*command: str) -> str:
    """Return what a command of the layout core prints. Raises NoSheetError where it refuses."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = layout_door(command)
    if code:
        raise NoSheetError((err.getvalue() or out.getvalue()).strip().splitlines()[-1])
    return out.getvalue()


def planned(request: Json) -> tuple[Json, Json, Json]:
    """Return a request, its plan and its sheet, as the shell gives them."""
    with tempfile.TemporaryDirectory() as folder:
        files = [Path(folder, name) for name in ("request.json", "plan.json", "sheet.json")]
        files[0].write_text(json.dumps(request))
        by_door("plan", str(files[0]), "-o", str(files[1]))
        by_door("sheet", str(files[0]), str(files[1]), "-o", str(files[2]))
        return request, json.loads(files[1].read_text()), json.loads(files[2].read_text())


def room_sawn(number: int) -> RoomSawn:
    """Return what came of the room of a number."""
    chance = Random(number)
    name, request = random_floor(chance)
    room = RoomSawn(number=number, name=name)
    try:
        room.floors.append(planned(request))
        if chance.random() < GONE_ON:
            room.name += ", gone on with"
            room.floors.append(planned(begun(chance, *room.floors[0])))
    except NoSheetError as error:
        room.refused = str(error)
    for i, floor in enumerate(room.floors):
        place = "" if i == 0 else "gone on with, "
        for way, reader in WAYS.items():
            room.faults += [f"{place}{way}: {text}" for text in sheet_faults(*floor, reader)]
    return room


def begun(chance: Random, request: Json, plan: Json, _sheet: Json) -> Json:
    """Return the request for what is left of a floor after some of its pieces are down.

    Some of what was cut by then is broken or lost.
    """
    names = [piece["id"] for piece in plan["pieces"]]
    down = names[: chance.randrange(1, max(2, len(names)))]
    first, made = read_request(request), read_plan(plan)
    again = go_on(first, made, laid_ids=down, planks_left=None)
    labels = sorted(o.id for o in again.on_hand.offcuts) if again.on_hand else []
    gone = [label for label in labels if chance.random() < BROKEN]
    again = go_on(first, made, laid_ids=down, planks_left=None, offcuts_gone=gone)
    return {**request_to_json(again), "effort_iterations": request["effort_iterations"]}


def rooms_sawn(count: int, seed: int) -> Iterator[RoomSawn]:
    """Yield what came of so many rooms, the same every time for a seed."""
    for number in range(seed * 10_000, seed * 10_000 + count):
        yield room_sawn(number)


def report(rooms: Iterator[RoomSawn]) -> int:
    """Print every fault, then figures; return how many rooms have a fault."""
    sums: Counter[str] = Counter()
    spoiled: set[tuple[int, str]] = set()
    for room in rooms:
        sums.update({key: room.count(key) for key in ("planks", "pieces", "cuts")})
        sums.update(rooms=1, refused=bool(room.refused), faulty=bool(room.faults))
        if room.refused:
            print(f"{room.number} ({room.name}) refused: {room.refused}", flush=True)  # noqa: T201
        for text in room.faults:
            spoiled.add((room.number, text.partition(": ")[2].partition(":")[0]))
            print(f"{room.number} ({room.name}) {text}", flush=True)  # noqa: T201
    print(  # noqa: T201
        f"{sums['rooms']} rooms, {sums['refused']} refused, {sums['planks']} planks, "
        f"{sums['pieces']} pieces, {sums['cuts']} cuts, sawn twice\n"
        f"with a fault: {_share(sums['faulty'], sums['rooms'])} rooms, "
        f"{_share(len(spoiled), sums['planks'])} planks"
    )
    return sums["faulty"] + sums["refused"]


def _share(part: int, whole: int) -> str:
    """Return a count of a whole with its ratio."""
    return f"{part} of {whole} ({100 * part / max(1, whole):.2f} %)"


def main(arguments: Sequence[str]) -> int:
    """Saw what is asked for; return 1 where a room has a fault."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.saw", description=__doc__)
    parser.add_argument("--rooms", type=int, default=150, help="how many (default 150)")
    parser.add_argument("--seed", type=int, default=12, help="which ones (default 12)")
    parser.add_argument("--room", type=int, help="one room by its number")
    options = parser.parse_args(arguments)
    one = options.room is not None
    rooms = iter([room_sawn(options.room)]) if one else rooms_sawn(options.rooms, options.seed)
    return 1 if report(rooms) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
