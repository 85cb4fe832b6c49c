"""The pictures of the help are the app's own drawings, and their figures are those drawn of."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from estimates.readers.guide.house import PER_CARTON, planned
from estimates.readers.guide.pictures import STEPS, pictures_of
from jobs.readers.path import NAMES


def test_every_step_of_the_path_has_a_page() -> None:
    assert [name.lower() for name in NAMES] == list(STEPS)


@pytest.mark.parametrize("step", STEPS)
def test_each_page_is_made_of_pictures_with_a_sentence_each(step: str) -> None:
    pictures = pictures_of(step)
    assert pictures
    for picture in pictures:
        assert (
            ElementTree.fromstring(picture.svg).find("{http://www.w3.org/2000/svg}title")
            is not None
        )
        assert picture.words.endswith(".")


def test_the_cartons_shown_are_those_of_the_plan_shown() -> None:
    _, plan = planned()
    cartons, planks = plan.totals.cartons, plan.totals.planks
    stack = pictures_of("floor")[1].svg
    assert f"{cartons} × {PER_CARTON} = {cartons * PER_CARTON} planks: {planks} laid" in stack
    # 168 x 84 and 128 x 36 are 18,720 in2; a plank covers 336: 56 at least.
    assert planks >= 56
