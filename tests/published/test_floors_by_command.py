"""Published and common rules of laying, by the command that judges any plan against its request."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from layout.__main__ import main
from layout.values.plan_form import plan_text
from layout.values.request import request_to_json
from tests.layout.three_rows import plan, totals
from tests.limits.test_laying import Floor, balance, least_end, least_offset, least_row, ruled

HALF, OFFSET = 3.5, 8.0  # of a board of 7 in; common practice, no source


def judged(folder: Path, capsys: Any, floor: Floor) -> str:
    """Return what the command says of a plan."""
    request, laid = floor
    (folder / "request.json").write_text(json.dumps(request_to_json(request)))
    (folder / "plan.json").write_text(plan_text(laid))
    main(["check", str(folder / "request.json"), str(folder / "plan.json")])
    return str(capsys.readouterr().out)


@pytest.mark.parametrize(("rest", "said"), [(HALF + 0.02, False), (HALF - 0.02, True)])
def test_no_row_at_a_wall_is_under_half_a_board(
    tmp_path: Path, capsys: Any, rest: float, said: bool
) -> None:
    # ANSI A108.02, 4.3: the layout balanced, usually no cut smaller than half; and common practice
    # for planks: a full first row is right only where half a board or more is left for the last.
    assert ("balance" in judged(tmp_path, capsys, balance(rest))) == said


@pytest.mark.parametrize(("least", "said"), [(5.0, False), (5.02, True)])
def test_a_row_is_never_narrower_than_its_rule(
    tmp_path: Path, capsys: Any, least: float, said: bool
) -> None:
    # Common practice, no source: 2 in at the least; the rule here is that of the product.
    assert ("min_row_width" in judged(tmp_path, capsys, least_row(least))) == said


@pytest.mark.parametrize(
    ("floor", "said"),
    [
        (least_end(12.0), ""),
        (least_end(12.02), "min_end_piece"),
        (least_offset(16.0), ""),
        (least_offset(16.02), "min_joint_offset"),
    ],
)
def test_end_pieces_and_joints_keep_their_rules(
    tmp_path: Path, capsys: Any, floor: Floor, said: str
) -> None:
    # Common practice: end pieces of 8 in, joints 8 in apart; here the rules of the product.
    faults = judged(tmp_path, capsys, floor)
    for rule in ("min_end_piece", "min_joint_offset"):
        assert (rule in faults) == (rule == said)


@pytest.mark.parametrize("look", ["h_joints", "staircases"])
def test_an_h_and_a_staircase_of_joints_are_told(tmp_path: Path, capsys: Any, look: str) -> None:
    # Common practice, no source: neither H-joints nor joints that climb like stairs.
    request, laid = ruled(min_joint_offset=OFFSET)
    false = plan(totals=totals(look=replace(laid.totals.look, **{look: 1})))
    assert look not in judged(tmp_path, capsys, (request, laid))
    assert look in judged(tmp_path, capsys, (request, false))
