"""Bounds for rows of several widths: never above what any order of rows takes, and rechecked."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import product
from math import ceil
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout.bounds.find import Bound, lower_bound
from layout.proof.certificate import CertificateError, check
from layout.proof.floor import area_bound
from layout.values.leftovers import OnHand, Pile
from layout.values.request import PlanRequest, read_request
from tests import rooms

LENGTH = 12.0
Cut = tuple[float, float, int]  # first piece, last piece, whole boards between


def request_of(
    outline: list[list[float]], boards: list[tuple[float, int]], **rules: Any
) -> PlanRequest:
    sizes = [{"length": LENGTH, "width": w, "per_carton": n} for w, n in boards]
    plain = {"expansion_gap": 0, "min_end_piece": 2, "min_joint_offset": 0, "min_row_width": 1}
    rules = {**plain, **rules}
    return read_request(rooms.request(outline, product={"boards": sizes}, rules=rules))


def rectangle(across: float, length: float) -> list[list[float]]:
    return [[0, 0], [length, 0], [length, across], [0, across]]


def of(request: PlanRequest, cartons: int) -> Bound:
    return lower_bound(request, 0.0, cartons=cartons)


def cuts(length: float, least: float) -> list[Cut]:
    """Every way to cut a row in whole inches from the left."""
    firsts = [float(i) for i in range(1, int(LENGTH) + 1)]
    ways = []
    for boards in range(int(length // LENGTH) + 1):
        ends = length - boards * LENGTH
        ways += [
            (s, ends - s, boards) for s in firsts if s >= least and least <= ends - s <= LENGTH
        ]
    return ways


def taken(rows: tuple[Cut, ...], kerf: float) -> int:
    """The planks of rows cut so, every leftover used as well as can be."""
    rooms_left = sorted(LENGTH - kerf - last for _, last, _ in rows)
    saved = 0
    for first, _, _ in sorted(rows, reverse=True):
        room = next((r for r in rooms_left if r >= first - 1e-9), None)
        if room is not None:
            rooms_left.remove(room)
            saved += 1
    return sum(boards + 2 for _, _, boards in rows) - saved


@cache
def fewest_of(length: float, rows: int, kerf: float) -> int:
    """The fewest planks of some rows of one width, over every way to cut each."""
    return min(taken(chosen, kerf) for chosen in product(cuts(length, 2), repeat=rows))


def fewest(
    across: float,
    length: float,
    boards: list[tuple[float, int]],
    cartons: int,
    there: tuple[int, int] = (0, 0),
) -> int:
    """The fewest planks over every number of rows of every width that fills the floor."""
    best = 10**6
    for counts in product(range(4), repeat=2):
        if sum(n * w for n, (w, _) in zip(counts, boards, strict=True)) < across - 1e-9:
            continue
        planks = [fewest_of(length, n, 0.5) for n in counts]
        held = [n + cartons * carton for n, (_, carton) in zip(there, boards, strict=True)]
        if all(p <= most for p, most in zip(planks, held, strict=True)):
            best = min(best, sum(planks))
    return best


@settings(deadline=None, max_examples=20)
@given(st.integers(26, 40), st.integers(4, 12), st.sampled_from([(2, 3), (1, 3), (2, 2)]))
def test_no_order_of_two_widths_beats_the_bound(
    halves: int, across: int, held: tuple[int, int]
) -> None:
    length, boards = halves / 2, [(3.0, held[0]), (2.0, held[1])]
    request = request_of(rectangle(across, length), boards, saw_kerf=0.5)
    for cartons in (2, 4, 8):
        least = fewest(across, length, boards, cartons)
        assert least == 10**6 or of(request, cartons).value <= least


def test_the_bound_is_met_where_rows_are_whole_boards() -> None:
    request = request_of(rectangle(10, 24), [(3, 2), (2, 2)], saw_kerf=0)
    assert of(request, 2).value == fewest(10, 24, [(3, 2), (2, 2)], 2) == 8


def test_fewer_cartons_ask_for_more_planks() -> None:
    request = request_of(rectangle(12, 24), [(3, 2), (2, 2)], saw_kerf=0)
    assert (of(request, 3).value, of(request, 9).value) == (9 + 1, 8)


def test_the_fewest_cartons_are_proven_too() -> None:
    """Rows of 24 take two planks of 12; two cartons hold two rows of 3 and two of 2, 10 in all."""
    request = request_of(rectangle(12, 24), [(3, 2), (2, 2)], saw_kerf=0)
    assert of(request, 9).proof["fewest_cartons"] == 3


def with_piles(request: PlanRequest, *there: int) -> PlanRequest:
    """Return a request with so many planks of every width counted."""
    boards = zip(request.product.boards, there, strict=True)
    piles = (Pile(length=LENGTH, width=b.width, variant=None, planks=n) for b, n in boards)
    return replace(request, on_hand=OnHand(piles=tuple(piles)))


@settings(deadline=None, max_examples=20)
@given(
    st.integers(26, 40),
    st.integers(4, 12),
    st.tuples(st.integers(0, 9), st.integers(1, 9)),
    st.integers(0, 3),
)
def test_no_order_of_rows_from_piles_beats_the_bound(
    halves: int, across: int, there: tuple[int, int], cartons: int
) -> None:
    length, boards = halves / 2, [(3.0, 2), (2.0, 3)]
    request = with_piles(request_of(rectangle(across, length), boards, saw_kerf=0.5), *there)
    least = fewest(across, length, boards, cartons, there)
    assert least == 10**6 or of(request, cartons).value <= least


def test_piles_that_do_need_no_carton() -> None:
    """Two rows of 3 and three of 2 come to 12: ten planks, and no carton beside them."""
    request = request_of(rectangle(12, 24), [(3, 2), (2, 2)], saw_kerf=0)
    bound = of(with_piles(request, 4, 6), 0)
    assert (bound.value, bound.proof["fewest_cartons"]) == (10, 0)


def test_the_fewest_cartons_beside_piles_are_proven() -> None:
    """A row of each comes to 5 of 12; a carton brings another of each."""
    request = with_piles(request_of(rectangle(12, 24), [(3, 2), (2, 2)], saw_kerf=0), 2, 2)
    bound = of(request, 5)
    assert bound.proof["fewest_cartons"] == 2
    assert check(request, 0.0, bound.proof) == bound.value


@pytest.mark.parametrize("across", [7, 12.5, 30])
def test_the_bound_is_never_below_the_area(across: float) -> None:
    request = request_of(rectangle(across, 31), [(3, 2), (2, 2)])
    assert of(request, 60).value >= area_bound(request)


def test_a_narrow_corner_counts_by_its_lines() -> None:
    whole = request_of([[0, 0], [36, 0], [36, 24], [0, 24]], [(3, 2), (2, 2)])
    corner = request_of([[0, 0], [36, 0], [36, 12], [12, 12], [12, 24], [0, 24]], [(3, 2), (2, 2)])
    # 36 x 12 and 12 x 12 are four boards' length over 12: at widths 3 and 2 half and half.
    assert ceil(12 * 4 / 3) <= of(corner, 20).value < of(whole, 20).value


def test_a_slanted_wall_counts_no_more_than_it_leaves() -> None:
    request = request_of([[0, 0], [60, 0], [36, 24], [0, 24]], [(3, 2), (2, 2)], min_end_piece=0)
    less, more = (
        of(request_of(rectangle(24, across), [(3, 2), (2, 2)], min_end_piece=0), 20).value
        for across in (36, 60)
    )
    assert less < of(request, 20).value < more


PROOF: dict[str, Any] = of(request_of(rectangle(12, 31), [(3, 2), (2, 2)]), 6).proof


def checked(**changes: Any) -> int:
    request = request_of(rectangle(12, 31), [(3, 2), (2, 2)])
    return check(request, 0.0, {**PROOF, **changes})


def test_the_check_finds_the_same_number() -> None:
    assert checked() == PROOF["value"]


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("value", PROOF["value"] + 1),
        ("value", PROOF["value"] - 1),
        ("cartons", 0),
        ("cartons", PROOF["fewest_cartons"] - 1),
        ("cartons", 1.5),
        ("fewest_cartons", PROOF["fewest_cartons"] + 1),
        ("end_pieces", "yes"),
        ("marks", []),
        ("marks", [[13, 1]]),
        ("marks", [[3, 0]]),
    ],
)
def test_a_changed_proof_is_refused(field: str, value: object) -> None:
    with pytest.raises(CertificateError, match=f"proof.{field}"):
        checked(**{field: value})


def test_a_proof_for_widths_says_nothing_of_one_width() -> None:
    request = read_request(rooms.request(rectangle(12, 31)))
    with pytest.raises(CertificateError, match=r"proof\.kind"):
        check(request, 0.0, PROOF)
