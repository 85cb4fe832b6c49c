"""Requests in the interchange form: read whole, or refused by field, value and range."""

from __future__ import annotations

import json
import math
from copy import deepcopy
from typing import Any

import pytest

from layout.values.errors import InputError, NotYetError
from layout.values.material import End, Lock, Prefer, Side, Stagger
from layout.values.outline import EdgeKind, HoleKind
from layout.values.request import read_request
from tests.rooms import ROOMS, study


def changed(path: str, value: object) -> dict[str, Any]:
    """Return the study with one field set; the path is dotted."""
    request = deepcopy(study())
    *parents, name = path.split(".")
    inner = request
    for parent in parents:
        inner = inner.setdefault(parent, {})
    inner[name] = value
    return request


def without(path: str) -> dict[str, Any]:
    request = changed(path, 0)
    *parents, name = path.split(".")
    inner = request
    for parent in parents:
        inner = inner[parent]
    del inner[name]
    return request


@pytest.mark.parametrize("room", ROOMS.values(), ids=ROOMS)
def test_every_named_room_is_a_request(room: Any) -> None:
    assert read_request(json.loads(json.dumps(room()))).product.board.length > 0


def test_what_is_said_is_what_is_read() -> None:
    request = read_request(
        {
            **study(),
            "lay": {"start": "high", "first_end": "right", "tongue": "low"},
            "zone": {
                "outline": [[0, 0], [161, 0], [161, 128.5], [0, 128.5]],
                "holes": [{"outline": [[9, 9], [19, 9], [19, 13], [9, 13]], "kind": "register"}],
                "edges": {"2": {"gap": 0.5, "max_gap": 0.75, "kind": "toe kick"}},
                "no_joints": [[[0, 0], [4, 0], [4, 30]]],
            },
            "product": {"length": 48, "width": 7, "per_carton": 10, "lock": "angle-drop"},
            "prefer": "cartons",
            "spares": 3,
            "seed": 7,
            "name": "Study",
        }
    )
    assert (request.lay.start, request.lay.first_end) == (Side.HIGH, End.RIGHT)
    assert request.zone.edges[2].kind is EdgeKind.TOE_KICK
    assert request.zone.holes[0].kind is HoleKind.REGISTER
    assert request.product.lock is Lock.ANGLE_DROP
    assert (request.prefer, request.spares, request.seed) == (Prefer.CARTONS, 3, 7)


def test_what_is_not_said_keeps_its_default() -> None:
    request = read_request(study())
    assert (request.rules.stagger, request.rules.balance) == (Stagger.FREE, True)
    assert (request.rules.wall_error, request.rules.max_rack, request.spares) == (0, None, 0)


def test_best_asks_for_every_main_direction() -> None:
    assert read_request(changed("rules.direction_deg", "best")).rules.direction_deg is None


