"""Why a floor can't be planned, told to those who lay it."""

from __future__ import annotations

import json
from random import Random

import pytest

from jobs.domain.plans.refused import refusal_words
from layout.values.errors import Described, InputError, LayoutError, NoPlanError
from layout.values.request import read_request
from tests.layout.core_refusals import CORE_WORDS, refusals
from tests.layout.malformed import spoiled

ALL = dict(refusals())


def test_the_core_can_refuse_in_many_places() -> None:
    assert len(ALL) > 90


@pytest.mark.parametrize("place", sorted(ALL))
def test_no_refusal_is_told_in_the_cores_words(place: str) -> None:
    said = refusal_words(ALL[place])
    assert not CORE_WORDS.search(said), said
    assert said[0].isupper()
    assert said.endswith(".")


@pytest.mark.parametrize("seed", range(40))
def test_no_spoiled_request_is_told_in_the_cores_words(seed: int) -> None:
    random = Random(seed)
    sentences = []
    for _ in range(10):
        try:
            read_request(json.loads(spoiled(random)))
        except LayoutError as refused:
            sentences.append(refusal_words(refused))
        except ValueError:
            continue
    assert not [said for said in sentences if CORE_WORDS.search(said)]


def test_an_edge_that_runs_into_itself_is_told_where() -> None:
    met = Described("edges 28 and 30 meet at (122.5, 48)")
    said = refusal_words(InputError("zone.outline", met, "an outline that never meets itself"))
    assert said.startswith(
        "The edge of this floor runs into itself, 10'\u00a02½\" along and 4'\u00a00\" up"
    )


def test_a_rule_is_called_by_its_name_on_the_rules_page() -> None:
    said = refusal_words(InputError("rules.min_end_piece", 60.0, "a number from 0 to 48"))
    assert said.startswith("Minimum end piece: 60 can't be used; accepted: a number from 0 to 48.")


def test_brackets_for_those_who_write_the_form_by_hand_are_left_out() -> None:
    accepted = 'none, or a product whose rows go both ways ("product.backward": true)'
    said = refusal_words(InputError("lay.control_row", 4, accepted))
    assert said.endswith("accepted: none, or a product whose rows go both ways.")


def test_a_gap_that_no_plank_fills_is_told_as_a_length() -> None:
    text = "laid: between pieces of row 7 lie 30.25, which boards of 48 with both ends whole"
    assert "in row 7 lie 2'\u00a06¼\"" in refusal_words(NoPlanError(text))
