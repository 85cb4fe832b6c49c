"""Laying run by run, as by hand: what the search begins from and never falls behind."""

from __future__ import annotations

from random import Random

import pytest

from layout.joints.first_picks import opening
from layout.planner.trials import Trial, begin, rip_choices
from layout.rows.rows import Frame
from layout.values.outline import laying_region, polygons_of
from layout.values.request import read_request
from tests import rooms
from tests.bench.baseline import planks_by_hand


def trial(name: str) -> Trial:
    request = read_request(rooms.ROOMS[name]())
    frame = Frame(direction_deg=request.rules.direction_deg or 0, lay=request.lay)
    region = frame.region(laying_region(request.zone, request.rules.expansion_gap))
    rips = [rip_choices(request, part)[0] for part in polygons_of(region)]
    return begin(request, frame, region, rips, Random(1))


@pytest.mark.parametrize("name", sorted(rooms.ROOMS))
def test_the_search_takes_no_more_planks_than_by_hand(name: str) -> None:
    one = trial(name)
    one.open_by_hand()
    if one.search.score.clashes == 0:
        assert one.search.score.planks <= planks_by_hand(read_request(rooms.ROOMS[name]()))


def test_the_second_row_begins_with_what_the_first_left() -> None:
    one = trial("study")
    picks = opening(one.floor, one.sites, one.search.terms)
    room = one.search.terms.room(picks[0][1])
    assert picks[1][0] <= room
