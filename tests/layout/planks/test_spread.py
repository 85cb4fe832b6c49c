"""Variants over planks: few touching parts alike within the supply, and a floor for how few."""

from __future__ import annotations

from collections import Counter
from itertools import product
from random import Random

import pytest

from layout.planks.spread import Pair, Puzzle, Spread, least_alike, spread


def puzzle(pairs: list[Pair], planks: int, **supply: int) -> Puzzle:
    touching = dict.fromkeys(pairs, 1)
    parts = tuple((i,) for i in range(planks))
    held: dict[str | None, int] = {}
    held.update(supply)
    return Puzzle(touching=touching, planks=parts, supplies=(held,))


CHAIN = [(i, i + 1) for i in range(19)]
TRIANGLE = [(0, 1), (1, 2), (0, 2)]
FOUR = [*TRIANGLE, (0, 3), (1, 3), (2, 3)]


def alike(of: Puzzle, variants: tuple[str | None, ...]) -> int:
    """Count the touching pairs of parts whose planks have one variant."""
    home = {part: plank for plank, parts in enumerate(of.planks) for part in parts}
    return sum(n for (a, b), n in of.touching.items() if variants[home[a]] == variants[home[b]])


def fewest(of: Puzzle) -> int:
    """The fewest pairs alike over every choice of variants within the supply."""
    return min(
        alike(of, chosen)
        for chosen in product(of.supplies[0], repeat=len(of.planks))
        if all(chosen.count(name) <= held for name, held in of.supplies[0].items())
    )


@pytest.mark.parametrize("supply", [{"A": 10, "B": 10}, {"A": 7, "B": 7, "C": 7}])
def test_a_row_of_planks_needs_only_two_variants(supply: dict[str, int]) -> None:
    assert spread(puzzle(CHAIN, 20, **supply)).alike == 0


def test_a_triangle_of_two_variants_has_one_pair_alike() -> None:
    assert spread(puzzle(TRIANGLE, 3, A=2, B=2)).alike == 1


def test_a_contact_within_a_plank_is_alike_whatever_it_takes() -> None:
    folded = Puzzle(touching={(0, 1): 1}, planks=((0, 1),), supplies=({"A": 1, "B": 1},))
    assert spread(folded).alike == least_alike(folded) == 1


@pytest.mark.parametrize("seed", range(12))
def test_small_floors_are_spread_as_well_as_can_be(seed: int) -> None:
    rng = Random(seed)
    pairs = [(i, j) for i in range(7) for j in range(i + 1, 7) if rng.random() < 0.6]
    floor = puzzle(pairs, 7, A=3, B=3, C=2)
    best = spread(floor)
    assert best.alike == fewest(floor)
    assert alike(floor, tuple(v or "" for v in best.variants)) == best.alike


@pytest.mark.parametrize("seed", range(12))
def test_no_choice_of_variants_goes_below_the_floor(seed: int) -> None:
    rng = Random(seed)
    pairs = [(i, j) for i in range(7) for j in range(i + 1, 7) if rng.random() < 0.7]
    for supply in ({"A": 4, "B": 4}, {"A": 3, "B": 3, "C": 2}, {"A": 3, "B": 2, "C": 1, "D": 1}):
        floor = puzzle(pairs, 7, **supply)
        assert least_alike(floor) <= fewest(floor)


def test_four_planks_that_all_touch_prove_two_pairs_alike_of_two_variants() -> None:
    assert least_alike(puzzle(FOUR, 4, A=2, B=2)) == fewest(puzzle(FOUR, 4, A=2, B=2)) == 2


def test_the_supply_is_kept() -> None:
    pairs = [(i, j) for i in range(12) for j in range(i + 1, 12, 3)]
    used = Counter(spread(puzzle(pairs, 12, A=9, B=2, C=1)).variants)
    assert used["A"] <= 9
    assert used["B"] <= 2
    assert used["C"] <= 1


def test_a_plank_whose_variant_is_known_keeps_it_and_takes_nothing_of_the_supply() -> None:
    begun = Puzzle(
        touching={(0, 1): 1, (1, 2): 1},
        planks=((0,), (1,), (2,)),
        supplies=({"A": 1, "B": 1},),
        known={0: "A"},
    )
    assert spread(begun) == Spread(variants=("A", "B", "A"), planks=begun.planks, alike=0)


def test_a_plank_of_no_known_variant_is_like_no_other() -> None:
    odd = Puzzle(touching={(0, 1): 1}, planks=((0,), (1,)), supplies=({"A": 1},), known={0: None})
    assert spread(odd).alike == 0


def test_second_parts_are_traded_where_that_keeps_more_apart() -> None:
    """Both planks cut in two touch like: 0 and 3 meet A, 1 and 2 meet B; traded, all are apart."""
    floor = Puzzle(
        touching={(0, 4): 1, (1, 5): 1, (2, 5): 1, (3, 4): 1},
        planks=((0, 1), (2, 3), (4,), (5,)),
        supplies=({"A": 1, "B": 1},),
        known={2: "A", 3: "B"},
    )
    best = spread(floor, fits=lambda first, second: True)
    assert (spread(floor).alike, best.alike) == (2, 0)
    assert set(best.planks[:2]) == {(0, 3), (2, 1)}


def test_second_parts_that_do_not_fit_stay() -> None:
    floor = Puzzle(
        touching={(0, 4): 1, (1, 5): 1, (2, 5): 1, (3, 4): 1},
        planks=((0, 1), (2, 3), (4,), (5,)),
        supplies=({"A": 1, "B": 1},),
        known={2: "A", 3: "B"},
    )
    assert spread(floor, fits=lambda first, second: False).planks == floor.planks


def test_the_same_floor_gets_the_same_spread() -> None:
    pairs = [(i, j) for i in range(12) for j in range(i + 1, 12, 3)]
    floor = puzzle(pairs, 12, A=6, B=6)
    assert spread(floor) == spread(floor)


def sized(*supplies: dict[str | None, int], planks: int = 6) -> Puzzle:
    """Return a row of planks, every other one of another size."""
    return Puzzle(
        touching={(i, i + 1): 1 for i in range(planks - 1)},
        planks=tuple((i,) for i in range(planks)),
        supplies=supplies,
        sizes=tuple(i % 2 for i in range(planks)),
    )


def test_every_size_takes_of_its_supply_alone() -> None:
    variants = spread(sized({"A": 1, "B": 2}, {"B": 1, "C": 2})).variants
    assert Counter(variants[::2]) == {"A": 1, "B": 2}
    assert Counter(variants[1::2]) == {"B": 1, "C": 2}


def test_like_planks_of_two_sizes_count_where_they_touch() -> None:
    assert spread(sized({"A": 3}, {"A": 3})).alike == 5
    assert spread(sized({"A": 3}, {"A": 1, "B": 2})).alike == 1


def test_planks_beyond_the_supply_of_known_variants_are_like_no_other() -> None:
    best = spread(sized({"A": 1, None: 2}, {"A": 3}))
    assert Counter(best.variants) == {"A": 4, None: 2}
    assert best.alike == 1
