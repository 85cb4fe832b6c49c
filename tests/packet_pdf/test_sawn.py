"""Every piece of some floors is made again from the packet's pages alone, by a saw with a kerf."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from random import Random

import pytest

from tests.packet_pdf.pages import ReadPage, read_pages
from tests.packet_pdf.printing import floor_pdf, traced_of
from tests.packet_pdf.rooms import ROOMS
from tests.packet_pdf.sawing import packet_faults
from tests.packet_pdf.strips import strips_of
from tests.sweeps.planks_wanted import Json
from tests.sweeps.saw import begun, planned

FEW = ("closet", "hall", "slanted", "diagonal")
# Two columns; notches and a rip of all; slanted ends; planks slanted at both ends.


@cache
def printed(name: str, paper: str = "letter") -> tuple[Json, Json, list[ReadPage]]:
    request, plan, _ = planned(ROOMS[name]())
    return request, plan, read_pages(floor_pdf(request, plan, name=name, paper=paper))


@pytest.mark.parametrize("name", FEW)
def test_the_pages_of_a_floor_make_every_piece_again(name: str) -> None:
    request, plan, pages = printed(name)
    faults = packet_faults(request, plan, pages, traced=traced_of(request, plan))
    assert faults == []
    assert len(plan["pieces"]) == sum(len(row) for row in strips_of(pages))


@cache
def printed_again(name: str) -> tuple[Json, Json, list[ReadPage]]:
    """The pages of a floor whose first rows are laid and whose rest is planned again."""
    first = planned(ROOMS[name]())
    request, plan, _ = planned(begun(Random(7), *first))
    return request, plan, read_pages(floor_pdf(request, plan, name=name))


@pytest.mark.parametrize("name", ["hall", "slanted"])
def test_a_floor_gone_on_with_is_made_from_its_new_pages(name: str) -> None:
    request, plan, pages = printed_again(name)
    assert request["laid"]
    assert packet_faults(request, plan, pages, traced=traced_of(request, plan)) == []


def test_old_pages_do_not_make_the_floor_that_was_planned_again() -> None:
    request, plan, _ = printed_again("hall")
    _, _, old = printed("hall")
    assert packet_faults(request, plan, old)


def test_a_figure_that_is_off_by_an_eighth_is_noticed() -> None:
    request, plan, pages = printed("hall")
    spoiled = []
    for page in pages:
        words = [replace(word) for word in page.words]
        spoiled.append(replace(page, words=words))
    rows = strips_of(pages)
    cut = next(c for row in rows for piece in row for c in piece.cuts if c.kind == "end")
    word = next(w for page in spoiled for w in page.words if w.text == cut.figure and w.size > 13)
    whole = re.match(r"\d+", cut.figure)
    assert whole is not None
    word.text = f"{whole[0]}⅛" if cut.figure.endswith("¼") else f"{whole[0]}¼"
    assert packet_faults(request, plan, spoiled)


def test_a_rest_on_the_wrong_stack_is_noticed() -> None:
    request, plan, pages = printed("hall")
    spoiled = [replace(page, words=[replace(word) for word in page.words]) for page in pages]
    letter = next(w for page in spoiled for w in page.words if w.boxed and w.text == "A")
    letter.text = "Q"
    assert any("taken from" in text for text in packet_faults(request, plan, spoiled))
