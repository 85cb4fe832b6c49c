"""Names of copies, and the lots that a job is copied to."""

from __future__ import annotations

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.copies import LONGEST_ADDRESS, MOST_LOTS, lots_in, name_beside


@pytest.mark.parametrize(
    ("wanted", "taken", "name"),
    [
        ("Den", ["Hall"], "Den"),
        ("Den", ["den"], "Den 2"),
        ("Den", ["Den", "Den 2", "Den 3"], "Den 4"),
        ("Bedroom 2", ["Bedroom 2"], "Bedroom 3"),
        ("Bedroom 9", ["Bedroom 9", "Bedroom 10"], "Bedroom 11"),
        ("12", ["12"], "12 2"),
        ("Straße", ["STRASSE"], "Straße 2"),
    ],
)
def test_a_copy_bears_the_next_free_name(wanted: str, taken: list[str], name: str) -> None:
    assert name_beside(wanted, taken, longest=80) == name


def test_a_long_name_gives_way_to_its_number() -> None:
    assert name_beside("x" * 80, ["x" * 80], longest=80) == "x" * 78 + " 2"


def test_each_line_is_a_lot_and_empty_ones_are_none() -> None:
    text = "12  Larch Court \r\n\r\n 14 Larch Court\n"
    assert lots_in(text) == ("12 Larch Court", "14 Larch Court")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "nothing"),
        (" \n\n", "nothing"),
        ("12 Larch Court\n12 larch  court", "line 2"),
        ("x" * (LONGEST_ADDRESS + 1), "401 characters"),
        ("\n".join(f"{n} Larch Court" for n in range(MOST_LOTS + 1)), "41 addresses"),
    ],
)
def test_what_is_no_list_of_lots_is_refused_by_its_line(text: str, words: str) -> None:
    with pytest.raises(BadValueError, match=words):
        lots_in(text)


def test_forty_lots_are_accepted() -> None:
    assert len(lots_in("\n".join(f"{n} Larch Court" for n in range(MOST_LOTS)))) == MOST_LOTS
