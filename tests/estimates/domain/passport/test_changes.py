"""What a passport tells otherwise, in words, each worked out by hand."""

from __future__ import annotations

from dataclasses import replace

from estimates.domain.passport.changes import changes_since
from estimates.domain.passport.content import PASSPORT, LeftPlanks, passport_document, passport_from
from jobs.domain.documents import canonical_json, digest
from tests.estimates.a_frozen_passport import a_frozen_floor, a_frozen_passport
from tests.estimates.kept import FOLDER
from tests.jobs.kept import kept

BEFORE = a_frozen_passport()


def test_a_passport_is_written_as_it_always_was() -> None:
    assert canonical_json(passport_document(a_frozen_passport())) == kept("passport-1", FOLDER)


def test_a_passport_of_format_1_is_read() -> None:
    assert passport_from(PASSPORT.read(kept("passport-1", FOLDER))) == a_frozen_passport()


def test_told_again_on_another_day_nothing_differs() -> None:
    assert changes_since(BEFORE, replace(BEFORE, frozen_on="2027-06-01")) == ()


def test_what_is_left_lots_and_plan_are_told_by_floor() -> None:
    floor = replace(
        a_frozen_floor(),
        lots=("A12",),
        attic=(LeftPlanks(planks=1, lot="A12"),),
        plan=digest("new"),
    )
    assert changes_since(BEFORE, replace(BEFORE, floors=(floor,))) == (
        "Den: laid otherwise, as its map of that day shows.",
        "Den: lot A12.",
        "Den: in the attic 1 plank of lot A12, before 10 planks of lot A12 and 3 planks of lot B7.",
    )


def test_product_and_care_are_told() -> None:
    floor = replace(a_frozen_floor(), product="Gray Oak", care=())
    assert changes_since(BEFORE, replace(BEFORE, floors=(floor,))) == (
        "Den: product Gray Oak, 7 in by 48 in, rigid core.",
        "Den: the words on care are others.",
    )


def test_floors_that_come_and_go_are_named() -> None:
    hall = replace(a_frozen_floor(), name="Hall")
    assert changes_since(BEFORE, replace(BEFORE, floors=(hall,))) == (
        "Hall: told of for the first time.",
        "Den: told of no more.",
    )


def test_readings_added_and_taken_back_warranty_and_signing_off() -> None:
    (reading,) = BEFORE.readings
    other = replace(reading, value="70%", where="")
    now = replace(BEFORE, readings=(other,), warranty="", done_on="")
    assert changes_since(BEFORE, now) == (
        "Reading added: Relative humidity in the slab, ASTM F2170 70%.",
        "Reading taken back: Relative humidity in the slab, ASTM F2170 78%, By the door.",
        "Warranty: none of its own",
        "Not signed off any more.",
    )
