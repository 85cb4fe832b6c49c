"""The shell door: exit codes, one line for what can't be used, whole files or none."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from layout.__main__ import main
from layout.values.plan_form import plan_text
from layout.values.request import request_to_json
from tests.layout import three_rows
from tests.rooms import pantry, request
from tests.sweeps.piles.counted import request_of


@pytest.fixture
def small(tmp_path: Path) -> Path:
    path = tmp_path / "request.json"
    path.write_text(json.dumps(pantry()))
    return path


@pytest.fixture
def judged(tmp_path: Path) -> tuple[str, str]:
    """Return the paths of the request and the plan worked out by hand."""
    outline: list[list[float]] = [[0, 0], [100.5, 0], [100.5, 21.5], [0, 21.5]]
    (tmp_path / "request.json").write_text(json.dumps(request(outline)))
    (tmp_path / "plan.json").write_text(plan_text(three_rows.plan()))
    return str(tmp_path / "request.json"), str(tmp_path / "plan.json")


def test_a_plan_goes_to_stdout_and_nothing_else_does(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", str(small)]) == 0
    assert json.loads(capsys.readouterr().out)["format"] == 2


def test_a_plan_goes_to_the_file_that_is_named(small: Path, tmp_path: Path) -> None:
    assert main(["plan", str(small), "-o", str(tmp_path / "plan.json")]) == 0
    assert main(["check", str(small), str(tmp_path / "plan.json")]) == 0


def test_a_right_plan_is_judged_in_silence(
    judged: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", *judged]) == 0
    assert capsys.readouterr().out == ""


def test_piles_by_width_and_shade_are_planned_judged_drawn_and_sawn(tmp_path: Path) -> None:
    asks, plan = str(tmp_path / "asks.json"), str(tmp_path / "plan.json")
    piles = Counter({(9.0, "A"): 9, (9.0, "B"): 9, (7.0, "D"): 20, (5.0, "C"): 4})
    Path(asks).write_text(json.dumps(request_to_json(request_of(piles, 5))))
    assert main(["plan", asks, "-o", plan]) == 0
    short = json.loads(Path(plan).read_text())["totals"]["shortage"]
    assert sum(pile["planks"] for pile in short["piles"]) == short["planks"] > 0
    assert main(["check", asks, plan]) == 0
    assert main(["sheet", asks, plan, "-o", str(tmp_path / "sheet.json")]) == 0
    assert main(["draw", asks, plan, "-o", str(tmp_path / "plan.svg")]) == 0


def test_faults_are_one_line_each_and_exit_1(
    judged: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = json.loads(Path(judged[1]).read_text())
    wrong["totals"]["full_pieces"] = 9
    Path(judged[1]).write_text(json.dumps(wrong))
    assert main(["check", *judged]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines == ["totals: full_pieces: the plan says 9, its pieces make 3"]


def test_a_plan_of_the_older_format_is_not_judged(
    judged: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    older = json.loads(Path(judged[1]).read_text())
    Path(judged[1]).write_text(json.dumps({**older, "format": 1}))
    assert main(["check", *judged]) == 2
    said = "layout: format: 1 can't be used; accepted: 2; plan it again\n"
    assert capsys.readouterr().err == said


def test_a_plan_is_drawn_into_a_file(judged: tuple[str, str], tmp_path: Path) -> None:
    assert main(["draw", *judged, "-o", str(tmp_path / "plan.svg")]) == 0
    assert (tmp_path / "plan.svg").read_text().startswith("<svg")


def test_the_sheet_of_a_plan_goes_to_stdout_or_to_a_file(
    judged: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheet", *judged]) == 0
    sheet = json.loads(capsys.readouterr().out)
    assert [plank["plank"] for plank in sheet["planks"]] == [1, 2, 3, 4, 5, 6, 7, 8]
    assert main(["sheet", *judged, "-o", str(tmp_path / "sheet.json")]) == 0
    assert json.loads((tmp_path / "sheet.json").read_text()) == sheet


def test_a_plan_that_can_not_be_sawn_has_no_sheet(
    judged: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = json.loads(Path(judged[1]).read_text())
    wrong["pieces"][2]["plank"] = 1
    Path(judged[1]).write_text(json.dumps(wrong))
    line = refusal(capsys, "sheet", *judged, "-o", str(tmp_path / "sheet.json"))
    assert "pieces: no order of cuts makes 1-1 and 1-3 of plank 1; accepted:" in line
    assert not (tmp_path / "sheet.json").exists()


def test_a_plan_in_another_unit_is_not_judged(
    judged: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    other = json.loads(Path(judged[1]).read_text())
    other["unit"] = "mm"
    Path(judged[1]).write_text(json.dumps(other))
    assert "unit: the plan is in mm; accepted: in" in refusal(capsys, "check", *judged)


def test_a_cut_list_is_made_of_stock_lengths(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    stock = [{"id": "8 ft", "length": 96, "price": "6.40"}]
    pieces = [{"id": "bed", "length": 40, "count": 3}]
    base = {"format": 1, "unit": "in", "saw_kerf": 0.125, "stock": stock, "pieces": pieces}
    (tmp_path / "trim.json").write_text(json.dumps(base))
    assert main(["trim", str(tmp_path / "trim.json")]) == 0
    assert json.loads(capsys.readouterr().out)["totals"]["sticks"] == 2


def refusal(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """Return the one line on stderr of a command that exits 2."""
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    return err


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is no JSON"),
        (b"not json", "is no JSON"),
        (b"\xff\xfe{", "is no JSON"),
        (b'{"a": "\xe9"}', "is no JSON"),
        (b"[" * 100_000, "nested too deeply"),
        (b'{"format": ' + b"9" * 5000 + b"}", "is no JSON"),
        (b'{"format": 1, "format": 1}', "'format' stands twice"),
        (b"[]", "request: a list can't be used"),
        (b'{"format": 1e400}', "format: inf can't be used"),
        (b"{}", "format: missing; accepted: a whole number"),
    ],
)
def test_content_that_is_no_request_ends_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes, said: str
) -> None:
    (tmp_path / "bad.json").write_bytes(content)
    assert said in refusal(capsys, "plan", str(tmp_path / "bad.json"))


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("missing.json", "can't be read (No such file or directory)"),
        (".", "can't be read (Is a directory)"),
        ("/dev/zero", "larger than"),
        ("a\x00b", "can't be read (embedded null byte)"),
    ],
)
def test_files_that_cannot_be_read_end_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, said: str
) -> None:
    assert said in refusal(capsys, "plan", str(tmp_path / name))


@pytest.mark.parametrize(
    "arguments", [(), ("plan",), ("paint", "x"), ("check", "x"), ("plan", "-x")]
)
def test_commands_that_do_not_exist_end_in_one_line(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...]
) -> None:
    assert "accepted: python -m layout" in refusal(capsys, *arguments)


def test_a_folder_that_does_not_exist_is_refused_before_any_work(
    small: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "nowhere" / "plan.json"
    assert "can't be written" in refusal(capsys, "plan", str(small), "-o", str(target))


def test_a_refused_request_leaves_an_older_plan_as_it_was(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "bad.json").write_text("{}")
    (tmp_path / "plan.json").write_text("older")
    refusal(capsys, "plan", str(tmp_path / "bad.json"), "-o", str(tmp_path / "plan.json"))
    assert (tmp_path / "plan.json").read_text() == "older"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bad.json", "plan.json"]


def test_the_module_runs_from_the_shell(small: Path) -> None:
    root = Path(__file__).parents[2]
    command = [sys.executable, "-m", "layout", "plan", str(small)]
    done = subprocess.run(command, cwd=root, capture_output=True, text=True, check=True)
    assert json.loads(done.stdout)["totals"]["planks"] > 0
    assert "planks" in done.stderr


def test_starting_up_loads_no_more_than_the_command_needs() -> None:
    root = Path(__file__).parents[2]
    code = "import layout.__main__, sys; print([m for m in ('highspy', 'pint', 'shapely') "
    code += "if m in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
