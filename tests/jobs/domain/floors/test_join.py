"""Placed rooms and passages joined to one zone."""

from __future__ import annotations

import pytest

from jobs.domain.floors.join import Passage, PlacedRoom, ZoningError, join, zone_area
from jobs.domain.floors.place import Place, beside, opening, placed
from layout.values.outline import EdgeKind, Hole, Ring, Zone, check_ring, edges_of

DEN: Ring = ((0.0, 0.0), (132.0, 0.0), (132.0, 118.0), (0.0, 118.0))
HALL: Ring = ((0.0, 0.0), (42.0, 0.0), (42.0, 160.0), (0.0, 160.0))
WALL = 4.5


def room(name: str, ring: Ring, x: float = 0.0, y: float = 0.0, turn: float = 0.0) -> PlacedRoom:
    """Return a room whose first corner lies at (x, y)."""
    return PlacedRoom(name=name, ring=placed(ring, Place(x=x, y=y, turn_deg=turn)))


def doorway(cased: bool = True) -> Passage:
    """Return a 32 in doorway in the den's second wall, into the hall."""
    ring = opening(DEN, wall=1, offset=38, width=32).ring(WALL)
    return Passage(room="Den", ring=ring, cased=cased, beyond="Hall")


def joined(x: float = 132 + WALL, y: float = -38.0, cased: bool = True) -> Zone:
    """Return den and hall joined, the hall's first corner at (x, y)."""
    return join([room("Den", DEN), room("Hall", HALL, x, y)], [doorway(cased)], unit="in")


def test_a_room_alone_is_its_own_zone() -> None:
    assert join([room("Den", DEN)], [], unit="in").outline == DEN


def test_two_rooms_and_their_doorway_make_one_outline() -> None:
    assert zone_area(joined()) == pytest.approx(132 * 118 + 42 * 160 + 32 * WALL)
    assert len(joined().outline) == 12


def test_no_end_joint_may_fall_in_the_doorway() -> None:
    assert joined().no_joints == (doorway().ring,)


def test_the_sides_of_a_cased_doorway_are_casings() -> None:
    kinds = [edge.kind for edge in joined().edges.values()]
    assert kinds == [EdgeKind.CASING, EdgeKind.CASING]


def test_the_sides_of_a_bare_opening_are_walls() -> None:
    assert joined(cased=False).edges == {}


def test_the_hair_that_rounding_leaves_parts_no_floor() -> None:
    assert zone_area(joined(x=132 + WALL + 1e-5)) == pytest.approx(22440, abs=1)


def test_rooms_that_overlap_are_named_with_how_much() -> None:
    with pytest.raises(ZoningError) as refused:
        joined(x=126.0)
    assert str(refused.value) == (
        'Den and Hall overlap, 6" deep over 9\'\u00a010"; accepted: rooms that meet at a wall line '
        "or through a doorway."
    )


def test_rooms_apart_are_named_with_the_distance() -> None:
    with pytest.raises(ZoningError, match="Den and Hall don't touch: they lie 1'\u00a00\" apart"):
        join([room("Den", DEN), room("Hall", HALL, 144.0)], [], unit="in")


def test_rooms_that_touch_at_a_corner_make_no_floor() -> None:
    with pytest.raises(ZoningError, match="touch only at a corner"):
        join([room("Den", DEN), room("Hall", HALL, 132.0, 118.0)], [], unit="in")


def test_a_doorway_that_misses_the_room_beyond_is_named() -> None:
    with pytest.raises(ZoningError, match='doorway from Den to Hall misses Hall by 7½"'):
        joined(x=132 + WALL + 7.5)


def test_a_doorway_that_reaches_into_the_room_beyond_is_named() -> None:
    with pytest.raises(ZoningError, match='doorway from Den to Hall reaches 2" into Hall'):
        joined(x=132 + WALL - 2)


def test_a_floor_without_rooms_is_refused() -> None:
    with pytest.raises(ZoningError, match="no room yet"):
        join([], [], unit="in")


def test_rooms_that_meet_at_a_wall_line_need_no_doorway() -> None:
    zone = join([room("Den", DEN), room("Hall", HALL, 132.0)], [], unit="in")
    assert zone_area(zone) == pytest.approx(132 * 118 + 42 * 160)


