"""A scope that counted by floor and one that counts by the job: what differs, and what doesn't."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.changed.by_job import comparable, summed_by_job


def by_floor() -> list[Quantity]:
    """Two floors of oak, padded, as a scope counted them before 0.4.0: 11 and 7 cartons."""
    entries = []
    for floor, planks, cartons in (("up", 101, 11), ("hall", 60, 7)):
        entries += [
            quantity("planks", planks, "counted", zone=floor, item="oak"),
            quantity("cartons", cartons, "counted", zone=floor, item="oak"),
            quantity("pad", 2, "counted", zone=floor, item="Pad"),
            quantity("pad_area", 120, "counted", zone=floor),
        ]
    return [*entries, quantity("carry", 648, "counted"), quantity("caulk", 3, "counted")]


def by_job(
    cartons: int = 17, planks: int = 161, pad: int = 3, area: int = 120, caulk: int = 3
) -> list[Quantity]:
    """The same two floors as they are counted now."""
    return [
        quantity("planks", planks, "counted", item="oak"),
        quantity("cartons", cartons, "counted", item="oak"),
        quantity("pad", pad, "counted", item="Pad"),
        quantity("seam_tape", 1, "counted"),
        quantity("pad_area", area, "counted", zone="up"),
        quantity("pad_area", 120, "counted", zone="hall"),
        quantity("carry", 36 * cartons, "counted"),
        quantity("caulk", caulk, "counted"),
    ]


def differing(old: Sequence[Quantity], new: Sequence[Quantity]) -> set[str]:
    """The codes of what is bought or done that differ."""
    were, are = comparable(old, new)
    before = {entry.key: entry.amount for entry in were if entry.kind != "fact"}
    after = {entry.key: entry.amount for entry in are if entry.kind != "fact"}
    return {key[0] for key in {*before, *after} if before.get(key) != after.get(key)}


def test_counting_anew_is_no_change() -> None:
    assert differing(by_floor(), by_job()) == set()


def test_more_planks_are_a_change_of_cartons_and_weight() -> None:
    assert differing(by_floor(), by_job(cartons=19, planks=181)) == {"cartons", "carry"}


def test_more_spares_are_a_change_though_the_plans_are_the_same() -> None:
    assert differing(by_floor(), by_job(cartons=19)) == {"cartons", "carry"}


def test_fewer_cartons_than_rounding_explains_are_a_change() -> None:
    # Two floors: each rounds up once, and each had a carton for the attic.
    assert differing(by_floor(), by_job(cartons=16)) == set()
    assert differing(by_floor(), by_job(cartons=15)) == {"cartons", "carry"}


def test_pad_over_more_floor_is_a_change() -> None:
    assert differing(by_floor(), by_job(pad=5, area=240)) == {"pad", "pad_area", "seam_tape"}


def test_a_barrier_in_place_of_the_pad_is_a_change() -> None:
    new = [
        entry
        if entry.code != "pad"
        else quantity("vapour_barrier", 3, "counted", item="Vapor barrier")
        for entry in by_job()
    ]
    assert differing(by_floor(), new) == {"pad", "vapour_barrier", "seam_tape"}


def test_other_goods_are_compared_as_ever() -> None:
    assert differing(by_floor(), by_job(caulk=4)) == {"caulk"}


def test_scopes_that_both_count_by_the_job_are_left_as_they_are() -> None:
    old, new = by_job(), by_job(cartons=18)

    assert comparable(old, new) == (old, new)
    assert differing(old, new) == {"cartons", "carry"}


def test_goods_of_all_floors_are_told_as_one() -> None:
    cartons = [entry for entry in summed_by_job(by_floor()) if entry.code == "cartons"]

    assert [(entry.amount, entry.zone) for entry in cartons] == [(Decimal(18), "")]
    assert {entry.zone for entry in summed_by_job(by_floor()) if entry.code == "pad_area"} == {
        "up",
        "hall",
    }
