"""The list of edits is in order: each can be made, once, and has tests that are there.

Whether they are caught takes minutes and is no test: `python -m tests.mutants` tells.
"""

from __future__ import annotations

import re
from collections import Counter

import pytest

from tests.conftest import ROOT
from tests.mutants.edits import Edit, edits, place_of

EDITS = edits()


def test_there_are_sixty_and_more_and_no_two_of_one_name() -> None:
    assert len({edit.name for edit in EDITS}) == len(EDITS) >= 60


def test_no_function_is_spoiled_twice_in_the_same_way() -> None:
    twice = Counter((place_of(edit), edit.kind) for edit in EDITS)
    assert [each for each, count in twice.items() if count > 1] == []


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit.name)
def test_what_an_edit_changes_stands_there_once(edit: Edit) -> None:
    text = (ROOT / edit.file).read_text()
    assert text.count(edit.old) == 1
    compile(edit.wrong(text), edit.file, "exec")


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit.name)
def test_the_tests_of_an_edit_are_there(edit: Edit) -> None:
    for named in edit.tests:
        path, _, test = named.partition("::")
        assert (ROOT / path).exists()
        assert not test or re.search(rf"^def {test}\b", (ROOT / path).read_text(), re.MULTILINE)
