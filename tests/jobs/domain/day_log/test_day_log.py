"""Plain values of a day's log, reckoned by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.day_log.asking import Source, why_questioned
from jobs.domain.day_log.behind import codes_behind, holds_before
from jobs.domain.day_log.rows import RowsOfDay, not_yet, on_no_day
from jobs.domain.day_log.shares import Stint, lane_shares, planned_shares
from jobs.domain.site.facts import Caution

H = Decimal


@pytest.mark.parametrize(
    ("last", "logged", "runs"),
    [
        (15, [], ((1, 15),)),
        (15, [(1, 7)], ((8, 15),)),
        (15, [(1, 7), (10, 11)], ((8, 9), (12, 15))),
        (7, [(1, 7)], ()),
        (3, [(1, 7)], ()),
    ],
)
def test_through_a_row_is_all_up_to_it_that_no_log_has(
    last: int, logged: list[tuple[int, int]], runs: tuple[tuple[int, int], ...]
) -> None:
    assert not_yet((1, last), logged) == runs


def test_a_row_counts_once() -> None:
    assert not_yet((3, 9), [(1, 4), (6, 6)]) == ((5, 5), (7, 9))


def day_of(first: int, last: int, *, logged: bool) -> RowsOfDay:
    return RowsOfDay(rows=(first, last), logged=logged)


def test_rows_that_a_logged_day_left_are_on_no_day_until_another_has_them() -> None:
    short = [day_of(1, 9, logged=True), day_of(10, 17, logged=False)]
    assert on_no_day(short, [(1, 6)]) == ((7, 9),)
    assert on_no_day([*short, day_of(7, 9, logged=False)], [(1, 6)]) == ()


def test_nothing_is_left_of_a_day_laid_whole_or_not_logged_yet() -> None:
    days = [day_of(1, 9, logged=True), day_of(10, 17, logged=False)]
    assert on_no_day(days, [(1, 9)]) == ()
    assert on_no_day(days, [(1, 11)]) == ()
    assert on_no_day([day_of(1, 9, logged=False)], []) == ()


def test_two_short_days_leave_their_rows_together() -> None:
    days = [day_of(1, 9, logged=True), day_of(10, 17, logged=True)]
    assert on_no_day(days, [(1, 6), (12, 12)]) == ((7, 11), (13, 17))


def test_lanes_say_who_is_at_what() -> None:
    stints = [
        Stint(person="lead", task="lay:Den", hours=H(3)),
        Stint(person="helper", task="lay:Den", hours=H(2)),
        Stint(person="lead", task="lay:Den", hours=H("1.5")),
    ]
    assert lane_shares(stints, 2) == {("lay:Den", 0): H("4.5"), ("lay:Den", 1): H(2)}
    assert lane_shares(stints, 1) == {("lay:Den", 0): H("6.5")}


def test_without_lanes_hours_are_shared_alike_and_the_odd_quarter_goes_to_who_has_least() -> None:
    """1.25 h are 5 quarters: 3 and 2; of the next 0.75 h the second gets 2, so both end at 1 h."""
    assert planned_shares({"a": H("1.25"), "b": H("0.75")}, {}, 2) == {
        ("a", 0): H("0.75"),
        ("a", 1): H("0.5"),
        ("b", 0): H("0.25"),
        ("b", 1): H("0.5"),
    }


def test_lanes_say_how_exact_hours_are_shared() -> None:
    """4 h exact were laid onto 4.5 h: 3 of the lead, 1.5 of the helper. 16 quarters go 2 to 1."""
    lanes = {("lay", 0): H(3), ("lay", 1): H("1.5")}
    assert planned_shares({"lay": H(4)}, lanes, 2) == {
        ("lay", 0): H("2.75"),
        ("lay", 1): H("1.25"),
    }


@pytest.mark.parametrize("people", [1, 2, 3])
def test_what_rounding_keeps_back_goes_to_the_next_task(people: int) -> None:
    """Ten tasks of 0.28 h are 2.8 h: 11 quarters, not ten of a quarter or of half an hour."""
    tasks = {f"t{number}": H("0.28") for number in range(10)}
    assert sum(planned_shares(tasks, {}, people).values()) == H("2.75")


ASBESTOS = Caution(
    code="asbestos",
    title="Asbestos",
    text="Text",
    source="29 CFR 1926.1101(k)",
    severity="hold",
    blocks=("tear_out", "dispose", "prep"),
)


@pytest.mark.parametrize("code", ["tear_out", "prep", "level", "underlay", "lay", "base", "clean"])
def test_what_comes_after_a_blocked_task_stands_behind_its_hold(code: str) -> None:
    assert holds_before(code, f"{code}:Den", [ASBESTOS]) == (ASBESTOS,)


@pytest.mark.parametrize("code", ["setup", "carry", "furniture", "base_off", "travel"])
def test_what_comes_before_it_does_not(code: str) -> None:
    assert holds_before(code, f"{code}:Den", [ASBESTOS]) == ()


def test_the_owners_word_lets_that_task_alone_go_on() -> None:
    let = {("asbestos", "level:Den")}
    assert holds_before("level", "level:Den", [ASBESTOS], let) == ()
    assert holds_before("level", "level:Hall", [ASBESTOS], let) == (ASBESTOS,)


def test_laying_stops_laying_and_what_follows_but_not_leveling() -> None:
    behind = codes_behind(["lay"])
    assert {"lay", "stairs", "base", "clean"} <= behind
    assert not {"level", "prep", "carry"} & behind


LEAD, HELPER = Source(person=1, phone="a"), Source(person=2, phone="b")


@pytest.mark.parametrize(
    ("now", "before", "sources", "why"),
    [
        ("8", "0", [], ""),
        ("12", "0", [], ""),
        ("12.25", "0", [], "over"),
        ("4", "8.25", [LEAD], "over"),
        ("4", "4", [LEAD], ""),
        ("4", "4", [HELPER], "phones"),
        ("4", "4", [Source(person=1, phone="c")], "phones"),
        ("4", "4", [Source(person=1)], ""),
        ("0", "13", [HELPER], ""),
    ],
)
def test_a_long_day_and_one_told_by_two_phones_are_asked_about(
    now: str, before: str, sources: list[Source], why: str
) -> None:
    assert why_questioned(H(now), H(before), LEAD, sources) == why
