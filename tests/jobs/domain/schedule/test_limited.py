"""The least time with few people: a published instance, on the function that the page uses."""

from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.days.critical_path import critical_path
from jobs.domain.schedule.limited import Lasting, limited

# Job: duration (R1, R2, R3, R4) -> successors, as published.
J301_1 = """
1:0()->2,3,4        2:8(4,0,0,0)->6,11,15   3:4(10,0,0,0)->7,8,13  4:6(0,0,0,3)->5,9,10
5:3(3,0,0,0)->20    6:8(0,0,0,8)->30        7:5(4,0,0,0)->27       8:9(0,1,0,0)->12,19,27
9:2(6,0,0,0)->14    10:7(0,0,0,1)->16,25    11:9(0,5,0,0)->20,26   12:2(0,7,0,0)->14
13:6(4,0,0,0)->17,18 14:3(0,8,0,0)->17      15:9(3,0,0,0)->25      16:10(0,0,0,5)->21,22
17:6(0,0,0,8)->22   18:5(0,0,0,7)->20,22    19:3(0,1,0,0)->24,29   20:7(0,10,0,0)->23,25
21:2(0,0,0,6)->28   22:7(2,0,0,0)->23       23:2(3,0,0,0)->24      24:3(0,9,0,0)->30
25:3(4,0,0,0)->30   26:7(0,0,4,0)->31       27:8(0,0,0,7)->28      28:3(0,8,0,0)->31
29:7(0,7,0,0)->32   30:2(0,7,0,0)->32       31:2(0,0,2,0)->32      32:0()->
"""
CAPACITIES = (12, 13, 4, 12)


def j301_1() -> list[Lasting]:
    jobs: dict[str, tuple[int, tuple[int, ...], list[str]]] = {}
    for text in J301_1.split():
        name, rest = text.split(":")
        lasts, rest = rest.split("(")
        takes, following = rest.split(")->")
        demands = tuple(int(each) for each in takes.split(",")) if takes else (0, 0, 0, 0)
        jobs[name] = (int(lasts), demands, [each for each in following.split(",") if each])
    return [
        Lasting(
            name=name,
            lasts=lasts,
            takes=takes,
            after=tuple(other for other in jobs if name in jobs[other][2]),
        )
        for name, (lasts, takes, _) in jobs.items()
    ]


def test_j301_1_takes_38_by_its_order_alone() -> None:
    """PSPLIB, Kolisch and Sprecher, European Journal of Operational Research 96 (1997) 205-216."""
    alone = {d.name: (Decimal(d.lasts), d.after) for d in j301_1()}
    assert critical_path(alone).length == 38
    assert limited(j301_1(), (10**6,) * 4).length == 38


def test_j301_1_takes_43_with_what_there_is() -> None:
    """PSPLIB, as above: 43 is the proved optimum."""
    demands = j301_1()
    table = limited(demands, CAPACITIES)

    assert table.length == 43
    for moment in range(table.length):
        running = [
            d for d in demands if table.begins[d.name] <= moment < table.begins[d.name] + d.lasts
        ]
        for kind, most in enumerate(CAPACITIES):
            assert sum(d.takes[kind] for d in running) <= most
    ends = {d.name: table.begins[d.name] + d.lasts for d in demands}
    assert all(table.begins[d.name] >= ends[other] for d in demands for other in d.after)


def test_one_person_does_one_thing_after_another() -> None:
    demands = [Lasting(name=name, lasts=2, takes=(1,)) for name in "abc"]
    assert limited(demands, (1,)).length == 6
    assert limited(demands, (3,)).length == 2


def test_a_lag_passes_before_what_follows() -> None:
    level = Lasting(name="level", lasts=2, takes=(1,), lag=48)
    lay = Lasting(name="lay", lasts=10, takes=(1,), after=("level",))
    assert limited([level, lay], (1,)).begins["lay"] == 50


def test_what_takes_more_than_there_is_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"a.takes 1 is 2; accepted: at most 1"):
        limited([Lasting(name="a", lasts=1, takes=(2,))], (1,))


def test_a_ring_of_waiting_is_named() -> None:
    ring = [Lasting(name="a", lasts=1, after=("b",)), Lasting(name="b", lasts=1, after=("a",))]
    with pytest.raises(BadValueError, match=r"order is '.*a.*b.*'; accepted: no ring"):
        limited(ring, ())