def test_a_floor_that_ends_in_an_opening_ends_at_a_transition() -> None:
    ring = opening(DEN, wall=0, offset=40, width=30).ring(WALL / 2)
    zone = join([room("Den", DEN)], [Passage(room="Den", ring=ring, cased=False)], unit="in")
    assert [edge.kind for edge in zone.edges.values()] == [EdgeKind.TRANSITION]
    assert zone_area(zone) == pytest.approx(132 * 118 + 30 * WALL / 2)


def test_an_opening_without_depth_ends_the_floor_at_the_wall_line() -> None:
    ring = opening(DEN, wall=0, offset=40, width=30).ring(0)
    passage = Passage(room="Den", ring=ring, cased=False, end=EdgeKind.STAIR_NOSE)
    zone = join([room("Den", DEN)], [passage], unit="in")
    assert [edge.kind for edge in zone.edges.values()] == [EdgeKind.STAIR_NOSE]
    assert zone_area(zone) == 132 * 118


def test_what_the_rooms_enclose_becomes_a_post() -> None:
    #  ring of four strips around a chimney of 20 by 20
    strips = {
        "South": (0, 0, 60, 20),
        "North": (0, 40, 60, 60),
        "West": (0, 20, 20, 40),
        "East": (40, 20, 60, 40),
    }
    rooms = [
        PlacedRoom(name=name, ring=((a, b), (c, b), (c, d), (a, d)))
        for name, (a, b, c, d) in strips.items()
    ]
    assert zone_area(join(rooms, [], unit="in")) == 60 * 60 - 20 * 20


def test_rooms_that_open_into_each_other_without_a_wall_need_no_kept_place() -> None:
    ring = opening(DEN, wall=1, offset=0, width=118).ring(0)
    passage = Passage(room="Den", ring=ring, cased=False, beyond="Hall")
    zone = join([room("Den", DEN), room("Hall", HALL, 132.0)], [passage], unit="in")
    assert zone.no_joints == ()


def test_holes_of_the_rooms_are_holes_of_the_zone() -> None:
    post = Hole(ring=((10.0, 10.0), (16.0, 10.0), (16.0, 16.0), (10.0, 16.0)))
    den = PlacedRoom(name="Den", ring=DEN, holes=(post,))
    assert join([den], [], unit="in").holes == (post,)


def test_a_room_is_set_against_another_through_their_doorway() -> None:
    there = opening(DEN, wall=1, offset=38, width=32)
    place = beside(there, depth=WALL, ring=HALL, wall=3, offset=52)
    assert (place.x, place.y, place.turn_deg) == (136.5, -38.0, 0.0)


def test_a_room_walked_from_another_corner_is_turned() -> None:
    turned = placed(HALL, Place(turn_deg=90))
    there = opening(DEN, wall=1, offset=38, width=32)
    place = beside(there, depth=WALL, ring=turned, wall=3, offset=52)
    ring = placed(turned, place)
    assert min(x for x, _ in ring) == pytest.approx(136.5)
    assert place.turn_deg == 270.0


def test_a_room_walked_to_the_right_is_set_beside_as_well() -> None:
    mirrored = tuple((x, -y) for x, y in HALL)
    there = opening(DEN, wall=1, offset=38, width=32)
    place = beside(there, depth=WALL, ring=mirrored, wall=3, offset=52)
    hall = PlacedRoom(name="Hall", ring=placed(mirrored, place))
    zone = join([room("Den", DEN), hall], [doorway()], unit="in")
    assert zone_area(zone) == pytest.approx(132 * 118 + 42 * 160 + 32 * WALL)


def test_a_hall_joins_three_rooms_through_its_doorways() -> None:
    hall = [(0.0, 0.0), (42.0, 0.0), (42.0, 160.0), (0.0, 160.0)]
    rooms = [
        room("Den", DEN),
        room("Hall", tuple(hall), 136.5, 30.0),
        room("Study", ((0.0, 0.0), (117.0, 0.0), (117.0, 118.0), (0.0, 118.0)), 183.0, 0.0),
        room("Bedroom", ((0.0, 0.0), (144.0, 0.0), (144.0, 110.0), (0.0, 110.0)), 96.0, 190.0),
    ]
    west = Passage(
        room="Den",
        ring=opening(DEN, wall=1, offset=38, width=32).ring(WALL),
        cased=True,
        beyond="Hall",
    )
    east = Passage(
        room="Hall",
        ring=opening(rooms[1].ring, wall=1, offset=22, width=32).ring(WALL),
        cased=True,
        beyond="Study",
    )
    zone = join(rooms, [west, east], unit="in")
    assert zone_area(zone) == pytest.approx(132 * 118 + 42 * 160 + 117 * 118 + 144 * 110 + 288)


