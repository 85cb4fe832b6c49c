"""Eight right plans, each spoiled in every way that fits it: the judge refuses all, by name."""

from __future__ import annotations

from collections import Counter

import pytest

from layout.judge.check import check_plan
from tests.layout.judge.eight_plans import EIGHT, eight_plan
from tests.layout.judge.spoiling import Spoiling
from tests.layout.judge.spoilings import SPOILINGS, verdicts

AT_LEAST = 50  # ways


@pytest.mark.parametrize("name", EIGHT)
def test_an_unspoiled_plan_stands(name: str) -> None:
    assert check_plan(*eight_plan(name)) == ()


@pytest.mark.parametrize("spoiling", SPOILINGS, ids=lambda spoiling: spoiling.name)
def test_a_spoiled_plan_is_refused_by_its_rule(spoiling: Spoiling) -> None:
    refused = dict(verdicts(spoiling))
    assert refused, "no plan can be spoiled so"
    assert {name: rules for name, rules in refused.items() if not rules & spoiling.rules} == {}


def test_every_way_has_a_name_of_its_own() -> None:
    names = Counter(spoiling.name for spoiling in SPOILINGS)
    assert len(names) == len(SPOILINGS) >= AT_LEAST
