"""Floors planned, their packet pages printed, and every piece sawn again from the pages alone.

The story stick is made by its words, laid down again and again, and slid by a quarter inch.

    python -m tests.sweeps.packets                      the ten rooms, on Letter
    python -m tests.sweeps.packets --rooms 3 --paper a4
    python -m tests.sweeps.packets --random 20 --seed 12
    python -m tests.sweeps.packets --number 120009 120020
    python -m tests.sweeps.packets --rooms 3 --gone-on    begun and planned again

A fault names the room, the plank and what came out; the run then ends with 1.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from random import Random

import django

from tests.sweeps.planks_wanted import Json
from tests.sweeps.rooms import random_floor
from tests.sweeps.saw import NoSheetError, begun, planned


def packet_of(request: Json, paper: str, *, gone_on: bool = False) -> tuple[Json, int, list[str]]:
    """Return the plan of a floor, how many pages its strips and shapes take, what is wrong.

    ``gone_on``: some of it is laid and the rest planned again; that packet is read.
    """
    from tests.packet_pdf.pages import read_pages
    from tests.packet_pdf.printing import floor_pdf, traced_of
    from tests.packet_pdf.readings import NotReadError
    from tests.packet_pdf.sawing import packet_faults
    from tests.packet_pdf.stick.story_stick import stick_faults

    given, plan, sheet = planned(request)
    if gone_on:
        given, plan, _ = planned(begun(Random(len(plan["pieces"])), given, plan, sheet))
    pdf = floor_pdf(given, plan, paper=paper)
    pages = read_pages(pdf)
    try:
        faults = packet_faults(given, plan, pages, traced=traced_of(given, plan))
        faults += stick_faults(given, plan, pdf)
    except NotReadError as error:
        faults = [str(error)]
    return plan, len(pages), faults


def rooms_of(options: argparse.Namespace) -> Iterator[tuple[str, Json]]:
    """Yield the rooms of a run by their names."""
    from tests.packet_pdf.rooms import ROOMS

    first = options.seed * 10_000
    numbers = options.number or range(first, first + options.random)
    if numbers:
        for number in numbers:
            name, request = random_floor(Random(number))
            yield f"{number} ({name})", request
        return
    for name in [*ROOMS][: options.rooms]:
        yield name, ROOMS[name]()


def main(arguments: Sequence[str]) -> int:
    """Print and saw what is named; return 1 where a piece does not come out."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.packets", description=__doc__)
    parser.add_argument("--rooms", type=int, default=10, help="how many of the ten (default all)")
    parser.add_argument("--random", type=int, default=0, help="so many random floors instead")
    parser.add_argument("--seed", type=int, default=12, help="which random ones (default 12)")
    parser.add_argument("--number", type=int, nargs="+", help="these random floors")
    parser.add_argument("--gone-on", action="store_true", help="read floors gone on with")
    parser.add_argument("--paper", default="letter", choices=("letter", "a4"))
    options = parser.parse_args(arguments)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    django.setup()
    sums: Counter[str] = Counter()
    for name, request in rooms_of(options):
        try:
            plan, pages, faults = packet_of(request, options.paper, gone_on=options.gone_on)
        except NoSheetError as error:
            print(f"{name} refused: {error}", flush=True)  # noqa: T201
            continue
        for text in faults:
            print(f"{name}: {text}", flush=True)  # noqa: T201
        sums.update(rooms=1, pieces=len(plan["pieces"]), pages=pages, faulty=bool(faults))
    print(  # noqa: T201
        f"{sums['rooms']} rooms, {sums['pieces']} pieces, {sums['pages']} pages; "
        f"{sums['faulty']} rooms with a fault"
    )
    return 1 if sums["faulty"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