def test_what_stands_at_a_wall_stands_at_the_edge_of_the_floor() -> None:
    kinds = (EdgeKind.TOE_KICK, EdgeKind.WALL, EdgeKind.RADIATOR, EdgeKind.WALL)
    den = PlacedRoom(name="Den", ring=DEN, edges=kinds)
    zone = join([den, room("Hall", HALL, 132 + WALL, -38)], [doorway(False)], unit="in")
    ends = list(edges_of(zone.outline))
    edge_kinds = {frozenset(ends[n]): edge.kind for n, edge in zone.edges.items()}
    assert edge_kinds == {
        frozenset([(0, 0), (132, 0)]): EdgeKind.TOE_KICK,
        frozenset([(0, 118), (132, 118)]): EdgeKind.RADIATOR,
    }


def test_a_casing_in_an_opening_counts_before_what_stands_at_the_wall() -> None:
    kinds = (EdgeKind.WALL, EdgeKind.TOE_KICK, EdgeKind.WALL, EdgeKind.WALL)
    den = PlacedRoom(name="Den", ring=DEN, edges=kinds)
    zone = join([den, room("Hall", HALL, 132 + WALL, -38)], [doorway()], unit="in")
    edge_kinds = sorted(edge.kind for edge in zone.edges.values())
    assert edge_kinds == [EdgeKind.CASING] * 2 + [EdgeKind.TOE_KICK] * 2


SQUARE: Ring = ((0.0, 0.0), (120.0, 0.0), (120.0, 120.0), (0.0, 120.0))


def round_a_block(miss: float = 0.0) -> Zone:
    """Return four rooms round a block of walls, floor carried through three of their doorways.

    Under a strip in the fourth the floor ends from both sides:

        D | C
        --+--     D and A: each covers half of the wall between them
        A | B
    """
    apart = 120 + WALL
    rooms = {
        "A": room("A", SQUARE),
        "B": room("B", SQUARE, apart),
        "C": room("C", SQUARE, apart, apart),
        "D": room("D", SQUARE, 0.0, apart + miss),
    }

    def passage(name: str, wall: int, depth: float, beyond: str = "") -> Passage:
        ring = opening(rooms[name].ring, wall=wall, offset=44, width=32).ring(depth)
        return Passage(room=name, ring=ring, cased=True, beyond=beyond)

    carried = [passage("A", 1, WALL, "B"), passage("B", 2, WALL, "C"), passage("C", 3, WALL, "D")]
    ended = [passage("D", 0, WALL / 2), passage("A", 2, WALL / 2)]
    return join(list(rooms.values()), [*carried, *ended], unit="in")


@pytest.mark.parametrize("miss", [0.0, 0.0005, -0.0005, 0.004])
def test_floor_from_both_sides_of_a_strip_stays_apart_under_it(miss: float) -> None:
    zone = round_a_block(miss)
    check_ring(zone.outline, "outline")
    ends = [edge for edge in zone.edges.values() if edge.kind is EdgeKind.TRANSITION]
    assert (len(ends), zone.holes) == (2, ())


def test_the_floor_under_a_strip_lacks_the_strips_stem() -> None:
    whole = 4 * 120 * 120 + 3 * 32 * WALL + 32 * (WALL - 0.125)
    assert zone_area(round_a_block()) == pytest.approx(whole)


def test_rooms_that_only_a_strip_lies_between_make_no_floor() -> None:
    a = Passage(room="Den", ring=opening(DEN, wall=1, offset=38, width=32).ring(2), cased=True)
    hall = room("Hall", HALL, 132 + WALL, -38.0)
    b = Passage(
        room="Hall", ring=opening(hall.ring, wall=3, offset=52, width=32).ring(2.5), cased=True
    )
    with pytest.raises(ZoningError, match="The strip between Den and Hall parts them"):
        join([room("Den", DEN), hall], [a, b], unit="in")
