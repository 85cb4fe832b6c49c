"""The table of published values: none is missing, each test that it names is there and does so."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import ROOT

VALUES: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "values.toml").read_text())[
    "value"
]
# The groups that were collected, and the numbers in each.
COLLECTED = {
    "A": range(1, 8),
    "B": (1, 2, 3, 4, 5, 7, 8, 9, 10, 11),
    "C": (1, 3, 4, 7, 8, 9, 10),
    "D": (1, 2, 5, 6, 7),
    "E": range(1, 19),
    "F": range(1, 7),
    "G": range(1, 13),
    "H": (*range(1, 7), *range(8, 17)),
    "I": range(1, 9),
    "J": (1, 2, 3, 4, 5, 6, 8),
    "K": range(1, 16),
}
# What a test does that meets a value as users do: an address, a command, a printed paper.
MEETS = {
    "page": re.compile(r"\breverse\(|visitor|\.goto\(|hands\.|live_server|live\("),
    "command": re.compile(r"\bmain\(\[|\bcall_command\("),
    "paper": re.compile(r"render|pdf|paper|sheet", re.IGNORECASE),
}
PATHS = {*MEETS, "unfit"}
LEAST_MET, MOST_UNFIT = 95, 12


def test_every_value_collected_stands_once() -> None:
    wanted = [f"{group}{number}" for group, numbers in COLLECTED.items() for number in numbers]
    assert [value["id"] for value in VALUES] == wanted


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value["id"])
def test_a_value_is_held_by_a_test_or_says_why_not(value: dict[str, Any]) -> None:
    assert value["path"] in PATHS
    if value["path"] == "unfit":
        assert value["why"]
        assert "test" not in value
        return
    path, _, name = value["test"].partition("::")
    text = (ROOT / path).read_text()
    assert re.search(rf"^def {name}\b", text, re.MULTILINE)
    assert MEETS[value["path"]].search(text)


def test_nearly_every_value_is_met_as_users_meet_it() -> None:
    count = Counter(value["path"] for value in VALUES)
    assert sum(count[path] for path in MEETS) >= LEAST_MET
    assert count["unfit"] <= MOST_UNFIT


def test_the_docs_tell_how_many_are_held() -> None:
    count = Counter(value["path"] for value in VALUES)
    live = sum(count[path] for path in MEETS)
    said = (
        f"Of {len(VALUES)} values {live} are met by an address, a command or a paper, "
        f"{count['unfit']} are unfit."
    )
    text = " ".join((ROOT / "DEVELOPERS.md").read_text().split())
    assert said in text, said


def test_the_docs_tell_which_are_unfit_and_why() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text()
    section = text[
        text.index("**Published values.**") : text.index("**Mistakes made by machine.**")
    ]
    rows = re.findall(r"^\| ([A-K]\d+) \| (.+) \| (.+) \| (.+) \|$", section, re.MULTILINE)
    parts = ("id", "what", "source", "why")
    unfit = [value for value in VALUES if value["path"] == "unfit"]
    assert rows == [tuple(value[part] for part in parts) for value in unfit]