@pytest.mark.parametrize(
    ("path", "value", "message"),
    [
        ("format", 3, "format: 3 can't be used; accepted: 1 or 2"),
        ("format", True, "format: true can't be used; accepted: a number"),
        ("unit", "cm", 'unit: \'cm\' can\'t be used; accepted: "in" or "mm"'),
        ("unit", 5, "unit: 5 can't be used; accepted: a text"),
        ("zone", [], "zone: a list can't be used; accepted: an object"),
        ("zone.outline", "square", "zone.outline: 'square' can't be used; accepted: a list"),
        ("zone.outline", [[0, 0], [9, 9]], "zone.outline: 2 corners; accepted: 3 corners"),
        ("zone.outline", [[0, 0], [9], [9, 9]], "zone.outline.1.: 1 numbers; accepted: a pair"),
        ("zone.outline", [[0, 0], [9e9, 0], [9, 9]], "zone.outline.1..0.: 9000000000 can't"),
        ("zone.outline", [[0, 0], [13000, 0], [0, 99]], "a corner at 13000; accepted: corners"),
        ("zone.outlne", [], "zone.outlne: unknown field; accepted: .*outline"),
        ("zone.holes", [{"ring": []}], "zone.holes.0..outline: missing"),
        ("zone.holes", [{"outline": 3}], "zone.holes.0..outline: 3 can't be used"),
        ("zone.edges", {"north": {}}, "zone.edges.north: no edge; accepted: the number"),
        ("zone.edges", {"9": {}}, "zone.edges.9: 9 can't be used; accepted: an edge from 0 to 3"),
        ("zone.edges", {"1": {"kind": "door"}}, '"wall" or "casing"'),
        ("zone.edges", {"1": {"gap": 20}}, "zone.edges.1.gap: 20 can't be used; accepted: 0 to"),
        ("zone.edges", {"1": {"max_gap": 0.1}}, "zone.edges.1.max_gap: 0.1 .*accepted: 0.25 to"),
        ("product.length", "48", "product.length: '48' can't be used; accepted: a number"),
        ("product.length", True, "product.length: true can't be used"),
        ("product.length", 0, "product.length: 0 can't be used; accepted: more than 0"),
        ("product.length", -48, "product.length: -48 can't be used"),
        ("product.length", math.nan, "product.length: nan can't be used"),
        ("product.length", 10**400, "product.length: 1000.*a finite number"),
        ("product.length", 400, "product.length: 400 can't be used; accepted: 1 to 300"),
        ("product.width", 0.1, "product.width: 0.1 can't be used; accepted: 0.5 to 60"),
        ("product.per_carton", 2.5, "product.per_carton: 2.5 can't be used; accepted: a whole"),
        ("product.per_carton", 0, "product.per_carton: 0 can't be used; accepted: 1 to 1000"),
        ("product.lock", "magnet", 'product.lock: \'magnet\' .*"angle-angle" or "angle-drop"'),
        ("product.variants", {"A": 4}, "product.variants: 4 boards; accepted: .*one carton, 10"),
        ("product.variants", {"A": 10, "B": 0}, "product.variants.B: 0 can't be used"),
        ("product.boards", [], "product.length: unknown field"),
        ("rules.saw_kerf", -0.1, "rules.saw_kerf: -0.1 can't be used; accepted: 0 or more"),
        ("rules.saw_kerf", 2, "rules.saw_kerf: 2 can't be used; accepted: 0 to 1"),
        ("rules.kerf", 0.1, "rules.kerf: unknown field; accepted: .*saw_kerf"),
        ("rules.min_end_piece", 50, "rules.min_end_piece: 50 .*accepted: 0 to 48"),
        ("rules.min_joint_offset", 25, "rules.min_joint_offset: 25 .*accepted: 0 to 24"),
        ("rules.min_row_width", 8, "rules.min_row_width: 8 .*accepted: 0 to 7"),
        ("rules.wall_error", 9, "rules.wall_error: 9 .*accepted: 0 to 6"),
        ("rules.max_rack", -1, "rules.max_rack: -1 can't be used; accepted: 0 to 10000"),
        ("rules.stagger", "quarter", 'rules.stagger: .*"free" or "half" or "third"'),
        ("rules.direction_deg", "north", 'rules.direction_deg: .*an angle in degrees or "best"'),
        ("rules.direction_deg", 361, "rules.direction_deg: 361 can't be used"),
        ("rules.balance", "yes", "rules.balance: 'yes' can't be used; accepted: true or false"),
        ("lay", {"start": "left"}, 'lay.start: \'left\' .*"low" or "high"'),
        ("lay", {"tounge": "low"}, "lay.tounge: unknown field"),
        ("prefer", "money", 'prefer: \'money\' .*"planks" or "cartons"'),
        ("effort_s", -1, "effort_s: -1 can't be used; accepted: 0 to 3600"),
        ("effort_iterations", 1e8, "effort_iterations: 100000000 can't be used"),
        ("spares", 1.5, "spares: 1.5 can't be used; accepted: a whole number"),
        ("seed", "x", "seed: 'x' can't be used; accepted: a number"),
        ("on_hand", {"planks": -1}, "on_hand.planks: -1 can't be used"),
        ("finish", "oak", "finish: unknown field"),
    ],
)
def test_what_cannot_be_used_is_refused_by_field_value_and_range(
    path: str, value: object, message: str
) -> None:
    with pytest.raises(InputError, match=message):
        read_request(changed(path, value))


@pytest.mark.parametrize(
    "path", ["format", "unit", "zone", "product", "rules", "rules.saw_kerf", "product.per_carton"]
)
def test_what_is_missing_is_named(path: str) -> None:
    with pytest.raises(InputError, match=f"{path}: missing; accepted"):
        read_request(without(path))


def test_a_product_that_takes_too_many_boards_is_refused_by_its_size() -> None:
    tiny = {**study(), "product": {"length": 1, "width": 0.5, "per_carton": 10}}
    tiny["rules"] = {**tiny["rules"], "min_end_piece": 0, "min_joint_offset": 0}
    tiny["rules"]["min_row_width"] = 0
    with pytest.raises(InputError, match=r"product: 1 x 0.5 makes about .* at most 20000"):
        read_request(tiny)


def mixed(*widths: float, **product: Any) -> dict[str, Any]:
    boards = [{"length": 48, "width": width, "per_carton": 5} for width in widths]
    return {**study(), "product": {"boards": boards, **product}}


