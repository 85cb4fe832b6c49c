"""Published networks of activities, by the command that reckons them as the days of a job are."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.jobs.domain.schedule.test_limited import j301_1

# Hendrickson and Au, Project Management for Construction, ch. 10, table 10-2: 30 days.
NINE = "A4 B3 C8:A D7:A E9:B,C F12:B,C G2:D,E H5:D,E I6:F,G"
# Hillier and Lieberman, Introduction to Operations Research, PERT/CPM, from memory: 44 weeks.
FOURTEEN = "A2 B4:A C10:B D6:C E4:C F5:E G7:D H9:E,G I7:C J8:F,I K4:J L5:J M2:H N6:K,L"


def reckoned(folder: Path, lines: list[str], most: str = "") -> str:
    """Return what the command prints of these lines."""
    (folder / "work.csv").write_text("\n".join(lines))
    printed = StringIO()
    call_command("network", str(folder / "work.csv"), most=most, stdout=printed)
    return printed.getvalue()


def in_lines(text: str) -> list[str]:
    """Return "A4 C8:A,B" as lines of a file."""
    words = [word.partition(":") for word in text.split()]
    return [f"{one[0]},{one[1:]},{after.replace(',', ' ')}" for one, _, after in words]


def slack_in(printed: str) -> dict[str, int]:
    """Return the slack of each activity that is not critical."""
    marks = [line.split(": from ") for line in printed.splitlines() if "slack" in line]
    return {name: int(rest.rpartition(" ")[2]) for name, rest in marks}


def test_the_nine_activities_take_thirty_days(tmp_path: Path) -> None:
    printed = reckoned(tmp_path, in_lines(NINE))
    assert "By the order alone: 30; critical A-C-F-I" in printed
    assert slack_in(printed) == {"B": 9, "D": 11, "E": 1, "G": 1, "H": 4}


def test_the_fourteen_activities_take_44_weeks(tmp_path: Path) -> None:
    printed = reckoned(tmp_path, in_lines(FOURTEEN))
    assert "By the order alone: 44; critical A-B-C-E-F-J-L-N" in printed
    assert slack_in(printed) == {"D": 4, "G": 4, "H": 4, "I": 2, "K": 1, "M": 4}


def test_thirty_jobs_take_38_by_their_order_and_43_with_what_there_is(tmp_path: Path) -> None:
    # PSPLIB, j301_1, Kolisch and Sprecher, European Journal of Operational Research 96 (1997): 43
    # is the proved optimum.
    lines = [
        f"{one.name},{one.lasts},{' '.join(one.after)},{' '.join(map(str, one.takes))}"
        for one in j301_1()
    ]
    printed = reckoned(tmp_path, lines, most="12,13,4,12")
    assert "By the order alone: 38;" in printed
    assert "With no more than 12,13,4,12: 43" in printed


@pytest.mark.parametrize(
    ("lines", "most", "said"),
    [
        ([], "", "Needed: 1 to 500"),
        (["A,4", "A,5"], "", "Needed: a name of its own"),
        (["A,four"], "", "Needed: whole numbers"),
        ([",4"], "", "Needed: a name, and one whole number"),
        (["A,4,B", "B,2,A"], "", "Needed: no ring of waiting"),
        (["A,4,Z"], "", "Needed: one of A"),
        (["A,4,,1 2"], "1", "Needed: 1 numbers, as --most has them"),
        (["A,4,,3"], "2", "Needed: at most 2"),
    ],
)
def test_what_can_not_be_reckoned_is_refused_in_one_sentence(
    tmp_path: Path, lines: list[str], most: str, said: str
) -> None:
    with pytest.raises(CommandError, match=said):
        reckoned(tmp_path, lines, most)


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="Needed: a file of lines"):
        call_command("network", str(tmp_path / "none.csv"))
