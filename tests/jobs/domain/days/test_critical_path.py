"""Critical paths of published networks."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import bellman_ford

from jobs.domain.checks import BadValueError
from jobs.domain.days.critical_path import Network, critical_path, in_working_order


def network(text: str) -> Network:
    """Read activities told as name, duration and what comes before: A4 B3 C8:A E9:B,C."""
    activities: dict[str, tuple[Decimal, list[str]]] = {}
    for word in text.split():
        head, _, before = word.partition(":")
        activities[head[0]] = (Decimal(head[1:]), before.split(",") if before else [])
    return critical_path(activities)


def nine_activities() -> Network:
    """Hendrickson and Au, Project Management for Construction, ch. 10, table 10-2."""
    return network("A4 B3 C8:A D7:A E9:B,C F12:B,C G2:D,E H5:D,E I6:F,G")


def fourteen_activities() -> Network:
    """Hillier and Lieberman, Introduction to Operations Research, PERT/CPM: from memory."""
    return network("A2 B4:A C10:B D6:C E4:C F5:E G7:D H9:E,G I7:C J8:F,I K4:J L5:J M2:H N6:K,L")


def test_the_nine_activities_take_thirty_days() -> None:
    assert nine_activities().length == 30
    assert nine_activities().critical == ("A", "C", "F", "I")


def test_the_nine_activities_have_the_computed_slack() -> None:
    slack = {entry.name: int(entry.slack) for entry in nine_activities().activities}

    assert slack == {"A": 0, "B": 9, "C": 0, "D": 11, "E": 1, "F": 0, "G": 1, "H": 4, "I": 0}


def test_the_printed_event_times_are_the_earliest_starts() -> None:
    path = nine_activities()

    assert [int(path.activity(name).earliest_start) for name in "ACFI"] == [0, 4, 12, 24]
    assert path.activity("E").earliest_finish == 21


def test_the_fourteen_activities_take_44_weeks() -> None:
    path = fourteen_activities()

    assert path.length == 44
    assert path.critical == tuple("ABCEFJLN")


def test_the_fourteen_activities_have_slack_where_they_should() -> None:
    path = {entry.name: int(entry.slack) for entry in fourteen_activities().activities}

    loose = {name: slack for name, slack in path.items() if slack}
    assert loose == {"D": 4, "G": 4, "H": 4, "I": 2, "K": 1, "M": 4}


def test_thirty_jobs_without_resources_take_38() -> None:
    # PSPLIB, instance j301_1 (Kolisch and Sprecher, European Journal of Operational Research 96,
    # 1997): durations and successors of its 30 jobs; the length without resources is given as 38.
    text = (
        "2:8>6,11,15 3:4>7,8,13 4:6>5,9,10 5:3>20 6:8>30 7:5>27 8:9>12,19,27 9:2>14 10:7>16,25 "
        "11:9>20,26 12:2>14 13:6>17,18 14:3>17 15:9>25 16:10>21,22 17:6>22 18:5>20,22 19:3>24,29 "
        "20:7>23,25 21:2>28 22:7>23 23:2>24 24:3>30 25:3>30 26:7>31 27:8>28 28:3>31 29:7> 30:2> "
        "31:2>"
    )
    before: dict[str, list[str]] = {}
    durations: dict[str, Decimal] = {}
    for word in text.split():
        name, rest = word.split(":")
        duration, _, after = rest.partition(">")
        durations[name] = Decimal(duration)
        for other in filter(None, after.split(",")):
            before.setdefault(other, []).append(name)

    path = critical_path({name: (durations[name], before.get(name, [])) for name in durations})
    assert path.length == 38


def test_work_is_ordered_by_what_it_waits_for_and_else_as_given() -> None:
    assert in_working_order({"b": ["c"], "a": [], "c": []}) == ("a", "c", "b")


def test_a_ring_of_waiting_is_refused_by_its_names() -> None:
    with pytest.raises(BadValueError, match=r"order is 'a, b, a'|order is 'b, a, b'"):
        in_working_order({"a": ["b"], "b": ["a"]})


def test_waiting_for_the_unknown_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"before a is 'z'; accepted: one of a"):
        in_working_order({"a": ["z"]})


def test_nothing_to_do_takes_no_time() -> None:
    assert critical_path({}).length == 0


@st.composite
def works(draw: st.DrawFn) -> dict[str, tuple[Decimal, list[str]]]:
    """Some activities, each of which waits for any of those before it."""
    hours = draw(st.lists(st.integers(1, 20), min_size=1, max_size=8))
    waits = [
        draw(st.lists(st.integers(0, n - 1), unique=True)) if n else [] for n in range(len(hours))
    ]
    return {
        str(n): (Decimal(hour), [str(other) for other in waits[n]]) for n, hour in enumerate(hours)
    }


@given(works())
def test_length_and_slack_are_those_of_longest_paths_by_scipy(
    activities: dict[str, tuple[Decimal, list[str]]],
) -> None:
    # The witness: shortest paths of the negative hours (Bellman and Ford) from a start to an end.
    # The first step is an hour more, which is taken off again: no edge may weigh nothing.
    count = len(activities)
    start, end = count, count + 1
    edges = {(start, end): -1}
    for n, (hours, before) in enumerate(activities.values()):
        edges |= {(int(other), n): -int(activities[other][0]) for other in before}
        edges |= {} if before else {(start, n): -1}
        edges[n, end] = -int(hours)
    places = np.array(list(edges)).T
    graph = csr_array((list(edges.values()), (places[0], places[1])), shape=(end + 1, end + 1))
    longest = -bellman_ford(graph, directed=True)
    path = critical_path(activities)
    assert longest[start, end] - 1 == path.length
    for n in range(count):
        through = longest[start, n] + longest[n, end] - 1
        assert path.activity(str(n)).slack == path.length - round(float(through))