def test_a_width_named_twice_is_refused_with_the_width() -> None:
    with pytest.raises(InputError, match="width 7 stands 2 times; accepted: each width once"):
        read_request(mixed(7, 5, 7))


def test_variants_of_several_widths_are_told_by_width() -> None:
    with pytest.raises(InputError) as refused:
        read_request(mixed(7, 5, variants={"A": 5, "B": 5}))
    assert str(refused.value) == (
        "product.variants: A, B for boards of 2 widths; "
        'accepted: counts by width (product.boards[0].variants), or "mixed"'
    )


def test_an_unknown_field_of_a_board_is_refused() -> None:
    request = mixed(7, 5)
    request["product"]["boards"][1]["per_box"] = 5
    with pytest.raises(InputError, match=r"product.boards\[1\].per_box: unknown field"):
        read_request(request)


def test_boards_of_different_lengths_are_not_supported_yet() -> None:
    boards = [{"length": length, "width": 7, "per_carton": 5} for length in (48, 36)]
    with pytest.raises(NotYetError, match="lengths 48, 36 in one carton; accepted: boards of one"):
        read_request({**study(), "product": {"boards": boards}})


def test_a_third_of_the_board_bounds_the_offset_with_that_step() -> None:
    request = changed("rules.stagger", "third")
    request["rules"]["min_joint_offset"] = 17
    with pytest.raises(InputError, match="accepted: 0 to 16"):
        read_request(request)


def laid(**changes: object) -> dict[str, Any]:
    """Return a piece already down in the study's first row."""
    corners = [[0.25, 0.25], [30.25, 0.25], [30.25, 7.25], [0.25, 7.25]]
    piece = {"id": "1-1", "row": 1, "place": 1, "plank": 1, "size": [48, 7]}
    return {**piece, "outline": corners, "origin": [-17.75, 0.25], **changes}


@pytest.mark.parametrize(
    ("pieces", "message"),
    [
        ([laid(), laid(id="1-2")], "laid.1..outline: piece 1-2 overlaps piece 1-1"),
        ([laid(), laid()], 'laid: id "1-1" stands 2 times'),
        ([laid(size=[48, 5])], "laid.0..size: 48 x 5; accepted: 48 x 7"),
        ([laid(outline=[[-9, 1], [9, 1], [9, 7]])], "piece 1-1 lies outside the zone"),
        ([laid(outline=[[1, 1], [9, 7], [9, 1], [1, 7]])], "laid.0..outline: meets itself"),
        ([laid(row="one")], "laid.0..row: 'one' can't be used; accepted: a number"),
    ],
)
def test_pieces_that_cannot_lie_there_are_refused(
    pieces: list[dict[str, Any]], message: str
) -> None:
    with pytest.raises(InputError, match=message):
        read_request({**study(), "laid": pieces})


def test_laid_pieces_ask_for_a_direction() -> None:
    request = changed("rules.direction_deg", "best")
    with pytest.raises(InputError, match="the direction of the laid pieces"):
        read_request({**request, "laid": [laid()]})


def offcut(**changes: object) -> dict[str, Any]:
    whole = {"id": "F1", "plank": 1, "length": 17.5, "width": 7}
    return {**whole, "keeps": ["left end", "low side", "high side"], **changes}


def test_an_offcut_without_a_place_lies_where_its_factory_edges_are() -> None:
    right = offcut(id="F2", plank=9, keeps=["right end", "high side"], length=20, width=3)
    request = read_request({**study(), "on_hand": {"offcuts": [offcut(), right]}})
    assert request.on_hand is not None
    assert [piece.at for piece in request.on_hand.offcuts] == [(0, 0), (28, 4)]


@pytest.mark.parametrize(
    ("offcuts", "message"),
    [
        (
            [offcut(), offcut(id="F2")],
            r"F2 \(17.5 x 7 at 0, 0\) overlaps offcut F1 in plank 1; accepted: no more",
        ),
        (
            [offcut(length=20)],
            r"F1 \(20 x 7 at 0, 0\) overlaps piece 1-1 in plank 1; accepted: no more",
        ),
        ([offcut(), offcut()], 'id "F1" stands 2 times'),
        ([offcut(length=60)], "on_hand.offcuts.0..length: 60 can't be used"),
        ([offcut(keeps=["top"])], "on_hand.offcuts.0..keeps: 'top' can't be used"),
    ],
)
def test_more_offcuts_than_were_cut_are_refused(
    offcuts: list[dict[str, Any]], message: str
) -> None:
    with pytest.raises(InputError, match=message):
        read_request({**study(), "laid": [laid()], "on_hand": {"offcuts": offcuts}})
