"""Laying run by run, as by hand: what the search begins from and never falls behind."""

from __future__ import annotations

from random import Random

import pytest

from layout.joints.first_picks import opening
from layout.planner.first_rows import rip_choices
from layout.planner.trials import Trial, begin
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.values.outline import polygons_of
from layout.values.request import read_request
from tests import rooms
from tests.bench.baseline import planks_by_hand


def trial(name: str) -> Trial:
    request = read_request(rooms.ROOMS[name]())
    frame = Frame(direction_deg=request.rules.direction_deg or 0, lay=request.lay)
    ground = Ground.at_gaps(request, frame)
    rips = [rip_choices(ground, part)[0] for part in polygons_of(ground.region)]
    return begin(ground, rips, Random(1))


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
