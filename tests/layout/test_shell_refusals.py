"""What is typed wrong or lies at the edge of what can be planned, through the shell's door."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from layout.__main__ import main
from tests.rooms import PLANK, request

Outline = list[list[float]]

OUTLINE: Outline = [[0, 0], [180, 0], [180, 130], [0, 130]]
LEANING: Outline = [[0, 0], [150, 0], [180, 60], [150, 120], [20, 130], [-15, 70]]
WIDTHS = [{"length": 48, "width": width, "per_carton": 3} for width in (9, 7)]


def request_file(tmp_path: Path, outline: Outline = OUTLINE, **changes: Any) -> str:
    path = tmp_path / "request.json"
    path.write_text(json.dumps(request(outline, format=2, effort_iterations=20, **changes)))
    return str(path)


def pile(variant: str, planks: int, width: float = 7) -> dict[str, Any]:
    return {"length": 48, "width": width, "variant": variant, "planks": planks}


SHADED = PLANK | {"variants": {"A": 6, "B": 4}}


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            {"product": PLANK | {"variants": {"A": 4, "B": 3}}},
            "product.variants: 7 boards; accepted: counts that make up one carton",
        ),
        (
            {"product": {"boards": [WIDTHS[0] | {"variants": {"A": 2}}, WIDTHS[1]]}},
            "product.boards[0].variants: 2 boards; accepted: counts that make up one carton",
        ),
        (
            {"product": SHADED, "on_hand": {"planks": 9, "piles": [pile("A", 4), pile("B", 4)]}},
            "on_hand.planks: 9 can't be used; accepted: 8, all piles together",
        ),
        (
            {"product": SHADED, "on_hand": {"piles": [pile("C", 4)]}},
            "on_hand.piles[0].variant: 'C' can't be used; accepted: A, B",
        ),
        (
            {"product": SHADED, "on_hand": {"piles": [pile("A", 4, width=9)]}},
            "on_hand.piles[0].width: 48 x 9; accepted: 48 x 7",
        ),
        ({"prefer": {"spend": 400}}, "prefer.spend: 400 can't be used; accepted: 0 to "),
        ({"prefer": {"spend": -1}}, "prefer.spend: -1 can't be used; accepted: "),
    ],
)
def test_what_can_not_be_is_refused_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], changes: dict[str, Any], said: str
) -> None:
    plan = tmp_path / "plan.json"
    assert main(["plan", request_file(tmp_path, **changes), "-o", str(plan)]) == 2
    lines = [line for line in capsys.readouterr().err.splitlines() if line.startswith("layout:")]
    assert len(lines) == 1
    assert said in lines[0]
    assert not plan.exists()


def test_a_sheet_of_another_floors_plan_is_refused_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan, sheet = str(tmp_path / "plan.json"), tmp_path / "sheet.json"
    main(["plan", request_file(tmp_path), "-o", plan])
    capsys.readouterr()
    other = request_file(tmp_path, product=PLANK | {"width": 5})
    assert main(["sheet", other, plan, "-o", str(sheet)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "accepted:" in line
    assert not sheet.exists()


def stands(tmp_path: Path, request_path: str) -> dict[str, Any]:
    """Return the plan of a request, which is judged, drawn and sawn without a word."""
    plan = str(tmp_path / "plan.json")
    assert main(["plan", request_path, "-o", plan]) == 0
    assert main(["check", request_path, plan]) == 0
    assert main(["sheet", request_path, plan, "-o", str(tmp_path / "sheet.json")]) == 0
    assert main(["draw", request_path, plan, "-o", str(tmp_path / "plan.svg")]) == 0
    made: dict[str, Any] = json.loads(Path(plan).read_text())
    return made


def test_piles_that_can_not_cover_a_floor_are_planned_and_the_rest_is_told(tmp_path: Path) -> None:
    few = {"piles": [pile("A", 5), pile("B", 5)]}
    short = stands(tmp_path, request_file(tmp_path, product=SHADED, on_hand=few))["totals"][
        "shortage"
    ]
    assert sum(one["planks"] for one in short["piles"]) == short["planks"] > 0


@pytest.mark.parametrize("rip_kerf", [0, 0.125])
@pytest.mark.parametrize(("outline", "direction"), [(LEANING, 0), (OUTLINE, 30)])
def test_a_saw_that_takes_nothing_makes_a_floor_with_slanted_walls(
    tmp_path: Path, outline: Outline, direction: float, rip_kerf: float
) -> None:
    rules = {"saw_kerf": 0, "rip_kerf": rip_kerf, "direction_deg": direction}
    plan = stands(tmp_path, request_file(tmp_path, outline, rules=rules))
    assert any(cut["kind"] == "angle" for piece in plan["pieces"] for cut in piece["cuts"])


@pytest.mark.parametrize("post", [(60, 3), (10, 20), (60, 20)])
def test_a_post_larger_than_a_plank_is_laid_around(
    tmp_path: Path, post: tuple[float, float]
) -> None:
    across, up = 61.3 + post[0], 51.2 + post[1]
    ring = [[61.3, 51.2], [across, 51.2], [across, up], [61.3, up]]
    plan = stands(tmp_path, request_file(tmp_path, zone={"holes": [ring]}))
    assert not any(piece.get("holes") for piece in plan["pieces"])
